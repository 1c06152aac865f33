//! Books of made-up studios, for tests and benches: the same seed gives the same book.
//!
//! Durations, gaps and amounts are common practice of the trade, no source; they only have to be
//! of the right kind and size.

// Each test and bench uses a part of it.
#![allow(dead_code)]

mod chain;
mod dice;
mod due;
mod hours;

use chain::Maker;
use dice::Dice;
use schedule::{Book, Machine};

/// Who works in the studio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Makers {
    /// One, in the evenings and on Saturdays.
    Evenings,
    /// One, whole days.
    WholeDays,
    /// Two of different skills.
    Two,
    /// Three of different skills.
    Three,
    /// Four of different skills.
    Four,
}

/// How near the due days are.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Due {
    /// Just what the hours allow, if all goes well.
    Tight,
    /// With room.
    Loose,
    /// More than the hours allow.
    Overloaded,
}

/// How much there is to do for a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Length {
    /// Everything, up to six pours and thirty hours of stones.
    Whole,
    /// Two pours and a few hours of stones, without a lid.
    Short,
}

/// What kind of studio.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Kind {
    /// Who works.
    pub makers: Makers,
    /// How near the due days are.
    pub due: Due,
    /// How much there is to do for a piece.
    pub length: Length,
}

impl Kind {
    /// Whole pieces.
    pub const fn new(makers: Makers, due: Due) -> Self {
        Self { makers, due, length: Length::Whole }
    }

    /// Short pieces.
    pub const fn short(makers: Makers, due: Due) -> Self {
        Self { makers, due, length: Length::Short }
    }
}

/// Index of the spindles among the machines.
pub const SPINDLES: usize = 0;
/// Index of the drying rack among the machines.
pub const RACK: usize = 1;

/// A studio with so many pieces to make, in slots of 5 min from a Monday, 00:00.
pub fn random_studio(seed: u64, n_pieces: usize, kind: Kind) -> Book {
    let mut dice = Dice::new(seed);
    let machine = |name: &str, capacity: i32| Machine {
        name: name.into(),
        capacity: u16::try_from(capacity).expect("a few"),
        outages: Vec::new(),
    };
    let machines =
        vec![machine("spindle", dice.between(2, 6)), machine("rack", dice.between(6, 20))];
    let mut book = Book { machines, ..Book::default() };
    let resins = u32::try_from(dice.between(2, 3)).expect("two or three");
    let leads: Vec<_> = (0..n_pieces)
        .map(|number| Maker { book: &mut book, dice: &mut dice, kind, resins, job: number }.piece())
        .collect();
    book.horizon = hours::horizon(&book, kind.makers);
    book.people = hours::people(kind.makers, book.horizon);
    due::spread(&mut book, &mut dice, kind, &leads);
    book
}
