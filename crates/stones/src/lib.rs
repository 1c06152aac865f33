//! Stones: layouts that fill a zone, their colouring, and the order to set them in.
//!
//! Takes a [`piece::Piece`] and its [`shape::Shape`] and gives [`Stones`]: every stone's place in
//! space, in setting order, with counts and coverage by zone. It knows no prices and no times.
//! Read first: `fill.rs` (what an engine is asked), then `lay.rs` (the way through) and
//! `filling.rs` (one zone, or several that are joined), then `rows/mod.rs`.

use glam::DVec3;
use piece::Diagnostic;
use shape::SurfacePoint;

mod asked;
mod bare;
mod bed;
mod blend;
mod chance;
pub mod colour;
mod coloured;
mod drawer;
pub mod edges;
pub mod fill;
mod filling;
mod going;
mod graded;
mod in_vain;
mod joins;
mod lay;
pub mod limits;
mod many;
mod measured;
mod meter;
mod off_the_curve;
pub mod pack;
pub mod pockets;
mod quality;
mod room;
pub mod rows;
mod rules;
mod search;
pub mod setting;
mod skirt;
mod space;
pub mod sparse;
mod steps;
#[cfg(test)]
mod stopping;
pub mod strengths;
mod winding;

pub use colour::{Mingling, mingling, picture_difference};
pub use lay::{lay_stones, lay_stones_shown};
pub use many::long_work;
pub use quality::{EdgeRun, Gaps, Quality, WIDE_HOLE_MM};
pub use setting::{Patch, SettingPlan, plan_setting};

/// One stone: a flat disc tangent to the surface.
#[derive(Debug, Clone, PartialEq)]
pub struct Stone {
    /// Index of its zone.
    pub zone: usize,
    /// Index of its part.
    pub part: usize,
    /// Index into the zone's [`piece::StoneFinish::layers`].
    pub layer: usize,
    /// Patch it is set with, from 1, within its part.
    pub patch: u32,
    /// Row within its zone, from 1; 0 where the layout has no rows.
    pub row: u32,
    /// Index into the zone's [`piece::StoneFinish::sizes`].
    pub size: usize,
    /// Diameter of the girdle, mm.
    pub diameter_mm: f64,
    /// Index into [`piece::Piece::colours`].
    pub colour: usize,
    /// Its place on the part.
    pub at: SurfacePoint,
    /// Centre of its flat back, part frame, mm.
    pub centre_mm: DVec3,
    /// Outward normal, part frame.
    pub normal: DVec3,
    /// Round the part from the front on the surface it is set on, positive to the right, mm.
    pub around_mm: f64,
}

/// How a zone was filled.
#[derive(Debug, Clone, PartialEq)]
pub struct ZoneStones {
    /// Index of the zone.
    pub zone: usize,
    /// Words of its layouts, as in `zones.csv`: `outline+scatter`.
    pub layout: String,
    /// Area of the zone on the surface the stones are set on, mm².
    pub area_mm2: f64,
    /// How many stones.
    pub count: usize,
    /// Sum of the stones' circles over the area.
    pub coverage: f64,
    /// The same with each diameter grown by the gap.
    pub effective_coverage: f64,
    /// How even it is and what it leaves open.
    pub quality: Quality,
}

/// All stones of a piece (one of it), in setting order.
#[derive(Debug, Clone, PartialEq)]
pub struct Stones {
    /// In setting order: by part, then patch.
    pub stones: Vec<Stone>,
    /// One for each zone whose finish is stones.
    pub zones: Vec<ZoneStones>,
    /// Warnings: a blend that could not be met, a zone too narrow in places.
    pub notes: Vec<Diagnostic>,
}
