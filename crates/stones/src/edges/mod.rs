//! Layouts that run along the edges of a zone: an outline, and rings that follow it inward.

mod inner_row;
pub mod inward;
pub mod line;
mod offset;
pub mod outline;
mod parting;
