//! Hours in a replay: when someone is there for a piece of work, and sittings that give way.

use super::replay::{Lived, Replay, Stint};
use crate::book::{Sittings, Slot};

impl Replay<'_> {
    /// Sits down for as long as was planned, or as her hours allow; what is left goes to the next sitting,
    /// and after the last to as many more as it takes.
    pub(super) fn sit(
        &self,
        stint: Stint,
        person: usize,
        rules: Sittings,
        mut at: f64,
        lived: &mut Lived,
    ) {
        let set_up = f64::from(rules.set_up);
        while lived.left[stint.task] > 1e-9 {
            let left = lived.left[stint.task];
            let least = (f64::from(rules.least).min(left) + set_up).ceil() as Slot;
            at = self.earliest(stint, at, least.min(stint.length), lived);
            let longest = if stint.last { rules.longest.max(stint.length) } else { stint.length };
            let until = (at + f64::from(longest)).min(self.closes(person, at));
            let done = (until - at - set_up).clamp(1.0, left.max(1.0)).min(left);
            lived.left[stint.task] -= done;
            let ends = at + set_up + done;
            self.set_down(stint, at, ends, lived);
            if !stint.last {
                break;
            }
            at = ends;
        }
    }

    /// The end of the hours that someone is in at a time; never after all known hours.
    fn closes(&self, person: usize, at: f64) -> f64 {
        let open = self.book.people[person].open.stretches();
        let next = open.partition_point(|stretch| f64::from(stretch.1) <= at);
        open.get(next).map_or(f64::INFINITY, |stretch| f64::from(stretch.1))
    }

    /// The earliest time from `from` on at which someone is there for as long as is planned; work that
    /// takes longer runs past the end of the hours. After all known hours she is there at any time.
    pub(super) fn open_from(&self, person: usize, from: f64, length: Slot) -> f64 {
        let open = self.book.people[person].open.stretches();
        let next = open.partition_point(|stretch| f64::from(stretch.1) < from + f64::from(length));
        let fits = open[next..].iter().find(|stretch| {
            from.max(f64::from(stretch.0)) + f64::from(length) <= f64::from(stretch.1)
        });
        fits.map_or(from.max(f64::from(self.book.horizon)), |stretch| {
            from.max(f64::from(stretch.0))
        })
    }

    /// The same at which she is not at work on something else.
    pub(super) fn free_from(&self, person: usize, from: f64, length: Slot, lived: &Lived) -> f64 {
        let mut at = from;
        loop {
            at = self.open_from(person, at, length);
            let until = at + f64::from(length);
            let busy = lived.busy[person].iter().filter(|it| it.0 < until && at < it.1);
            match busy.map(|it| it.1).reduce(f64::max) {
                Some(ends) => at = ends,
                None => return at,
            }
        }
    }
}
