//! The room that pieces are made in: how warm and damp it is, and whether that is fit for a pour.

mod climate;
mod dew;

pub(crate) use climate::clock;
pub use climate::{Moment, RoomCourse, Worst};
pub(crate) use dew::SLACK_K;
pub use dew::{PourAir, dew_point_c, judge};
