//! When the maker is free: her weekly hours less what is already placed.
//!
//! Times are whole minutes after midnight of the first day. Civil time is used throughout: a night in
//! which clocks change is taken as if they did not.

use jiff::civil::Date;
use piece::settings::Maker;
use std::collections::BTreeMap;

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
    /// Length of the longest of them.
    longest: i64,
    /// What is still free of the days before `planned_to`, by its beginning. Later days are free as the
    /// week has them: only as many days are written out as something was placed in.
    free: BTreeMap<i64, i64>,
    planned_to: i64,
    /// What is placed, by its beginning, inside her hours or not; no two overlap.
    busy: BTreeMap<i64, i64>,
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
        let longest = week.iter().flatten().map(|(from, to)| to - from).max()?;
        Some(Self { week, longest, free: BTreeMap::new(), planned_to: 0, busy: BTreeMap::new() })
    }

    /// Length of the longest stretch in a week.
    pub fn longest(&self) -> i64 {
        self.longest
    }

    /// Free stretches from a moment on, in order.
    pub fn free_from(&self, moment: i64) -> impl Iterator<Item = Stretch> + '_ {
        let running = self.free.range(..moment).next_back().filter(|(_, to)| **to > moment);
        let started = running.map(|(_, to)| (moment, *to));
        let known = self.free.range(moment..).map(|(from, to)| (*from, *to));
        let first_day = moment.div_euclid(DAY_MIN).max(self.planned_to);
        let later = (first_day..HORIZON_DAYS)
            .flat_map(|day| self.hours_of(day))
            .map(move |(from, to)| (from.max(moment), to))
            .filter(|(from, to)| from < to);
        started.into_iter().chain(known).chain(later)
    }

    /// The maker's hours on one day, whether something is placed in them or not.
    fn hours_of(&self, day: i64) -> impl Iterator<Item = Stretch> + '_ {
        let midnight = day * DAY_MIN;
        let stretches = &self.week[day.rem_euclid(7) as usize];
        stretches.iter().map(move |(from, to)| (midnight + from, midnight + to))
    }

    /// Whether nothing is placed in a stretch, inside her hours or not.
    pub fn is_clear(&self, (from, to): Stretch) -> bool {
        self.busy.range(..to).next_back().is_none_or(|(_, end)| *end <= from)
    }

    /// Takes a stretch.
    pub fn take(&mut self, (from, to): Stretch) {
        self.busy.insert(from, to);
        let days = (to.div_euclid(DAY_MIN) + 1).min(HORIZON_DAYS);
        for day in self.planned_to..days {
            let hours: Vec<Stretch> = self.hours_of(day).collect();
            self.free.extend(hours);
        }
        self.planned_to = self.planned_to.max(days);
        while let Some((&begins, &ends)) =
            self.free.range(..to).next_back().filter(|(_, ends)| **ends > from)
        {
            self.free.remove(&begins);
            if ends > to {
                self.free.insert(to, ends);
            }
            if begins < from {
                self.free.insert(begins, from);
            }
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use jiff::civil::date;
    use piece::Settings;

    /// Two stretches on every day but Sunday; 2027-03-01 is a Monday.
    fn hours() -> Hours {
        let mut maker = Settings::demo().maker;
        maker.hours = std::array::from_fn(|_| vec![(540, 720), (780, 1020)]);
        maker.hours[6] = Vec::new();
        Hours::from(date(2027, 3, 1), &maker).expect("she works")
    }

    #[test]
    fn what_is_taken_is_free_no_longer_and_the_rest_is() {
        let mut hours = hours();
        hours.take((600, 630));
        hours.take((900, DAY_MIN + 600));
        let free: Vec<Stretch> = hours.free_from(0).take(5).collect();
        let tuesday = DAY_MIN;
        let expected = [
            (540, 600),
            (630, 720),
            (780, 900),
            (tuesday + 600, tuesday + 720),
            (tuesday + 780, tuesday + 1020),
        ];
        assert_eq!(free, expected);
        assert_eq!(hours.free_from(650).next(), Some((650, 720)));
        assert_eq!(hours.free_from(tuesday).next(), Some((tuesday + 600, tuesday + 720)));
        assert!(hours.is_clear((720, 900)) && !hours.is_clear((720, 901)));
    }

    #[test]
    fn a_day_without_work_has_nothing_free_and_time_ends_at_the_horizon() {
        let hours = hours();
        assert_eq!(
            hours.free_from(6 * DAY_MIN).next(),
            Some((7 * DAY_MIN + 540, 7 * DAY_MIN + 720))
        );
        assert_eq!(hours.free_from(HORIZON_DAYS * DAY_MIN).next(), None);
    }
}
