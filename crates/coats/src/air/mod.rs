//! What gets into the air of the room, how much of it stays, and what that means.

mod advice;
mod days;
mod dust;
pub mod limits;
mod releases;
mod report;
mod room_air;

pub use advice::advice;
pub(crate) use days::air_of;
pub use days::{AirDay, PieceAir};
pub use dust::{Sanding, SandingDust, sanding_dust};
pub use releases::{paint_releases, resin_release, step_releases};
pub use report::{AirReport, SolventAir, report};
pub use room_air::{NEAR_FIELD_M3_PER_MIN, Release, RoomAir};
