//! When a studio works and what it is to make: the hours file with every name followed.

use jiff::civil::{Date, DateTime, Weekday};
use jiff::tz::TimeZone;

pub use crate::file::scalars::When;

/// From a day to a later or the same day, both included.
pub type Days = (Date, Date);

/// Everything that an hours file says.
#[derive(Debug, Clone, PartialEq)]
pub struct Hours {
    /// Where the studio's clocks hang.
    pub zone: TimeZone,
    /// First moment to plan by those clocks.
    pub begin: Option<When>,
    /// How many cups and lids can turn at once.
    pub spindles: u16,
    /// How many parts can stand and dry at once; `None` for as many as there are.
    pub racks: Option<u16>,
    /// How much earlier than needed everything should leave, min.
    pub buffer_min: f64,
    /// Days on which nobody works and nothing is posted.
    pub closed: Vec<Days>,
    /// Last moment for the post by weekday, Monday first, min after midnight; `None` if parcels may
    /// leave in any hour of work.
    pub post: Option<[Option<u16>; 7]>,
    /// Days on which the post does not go.
    pub no_post: Vec<Days>,
    /// Who works; empty for the maker of the studio file.
    pub makers: Vec<MakerHours>,
    /// What is ordered, each with a name of its own.
    pub orders: Vec<Order>,
    /// Spindles that cannot be used for a time.
    pub spindle_outs: Vec<SpindleOut>,
    /// What was done, is under way or failed.
    pub happened: Vec<Happened>,
}

impl Hours {
    /// Last moment for the post on a day, min after midnight; `None` if it does not go then, or if no
    /// days of post are told.
    pub fn post_on(&self, day: Date) -> Option<u16> {
        let held = |days: &[Days]| days.iter().any(|(first, last)| *first <= day && day <= *last);
        let clock = self.post.as_ref()?[day.weekday().to_monday_zero_offset() as usize];
        clock.filter(|_| !held(&self.no_post) && !held(&self.closed))
    }
}

/// Someone who works.
#[derive(Debug, Clone, PartialEq)]
pub struct MakerHours {
    /// What she is called.
    pub name: String,
    /// Kinds of step that she does, each once.
    pub does: Vec<Craft>,
    /// When she works, Monday first; minutes after midnight, sorted, not overlapping.
    pub hours: [Vec<(u16, u16)>; 7],
    /// Days with hours beside those of the week.
    pub extra: Vec<(Date, Vec<(u16, u16)>)>,
    /// Days on which she does not work.
    pub away: Vec<Days>,
}

impl MakerHours {
    /// The stretches of work on one weekday.
    pub fn hours_on(&self, day: Weekday) -> &[(u16, u16)] {
        &self.hours[day.to_monday_zero_offset() as usize]
    }
}

/// Kinds of step, by the words of the trade.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Craft {
    /// Messages, artwork, buying.
    Order,
    /// Wash, scuff, wipe.
    Prepare,
    /// Tape what stays bare.
    Mask,
    /// Paint.
    Paint,
    /// Glitter.
    Glitter,
    /// Pour resin.
    Pour,
    /// Sand and wipe.
    Sand,
    /// Cut, weed, place film.
    Film,
    /// Photograph and ask the customer.
    Approve,
    /// Set stones.
    Set,
    /// Check, photograph, clean.
    Finish,
    /// Pack.
    Pack,
}

impl Craft {
    /// All of them, in the order of the trade.
    pub const ALL: [Self; 12] = [
        Self::Order,
        Self::Prepare,
        Self::Mask,
        Self::Paint,
        Self::Glitter,
        Self::Pour,
        Self::Sand,
        Self::Film,
        Self::Approve,
        Self::Set,
        Self::Finish,
        Self::Pack,
    ];

    /// As it is typed.
    pub fn word(self) -> &'static str {
        match self {
            Self::Order => "order",
            Self::Prepare => "prepare",
            Self::Mask => "mask",
            Self::Paint => "paint",
            Self::Glitter => "glitter",
            Self::Pour => "pour",
            Self::Sand => "sand",
            Self::Film => "film",
            Self::Approve => "approve",
            Self::Set => "set",
            Self::Finish => "finish",
            Self::Pack => "pack",
        }
    }
}

/// One order.
#[derive(Debug, Clone, PartialEq)]
pub struct Order {
    /// The piece file, beside the hours file.
    pub file: String,
    /// Short name, unique.
    pub name: String,
    /// Day on which the customer wants it; `None` for that of the piece.
    pub due: Option<Date>,
    /// How much a day late weighs.
    pub weight: u32,
    /// How many to make; `None` for that of the piece.
    pub quantity: Option<u32>,
    /// First moment on which it may be begun.
    pub begin: Option<When>,
    /// Handed over in the studio: no post.
    pub hand_over: bool,
}

/// Spindles that cannot be used.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct SpindleOut {
    /// From this moment by the studio's clocks.
    pub from: DateTime,
    /// Up to this moment.
    pub to: DateTime,
    /// How many.
    pub spindles: u16,
}

/// How far a step has come.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum State {
    /// It was done from, to.
    Done(Option<DateTime>, DateTime),
    /// It was begun then, and so many min are left of it, where that is told.
    UnderWay(DateTime, Option<f64>),
    /// It was found then that it must be done again.
    Failed(DateTime),
}

/// What came of one step.
#[derive(Debug, Clone, PartialEq)]
pub struct Happened {
    /// Short name of the order.
    pub order: String,
    /// Which group of the order's pieces, from 1.
    pub group: Option<u32>,
    /// Name of the part.
    pub part: Option<String>,
    /// Name of the step.
    pub step: String,
    /// Which of the steps of that name, from 1.
    pub number: u32,
    /// How far it has come.
    pub state: State,
    /// Who did it: a name that may still be unknown.
    pub maker: Option<String>,
}
