//! Work: the steps of a piece in order, and when to do them.
//!
//! Takes a piece, its coats and stones and the studio's settings; gives [`Steps`] and a
//! [`Timetable`]. It reads no clock: the day to begin or to be done by is an argument.
//! Read first: `steps.rs`, then `timetable.rs`.

use coats::Coats;
use piece::{Diagnostic, Piece, Settings};
use stones::Stones;

/// What kind of thing is done.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum StepKind {
    /// Messages, artwork, buying.
    Order,
    /// Wash, scuff, wipe.
    Prepare,
    /// Tape rim, foot and everything that stays bare.
    Mask,
    /// One coat of paint.
    Paint,
    /// Glitter.
    Glitter,
    /// One pour of resin.
    Pour,
    /// Sand and wipe.
    Sand,
    /// Cut, weed, place film.
    Film,
    /// Customer looks before the sealing coat or the stones.
    Approve,
    /// Set stones.
    Set,
    /// Check, photograph, clean.
    Finish,
    /// Pack.
    Pack,
}

/// One thing to do.
#[derive(Debug, Clone, PartialEq)]
pub struct Step {
    /// What kind.
    pub kind: StepKind,
    /// Short name, such as `Pour coat 2 of 3 on body`.
    pub name: String,
    /// Index of the part, where it is about one.
    pub part: Option<usize>,
    /// Index of the zone, where it is about one.
    pub zone: Option<usize>,
    /// Index into [`Coats::coats`], for paint, glitter and pours.
    pub coat: Option<usize>,
    /// Hands-on, min, for one piece.
    pub hands_on_min: f64,
    /// May be split into sittings of at most this long, min.
    pub sitting_min: Option<f64>,
    /// Least waiting after it before a step that needs it, min.
    pub wait_min: f64,
    /// If the next step on it begins later than this after it ends, it must be sanded first, min.
    pub sand_after_min: Option<f64>,
    /// On the turner, min after it begins.
    pub turner_min: f64,
    /// Steps (by index, all smaller) that must be done and waited for.
    pub after: Vec<usize>,
    /// How to do it, one sentence each, with the figures in.
    pub how: Vec<String>,
    /// Cautions for this step, one sentence each.
    pub cautions: Vec<String>,
}

/// The steps of a piece in order.
#[derive(Debug, Clone, PartialEq)]
pub struct Steps {
    /// In an order that respects [`Step::after`].
    pub steps: Vec<Step>,
}

impl Steps {
    /// Hands-on time for one piece, min.
    pub fn hands_on_min(&self) -> f64 {
        self.steps.iter().map(|step| step.hands_on_min).sum()
    }
}

/// One stretch of hands-on time.
#[derive(Debug, Clone, PartialEq)]
pub struct Sitting {
    /// Index into [`Steps::steps`].
    pub step: usize,
    /// Which sitting of the step, from 1.
    pub number: u32,
    /// Of how many.
    pub of: u32,
    /// Local time it begins.
    pub begins: jiff::civil::DateTime,
    /// Local time it ends.
    pub ends: jiff::civil::DateTime,
    /// The recoat window before it was missed: sand first, min of it inside this sitting.
    pub extra_sand_min: f64,
}

/// When to do it all.
#[derive(Debug, Clone, PartialEq)]
pub struct Timetable {
    /// In order of time.
    pub sittings: Vec<Sitting>,
    /// When the last waiting ends and it may go in the post.
    pub ready: jiff::civil::DateTime,
    /// Last day to post it, if there is a due day.
    pub post_by: Option<jiff::civil::Date>,
    /// Warnings: late, windows missed.
    pub notes: Vec<Diagnostic>,
}

/// The steps of a piece.
pub fn plan_steps(piece: &Piece, settings: &Settings, coats: &Coats, stones: &Stones) -> Steps {
    let _ = (piece, settings, coats, stones);
    todo!()
}

/// Places every step in the maker's hours. With `begin` it starts that day and goes forward;
/// without, it counts back from the piece's due day, so that it is ready by the day to post.
pub fn plan_timetable(
    piece: &Piece,
    settings: &Settings,
    steps: &Steps,
    begin: Option<jiff::civil::Date>,
) -> Option<Timetable> {
    let _ = (piece, settings, steps, begin);
    todo!()
}
