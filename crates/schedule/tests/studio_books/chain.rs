//! The tasks of one piece and the gaps between them.

use super::dice::Dice;
use super::hours::{Craft, DAY, HOUR, hands};
use super::{Kind, Length, RACK, SPINDLES};
use schedule::{Book, Job, Link, Mix, Relief, Sittings, Slot, Task, Use};

/// From the beginning of a pour until it no longer sags: 20 min of pouring and 6 h of turning.
const TURNING: Slot = 6 * HOUR + 4;
/// From the end of a pour until it can be sanded.
const SANDABLE: Slot = DAY;
/// From the last pour until it may be packed.
const FULL_CURE: Slot = 3 * DAY;

/// Makes up the tasks of one piece.
pub struct Maker<'a> {
    /// Where the tasks go.
    pub book: &'a mut Book,
    /// What decides.
    pub dice: &'a mut Dice,
    /// What kind of studio it is.
    pub kind: Kind,
    /// How many resins there are.
    pub resins: u32,
    /// Index of the piece.
    pub job: usize,
}

impl Maker<'_> {
    /// Adds the piece; how long it takes when nothing else is made, slots, roughly.
    pub fn piece(&mut self) -> Slot {
        let whole = self.kind.length == Length::Whole;
        let weight = if self.dice.comes_true(15) { self.dice.between(2, 3) } else { 1 };
        self.book.jobs.push(Job {
            name: format!("piece {}", self.job + 1),
            due: None,
            weight: weight.unsigned_abs(),
            leaves: Vec::new(),
        });
        let ordered = self.short("order", Craft::Desk, 2, 4);
        if self.dice.comes_true(25) {
            self.book.tasks[ordered].not_before = self.dice.between(1, 10) * DAY;
        }
        let supply =
            if whole && self.dice.comes_true(40) { self.dice.between(2, 5) * DAY } else { 0 };
        let resin = self.dice.between(1, self.resins as i32).unsigned_abs();
        let (last_pour, shown) = self.body(ordered, supply, resin);
        let mut before_finish = self.short("approve", Craft::Desk, 2, 2);
        self.link(shown.0, before_finish, shown.1);
        let mut lag = DAY;
        let mut stones = 0;
        if self.dice.comes_true(if whole { 85 } else { 70 }) {
            let most = if whole { 30 } else { 8 };
            // Few pieces are set all over.
            let hours = self.dice.between(3, most).min(self.dice.between(3, most));
            let setting = self.stones(hours * HOUR);
            self.link(before_finish, setting, lag);
            (before_finish, lag, stones) = (setting, DAY, hours * HOUR);
        }
        let has_lid = whole && self.dice.comes_true(50);
        let lid = has_lid.then(|| self.lid(ordered, supply, resin));
        let finish = self.short("finish", Craft::Prepare, 4, 6);
        self.link(before_finish, finish, lag);
        if let Some(lid) = lid {
            self.link(lid, finish, SANDABLE);
        }
        let pack = self.short("pack", Craft::Desk, 3, 4);
        self.link(finish, pack, 0);
        self.link(last_pour, pack, FULL_CURE);
        let pours = self.book.tasks[ordered..].iter().filter(|task| task.mix.is_some()).count();
        // A day for each pour, four for the rest, and four hours of stones a day.
        supply + self.book.tasks[ordered].not_before + (4 + pours as Slot) * DAY + 6 * stones
    }

    /// Prepares, masks, paints, pours and letters; gives the last pour, and the task and gap after
    /// which it can be shown.
    fn body(&mut self, ordered: usize, supply: Slot, resin: u32) -> (usize, (usize, Slot)) {
        let whole = self.kind.length == Length::Whole;
        let prepare = self.short("prepare", Craft::Prepare, 6, 12);
        self.link(ordered, prepare, supply);
        let mut last = self.short("mask", Craft::Prepare, 2, 4);
        self.link(prepare, last, 0);
        let mut gap = 0;
        for paint in 1..=self.dice.between(1, if whole { 3 } else { 1 }) {
            let painted = self.short(&format!("paint {paint}"), Craft::Paint, 3, 4);
            self.link(last, painted, gap);
            (last, gap) = (painted, HOUR / 2);
        }
        let pours = if whole { self.dice.between(2, 6) } else { 2 };
        let with_glitter = self.dice.between(1, pours);
        let mut last_pour = last;
        for number in 1..=pours {
            let millilitres = self.dice.between(10, 40);
            let glitter = if number == with_glitter { self.dice.between(2, 4) } else { 0 };
            let poured = self.pour(&format!("pour {number}"), resin, millilitres, glitter);
            if number == 1 {
                self.link(last, poured, DAY / 2);
            } else {
                self.recoat(last_pour, poured);
            }
            last_pour = poured;
        }
        if whole && self.dice.comes_true(50) {
            let film = self.short("film", Craft::Film, 4, 9);
            self.link(last_pour, film, DAY / 2);
            return (last_pour, (film, DAY / 2));
        }
        (last_pour, (last_pour, SANDABLE))
    }

    /// Sands, paints and pours a lid; gives its last task.
    fn lid(&mut self, ordered: usize, supply: Slot, resin: u32) -> usize {
        let prepare = self.short("prepare lid", Craft::Prepare, 2, 4);
        self.link(ordered, prepare, supply);
        let paint = self.short("paint lid", Craft::Paint, 2, 3);
        self.link(prepare, paint, 0);
        let millilitres = self.dice.between(3, 6);
        let mut last = self.pour("pour lid 1", resin, millilitres, 0);
        self.link(paint, last, DAY / 2);
        if self.dice.comes_true(50) {
            let again = self.pour("pour lid 2", resin, millilitres, 0);
            self.recoat(last, again);
            last = again;
        }
        last
    }

    fn task(&mut self, name: &str, craft: Craft, work: Slot) -> usize {
        self.book.tasks.push(Task {
            name: format!("{name} of piece {}", self.job + 1),
            job: self.job,
            work,
            hands: hands(self.kind.makers, craft),
            sittings: None,
            uses: Vec::new(),
            not_before: 0,
            optional: false,
            mix: None,
            fixed: None,
        });
        self.book.tasks.len() - 1
    }

    fn short(&mut self, name: &str, craft: Craft, least: Slot, most: Slot) -> usize {
        let work = self.dice.between(least, most);
        self.task(name, craft, work)
    }

    fn stones(&mut self, work: Slot) -> usize {
        let setting = self.task("set stones", Craft::Stones, work);
        self.book.tasks[setting].sittings =
            Some(Sittings { least: HOUR / 2, longest: 2 * HOUR, set_up: 2, rest: 3 });
        setting
    }

    fn pour(&mut self, name: &str, resin: u32, millilitres: i32, glitter: Slot) -> usize {
        let (stir, watch) = (1, 2);
        let spread = if millilitres < 20 { 2 } else { 3 };
        let pour = self.task(name, Craft::Resin, stir + spread + glitter + watch);
        let task = &mut self.book.tasks[pour];
        task.mix = Some(Mix {
            kind: resin,
            stir,
            watch,
            stands: 8,
            amount: millilitres.unsigned_abs(),
            // The second resin gets hot sooner.
            most: if resin == 2 { 60 } else { 120 },
        });
        let sandable = task.work + SANDABLE;
        task.uses = vec![
            Use { machine: SPINDLES, amount: 1, from: 0, length: TURNING },
            Use { machine: RACK, amount: 1, from: TURNING, length: sandable - TURNING },
        ];
        pour
    }

    /// The next pour goes on 4 to 8 h after the one before it, or is sanded for.
    fn recoat(&mut self, from: usize, to: usize) {
        let sand = self.task("sand", Craft::Prepare, 4);
        self.book.tasks[sand].optional = true;
        let relief = Some(Relief { task: sand, before: SANDABLE, after: 0 });
        self.book.links.push(Link { from, to, least: 4 * HOUR, most: Some(8 * HOUR), relief });
    }

    fn link(&mut self, from: usize, to: usize, least: Slot) {
        self.book.links.push(Link { from, to, least, most: None, relief: None });
    }
}
