//! Choices, where they lead, and how far the placing is at some turns, so that a change is placed from
//! where it first matters.

use super::moves::Mover;
use crate::book::Slot;
use crate::decode::{Choices, Compiled, Course, Decoder, Score, Turns};
use crate::plan::Placed;

/// How many courses are kept on the way, to begin from.
const MARKS: u32 = 7;

/// A placing that is known, and one that is tried.
#[derive(Debug, Clone)]
pub(crate) struct Trail<'a> {
    pub decoder: Decoder<'a>,
    pub mover: Mover<'a>,
    /// The choices of now; with a change that is tried, until that is kept or taken back.
    pub choices: Choices,
    /// Where the choices of now let each task begin.
    pub begins: Vec<Slot>,
    /// In which order they place the tasks.
    turns: Turns,
    /// How far the placing is at some turns, and whether that still holds.
    marks: Vec<(u32, Course)>,
    holds: Vec<bool>,
    /// Changes tried since the marks were last made anew.
    tried: u32,
    /// The first turn that the change can make different.
    first: u32,
}

impl<'a> Trail<'a> {
    /// Nothing chosen yet; `home` is the plan against which moved tasks are counted.
    pub fn new(compiled: &'a Compiled<'a>, home: &[Option<Placed>]) -> Self {
        Self {
            decoder: Decoder::new(compiled, home),
            mover: Mover::new(compiled),
            choices: Choices::none(compiled),
            begins: Vec::new(),
            turns: Turns::default(),
            marks: Vec::new(),
            holds: Vec::new(),
            tried: 0,
            first: 0,
        }
    }

    /// Places choices that are new.
    pub fn begin(&mut self, choices: &Choices) {
        self.choices.clone_from(choices);
        if self.marks.is_empty() {
            self.marks = (0..MARKS).map(|_| (0, self.decoder.blank())).collect();
        }
        let turns = self.turns.key.len().max(self.decoder.compiled.len() / 2) as u32;
        for (at, mark) in self.marks.iter_mut().enumerate() {
            mark.0 = (at as u32 + 1) * turns / (MARKS + 1);
        }
        self.decoder.place_from(&self.choices, None, &mut self.marks, |_, _| true);
        self.begins.clone_from(&self.decoder.now.state.begins);
        self.mover.tell_late(&self.decoder.now.finish);
        self.turns.copy_from(&self.decoder.turns);
        self.hold();
    }

    /// Changes the choices; to be placed, and then kept or taken back.
    pub fn change(&mut self, change: impl FnOnce(&mut Mover<'a>, &mut Choices, &[Slot])) {
        self.refresh();
        change(&mut self.mover, &mut self.choices, &self.begins);
        self.first = self.mover.first_turn(&self.choices, &self.turns);
    }

    /// Places the changed choices as far as they are wanted.
    pub fn place(&mut self, wanted: impl Fn(Score, &[Slot]) -> bool) -> Option<Score> {
        self.decoder.turns.copy_from(&self.turns);
        let first = self.first;
        let from = self.marks.iter().zip(&self.holds).rev();
        let mut from = from.filter(|(mark, holds)| **holds && mark.0 <= first);
        let from = from.next().map(|(mark, _)| &mark.1);
        self.decoder.place_from(&self.choices, from, &mut [], wanted)
    }

    /// Keeps the change, which was placed to the end.
    pub fn keep(&mut self) {
        self.mover.accept();
        self.begins.copy_from_slice(&self.decoder.now.state.begins);
        self.mover.tell_late(&self.decoder.now.finish);
        self.turns.copy_from(&self.decoder.turns);
        for (holds, mark) in self.holds.iter_mut().zip(&self.marks) {
            *holds &= mark.0 <= self.first;
        }
    }

    /// Takes the change back.
    pub fn undo(&mut self) {
        self.mover.undo(&mut self.choices);
    }

    /// Makes the marks anew that do not hold any more, once it pays: each placing since has had to go a
    /// longer way for want of them.
    fn refresh(&mut self) {
        let stale = self.holds.iter().filter(|holds| !**holds).count() as u32;
        self.tried += stale;
        if self.tried < 4 * MARKS {
            return;
        }
        let held = self.holds.iter().take_while(|holds| **holds).count();
        let (hold, stale) = self.marks.split_at_mut(held);
        self.decoder.turns.copy_from(&self.turns);
        self.decoder.place_from(&self.choices, hold.last().map(|mark| &mark.1), stale, |_, _| true);
        self.hold();
    }

    /// Every mark that was reached holds.
    fn hold(&mut self) {
        let turns = self.turns.key.len() as u32;
        self.holds = self.marks.iter().map(|mark| mark.0 > 0 && mark.0 <= turns).collect();
        self.tried = 0;
    }
}

#[cfg(test)]
#[path = "../../tests/studio_books/mod.rs"]
mod studio_books;

#[cfg(test)]
mod tests {
    use super::studio_books::{Due, Kind, Makers, random_studio};
    use super::*;
    use crate::search::chance::Chance;
    use crate::search::start::starts;

    #[test]
    fn placing_from_where_a_change_matters_gives_what_placing_all_gives() {
        for makers in [Makers::Evenings, Makers::WholeDays, Makers::Two, Makers::Four] {
            let book = random_studio(1, 6, Kind::new(makers, Due::Tight));
            let compiled = Compiled::new(&book);
            let mut trail = Trail::new(&compiled, &[]);
            let mut chance = Chance::new(5);
            trail.begin(&starts(&compiled).next().expect("a rule"));
            let mut whole = Decoder::new(&compiled, &[]);
            for change in 0..400 {
                trail.change(|mover, choices, begins| mover.change(choices, &mut chance, begins));
                let part = trail.place(|_, _| true);
                assert_eq!(
                    part,
                    Some(whole.place_all(&trail.choices)),
                    "{makers:?}, change {change}"
                );
                assert_eq!(trail.decoder.now.state.begins, whole.now.state.begins);
                if change % 3 == 0 {
                    trail.keep();
                } else {
                    trail.undo();
                }
            }
        }
    }
}
