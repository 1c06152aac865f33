//! Who works when, who can do what, and how far ahead there are hours.

use super::Makers;
use schedule::{Book, Open, Person, Slot};

/// Slots an hour.
pub const HOUR: Slot = 12;
/// Slots a day.
pub const DAY: Slot = 24 * HOUR;
/// Days a week; the first is a Monday.
pub const WEEK_DAYS: Slot = 7;

/// Stretches of a day, in slots.
type Stretches = &'static [(Slot, Slot)];

const EVENING: Stretches = &[(18 * HOUR, 21 * HOUR + 6)];
const SATURDAY: Stretches = &[(9 * HOUR, 12 * HOUR + 6), (13 * HOUR + 3, 17 * HOUR)];
const WHOLE_DAY: Stretches = &[(8 * HOUR + 6, 12 * HOUR + 6), (13 * HOUR + 3, 17 * HOUR + 3)];
const MORNING: Stretches = &[(8 * HOUR, 13 * HOUR)];

/// A week from Monday to Sunday.
type Week = [Stretches; WEEK_DAYS as usize];

const EVENINGS: Week = [EVENING, EVENING, EVENING, EVENING, EVENING, SATURDAY, &[]];
const WHOLE_DAYS: Week = [WHOLE_DAY, WHOLE_DAY, WHOLE_DAY, WHOLE_DAY, WHOLE_DAY, &[], &[]];
const MORNINGS: Week = [MORNING, MORNING, MORNING, &[], MORNING, SATURDAY, &[]];

/// What is done with the hands.
#[derive(Debug, Clone, Copy)]
pub enum Craft {
    /// Ordering, asking, packing.
    Desk,
    /// Sanding, washing, masking.
    Prepare,
    /// Paint.
    Paint,
    /// Resin.
    Resin,
    /// Lettering in film.
    Film,
    /// Setting stones.
    Stones,
}

fn weeks(makers: Makers) -> &'static [Week] {
    match makers {
        Makers::Evenings => &[EVENINGS],
        Makers::WholeDays => &[WHOLE_DAYS],
        Makers::Two => &[WHOLE_DAYS, EVENINGS],
        Makers::Three => &[WHOLE_DAYS, WHOLE_DAYS, EVENINGS],
        Makers::Four => &[WHOLE_DAYS, WHOLE_DAYS, MORNINGS, EVENINGS],
    }
}

/// Indices of those who can do this.
pub fn hands(makers: Makers, craft: Craft) -> Vec<usize> {
    match (makers, craft) {
        (Makers::Evenings | Makers::WholeDays, _) => vec![0],
        (Makers::Two, Craft::Paint | Craft::Resin) => vec![0],
        (Makers::Two, Craft::Film) => vec![1],
        (Makers::Two, _) => vec![0, 1],
        (Makers::Three | Makers::Four, Craft::Resin) => vec![0, 1],
        (Makers::Three | Makers::Four, Craft::Paint) => vec![1],
        (Makers::Three | Makers::Four, Craft::Film) => vec![2],
        (Makers::Three, Craft::Desk) => vec![0, 2],
        (Makers::Three, Craft::Prepare) => vec![1, 2],
        (Makers::Three, Craft::Stones) => vec![0, 1, 2],
        (Makers::Four, Craft::Desk) => vec![0, 3],
        (Makers::Four, Craft::Prepare) => vec![2, 3],
        (Makers::Four, Craft::Stones) => vec![1, 2, 3],
    }
}

fn open_a_week(week: &Week) -> Slot {
    week.iter().flat_map(|day| day.iter()).map(|(from, to)| to - from).sum()
}

/// A horizon long enough for all of it, by whole weeks.
pub fn horizon(book: &Book, makers: Makers) -> Slot {
    let work: Slot = book.tasks.iter().map(|task| task.work).sum();
    let a_week: Slot = weeks(makers).iter().map(open_a_week).sum();
    // Three times the hours, for set-ups, hours lost between gaps and hands of different skills, and
    // a quarter of a year, for the gaps of the last piece.
    (3 * work / a_week + 13) * WEEK_DAYS * DAY
}

/// The people and their hours up to the horizon.
pub fn people(makers: Makers, horizon: Slot) -> Vec<Person> {
    let names = ["Samphire", "Sedge", "Marram", "Thrift"];
    let open = |week: &Week| {
        let days = (0..horizon / DAY).zip(week.iter().cycle());
        let stretches = days.flat_map(|(day, hours)| {
            hours.iter().map(move |(a, b)| (day * DAY + a, day * DAY + b))
        });
        Open::from_stretches(stretches.collect())
    };
    let named = names.iter().zip(weeks(makers));
    named.map(|(&name, week)| Person { name: name.into(), open: open(week) }).collect()
}
