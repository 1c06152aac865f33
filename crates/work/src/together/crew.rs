//! Who works, at what, and in which slots.

use super::clock::{Slots, skipped_note};
use crate::StepKind;
use jiff::civil::Date;
use jiff::{Timestamp, ToSpan};
use piece::hours::{Craft, Days, Hours, MakerHours};
use piece::{Diagnostic, FieldPath, Settings};
use schedule::{Open, Slot};

/// Everyone who works, from a first moment to the end of a last day.
pub(crate) struct Crew {
    /// Who, in the order of the file.
    pub makers: Vec<MakerHours>,
    /// When each works.
    pub open: Vec<Open>,
    /// Hours that begin or end while the clocks are put forward.
    pub notes: Vec<Diagnostic>,
}

impl Crew {
    pub fn new(
        hours: &Hours,
        settings: &Settings,
        slots: &Slots,
        begins: Timestamp,
        last: Date,
    ) -> Self {
        let makers = match hours.makers.as_slice() {
            [] => vec![MakerHours {
                name: settings.maker.name.clone(),
                does: Craft::ALL.to_vec(),
                hours: settings.maker.hours.clone(),
                extra: Vec::new(),
                away: Vec::new(),
            }],
            makers => makers.to_vec(),
        };
        let mut notes = Vec::new();
        let open = makers.iter().enumerate().map(|(index, maker)| {
            let path = FieldPath::root().key("maker").index(index).key("hours");
            let (open, note) = open(maker, &hours.closed, slots, begins, last, path);
            notes.extend(note);
            open
        });
        let open = open.collect();
        Self { makers, open, notes }
    }

    /// Those who do all of these kinds, by index.
    pub fn who(&self, kinds: &[StepKind]) -> Vec<usize> {
        let all = |maker: &MakerHours| kinds.iter().all(|kind| maker.does.contains(&craft(*kind)));
        (0..self.makers.len()).filter(|index| all(&self.makers[*index])).collect()
    }

    /// Longest stretch without a break of those who do all of these kinds; 0 if nobody does.
    pub fn longest(&self, kinds: &[StepKind]) -> Slot {
        let stretches = self.who(kinds).into_iter().flat_map(|index| self.open[index].stretches());
        stretches.map(|(from, to)| to - from).max().unwrap_or(0)
    }

    /// What to say if nobody has an hour at all.
    pub fn nobody(&self, day: Date) -> Option<Diagnostic> {
        if self.open.iter().any(|open| !open.stretches().is_empty()) {
            return None;
        }
        Some(
            Diagnostic::error(
                FieldPath::root().key("maker"),
                format!("nobody has any hours of work from {day} on"),
            )
            .hint("look at `hours`, `away` and `closed`, or begin on another day"),
        )
    }
}

fn held(days: &[Days], day: Date) -> bool {
    days.iter().any(|(first, last)| *first <= day && day <= *last)
}

/// When someone works, and a note on the first of her hours that the clocks skip.
fn open(
    maker: &MakerHours,
    closed: &[Days],
    slots: &Slots,
    begins: Timestamp,
    last: Date,
    path: FieldPath,
) -> (Open, Option<Diagnostic>) {
    let first_slot = slots.beginning(begins);
    let (mut stretches, mut note) = (Vec::new(), None);
    // The day before may still have hours, since a day is not the same everywhere.
    let mut day = slots.zone().to_datetime(begins).date().yesterday().unwrap_or(last);
    while day <= last {
        let free = held(closed, day) || held(&maker.away, day);
        let week = maker.hours_on(day.weekday()).iter().filter(|_| !free);
        let extra =
            maker.extra.iter().filter(|(extra, _)| *extra == day).flat_map(|(_, list)| list);
        for &(from_min, to_min) in week.chain(extra) {
            let mut clock = |min: u16| {
                let midnight = day.checked_add(i64::from(min / 1440).days()).unwrap_or(day);
                let min = min % 1440;
                let civil = midnight.at((min / 60) as i8, (min % 60) as i8, 0, 0);
                if let (Some(shown), None) = (slots.skipped(civil), &note) {
                    note = Some(skipped_note(path.clone(), civil, shown));
                }
                slots.at(civil)
            };
            let (from, to) = (clock(from_min), clock(to_min));
            stretches.push((slots.beginning(from).max(first_slot), slots.holding(to)));
        }
        let Ok(next) = day.tomorrow() else { break };
        day = next;
    }
    (Open::from_stretches(stretches), note)
}

/// What a maker must do to do a step of this kind.
pub fn craft(kind: StepKind) -> Craft {
    match kind {
        StepKind::Order => Craft::Order,
        StepKind::Prepare => Craft::Prepare,
        StepKind::Mask => Craft::Mask,
        StepKind::Paint => Craft::Paint,
        StepKind::Glitter => Craft::Glitter,
        StepKind::Pour => Craft::Pour,
        StepKind::Sand => Craft::Sand,
        StepKind::Film => Craft::Film,
        StepKind::Approve => Craft::Approve,
        StepKind::Set => Craft::Set,
        StepKind::Finish => Craft::Finish,
        StepKind::Pack => Craft::Pack,
    }
}
