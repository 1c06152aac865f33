//! When everyone does what, for all pieces together: what the solver found, in hours and dates.

use crate::StepKind;
use jiff::Timestamp;
use jiff::civil::Date;
use jiff::tz::TimeZone;
use piece::Diagnostic;

/// From one moment to another.
pub type Span = (Timestamp, Timestamp);

/// A moment in the studio's time with its offset (RFC 3339): `2027-03-28T09:30:00+01:00`.
pub fn iso(zone: &TimeZone, at: Timestamp) -> String {
    at.display_with_offset(zone.to_offset(at)).to_string()
}

/// A plan of all pieces over all makers, spindles and hours.
#[derive(Debug, Clone)]
pub struct Rota {
    /// Where the studio is; every moment is shown in it.
    pub zone: TimeZone,
    /// First moment that is planned.
    pub begins: Timestamp,
    /// Everyone who works.
    pub makers: Vec<RotaMaker>,
    /// Spindles and racks: name and how many there are.
    pub machines: Vec<(String, u16)>,
    /// What was ordered, in the order in which it was named.
    pub orders: Vec<RotaOrder>,
    /// Everything that is done with hands, in order of time.
    pub sittings: Vec<RotaSitting>,
    /// Sentences that say how good the plan is: what it costs, what no plan can be better than, and
    /// what that rests on.
    pub quality: Vec<String>,
    /// Warnings: late orders, windows that no hours reach.
    pub notes: Vec<Diagnostic>,
}

/// Someone who works.
#[derive(Debug, Clone)]
pub struct RotaMaker {
    /// Name.
    pub name: String,
    /// When she works, in order of time, as far as the plan reaches.
    pub open: Vec<Span>,
}

/// One order: a piece, or several made alike.
#[derive(Debug, Clone)]
pub struct RotaOrder {
    /// Short name that is unique in the rota (of the piece file).
    pub name: String,
    /// Title of the piece.
    pub title: String,
    /// How many are made.
    pub quantity: u32,
    /// Day on which the customer wants it.
    pub due: Option<Date>,
    /// Latest moment at which it may leave to be there in time, buffer taken off.
    pub leave_by: Option<Timestamp>,
    /// When its last step is done.
    pub done: Timestamp,
    /// When it leaves: the first posting after that.
    pub leaves: Timestamp,
    /// Chance that it leaves in time, where it was worked out, 0 to 1.
    pub chance: Option<f64>,
    /// How much earlier its due day would have to be planned for so that the chance is 90 %, min.
    pub buffer_for_90_min: Option<i64>,
}

impl RotaOrder {
    /// How much later it leaves than it may, min; 0 in time, `None` where no day is agreed.
    pub fn late_min(&self) -> Option<i64> {
        let late = |by: Timestamp| by.duration_until(self.leaves).as_mins().max(0);
        self.leave_by.map(late)
    }
}

/// One stretch of hands-on time.
#[derive(Debug, Clone)]
pub struct RotaSitting {
    /// Index into [`Rota::orders`].
    pub order: usize,
    /// Which of the order's groups of pieces made together, from 1, and of how many.
    pub group: (u32, u32),
    /// Pieces in the group.
    pub pieces: u32,
    /// What is done.
    pub step: String,
    /// What kind of thing it is.
    pub kind: StepKind,
    /// Name of the part it is about.
    pub part: Option<String>,
    /// Which sitting of the step, from 1, and of how many.
    pub number: (u32, u32),
    /// Index into [`Rota::makers`]; `None` if nobody's hands are needed.
    pub maker: Option<usize>,
    /// When.
    pub at: Span,
    /// On the turner: numbers of the spindles, from 1, and until when they turn.
    pub turning: Option<(Vec<u32>, Timestamp)>,
    /// Until when it must be left before the next step on it.
    pub rests_until: Option<Timestamp>,
    /// After a pour or coat of paint that another follows: when that may go on without sanding.
    pub recoat: Option<Span>,
    /// Number of the mix of resin, from 1, where it is shared with another pour.
    pub mix: Option<u32>,
    /// Why it is not done earlier, in one sentence.
    pub why: String,
    /// Was done before the plan began, or is under way.
    pub fixed: bool,
    /// How to do it, one sentence each.
    pub how: Vec<String>,
    /// Cautions, one sentence each.
    pub cautions: Vec<String>,
}
