//! When the maker is free: her weekly hours less what is already placed.
//!
//! Times are whole minutes after midnight of the first day. Civil time is used throughout: a night in
//! which clocks change is taken as if they did not.

use jiff::civil::Date;
use piece::settings::Maker;

/// Minutes in a day.
pub const DAY_MIN: i64 = 1440;
/// Nothing is placed later than this many days after the beginning.
pub const HORIZON_DAYS: i64 = 3660;

/// A stretch of time, from and to.
pub type Stretch = (i64, i64);

/// Free time of one maker.
pub struct Hours {
    /// Stretches of work for each of seven days from the first day, minutes after midnight.
    week: [Vec<Stretch>; 7],
    /// What is placed, sorted, not overlapping.
    busy: Vec<Stretch>,
}

impl Hours {
    /// The maker's weekly hours from a first day on; `None` if she never works.
    pub fn from(begin: Date, maker: &Maker) -> Option<Self> {
        let mut day = begin.weekday();
        let mut week: [Vec<Stretch>; 7] = Default::default();
        for stretches in &mut week {
            for &(from, to) in maker.hours_on(day) {
                let (from, to) = (i64::from(from), i64::from(to).min(DAY_MIN));
                match stretches.last_mut() {
                    Some((_, end)) if *end >= from => *end = (*end).max(to),
                    _ if to > from => stretches.push((from, to)),
                    _ => {}
                }
            }
            day = day.next();
        }
        let works = week.iter().any(|day| !day.is_empty());
        works.then_some(Self { week, busy: Vec::new() })
    }

    /// Length of the longest stretch in a week.
    pub fn longest(&self) -> i64 {
        self.week.iter().flatten().map(|(from, to)| to - from).max().unwrap_or(0)
    }

    /// Free stretches from a moment on, in order.
    pub fn free_from(&self, moment: i64) -> impl Iterator<Item = Stretch> + '_ {
        let first_day = moment.div_euclid(DAY_MIN).max(0);
        (first_day..HORIZON_DAYS).flat_map(move |day| {
            let stretches = &self.week[day.rem_euclid(7) as usize];
            stretches.iter().flat_map(move |&(from, to)| {
                self.less_busy(((day * DAY_MIN + from).max(moment), day * DAY_MIN + to))
            })
        })
    }

    fn less_busy(&self, (mut from, to): Stretch) -> Vec<Stretch> {
        let mut free = Vec::new();
        let first = self.busy.partition_point(|(_, end)| *end <= from);
        for &(begins, ends) in &self.busy[first..] {
            if begins >= to {
                break;
            }
            if begins > from {
                free.push((from, begins));
            }
            from = from.max(ends);
        }
        if from < to {
            free.push((from, to));
        }
        free
    }

    /// Whether nothing is placed in a stretch, inside her hours or not.
    pub fn is_clear(&self, (from, to): Stretch) -> bool {
        let first = self.busy.partition_point(|(_, end)| *end <= from);
        self.busy.get(first).is_none_or(|(begins, _)| *begins >= to)
    }

    /// Takes a stretch.
    pub fn take(&mut self, stretch: Stretch) {
        let at = self.busy.partition_point(|(begins, _)| *begins < stretch.0);
        self.busy.insert(at, stretch);
    }
}
