//! The room that pieces are made in: how warm and damp it is, and whether that is fit for a pour.

mod climate;
mod dew;

pub use climate::{Moment, RoomCourse, Worst};
pub use dew::{PourAir, dew_point_c, judge};
