//! All weeks at a glance: an order a line, from its first sitting until it leaves.

use super::axis::{day_after, days_between, hour, last, monday_of};
use super::blocks::{
    DRY, HAIR, HEADING, NAME, NIGHT, SMALL, SOFT, centred, fitted, plate, rectangle, width, words,
};
use super::marks::{self, Day};
use super::strip::Pen;
use super::{local, said};
use crate::drawing::{GUIDE, INK, Ink, Layer, Mark, Trace};
use glam::DVec2;
use jiff::civil::{Date, DateTime};

/// Height of the heading and of the ruler of weeks, mm.
const HEAD: f64 = 14.0;
/// Room for names at the left, and for words at the right, mm.
const LABELS: f64 = 62.0;
const RIGHT: f64 = 20.0;
/// Highest and lowest line of an order, mm.
const LINES: (f64, f64) = (9.0, 4.6);

/// How many pages the overview of so many orders takes, and how high a line is, mm.
pub(super) fn pages(orders: usize, room: f64) -> (usize, f64) {
    let most = ((room - HEAD) / LINES.1).floor().max(1.0) as usize;
    let pages = orders.div_ceil(most).max(1);
    let lines = orders.div_ceil(pages).max(1);
    (pages, ((room - HEAD) / lines as f64).clamp(LINES.1, LINES.0))
}

/// A scale of whole weeks.
struct Weeks {
    monday: Date,
    count: usize,
    left: f64,
    day_mm: f64,
}

impl Weeks {
    fn x(&self, at: DateTime) -> f64 {
        let days = days_between(self.monday, at.date()) as f64 + hour(at) / 24.0;
        self.left + days.clamp(0.0, 7.0 * self.count as f64) * self.day_mm
    }

    fn right(&self) -> f64 {
        self.left + 7.0 * self.count as f64 * self.day_mm
    }

    fn holds(&self, at: DateTime) -> bool {
        (0..7 * self.count as i64).contains(&days_between(self.monday, at.date()))
    }
}

impl Pen<'_> {
    /// Some of the orders from `top` down, across `wide`; gives the layer and its foot.
    pub(super) fn overview(
        &self,
        orders: std::ops::Range<usize>,
        high: f64,
        wide: f64,
        top: f64,
    ) -> (Layer, f64) {
        let monday = monday_of(local(self.rota, self.rota.begins).date());
        let count = (days_between(monday, last(self.rota)).max(0) / 7 + 1) as usize;
        let day_mm = (wide - LABELS - RIGHT) / (7 * count) as f64;
        let weeks = Weeks { monday, count, left: LABELS, day_mm };
        let mut layer = Layer::new(format!("all-weeks-{}", orders.start + 1), "All weeks");
        let foot = top + HEAD + high * orders.len() as f64;
        layer.marks.push(words(self.letters, "All weeks", HEADING, (0.0, top + HEADING), INK));
        self.weeks(&mut layer.marks, &weeks, top + HEAD, foot);
        for (line, order) in orders.enumerate() {
            let at = top + HEAD + high * line as f64;
            let rule = Trace::line([DVec2::new(0.0, at), DVec2::new(wide, at)]);
            let ink = if line == 0 { Ink::line(INK, 0.4) } else { Ink::line(HAIR, 0.25) };
            layer.marks.push(Mark::path(rule, ink));
            self.line(&mut layer.marks, &weeks, order, (at, at + high));
        }
        let rule = Trace::line([DVec2::new(0.0, foot), DVec2::new(wide, foot)]);
        layer.marks.push(Mark::path(rule, Ink::line(INK, 0.4)));
        (layer, foot)
    }

    /// A line at every Monday, every second week shaded; dates as often as they fit.
    fn weeks(&self, marks: &mut Vec<Mark>, weeks: &Weeks, grid: f64, foot: f64) {
        let week_mm = 7.0 * weeks.day_mm;
        let name = |date: Date| date.strftime("%-d %b").to_string();
        let room = width(self.letters, "30 May", SMALL) + 1.5;
        let every = (room / week_mm).ceil().max(1.0) as usize;
        for week in 0..weeks.count {
            let left = weeks.left + week as f64 * week_mm;
            if week % 2 == 1 {
                let form = rectangle(left, grid, left + week_mm, foot);
                marks.push(Mark::path(Trace::rectangle(form), Ink::fill(NIGHT)));
            }
            let line = Trace::line([DVec2::new(left, grid - 2.0), DVec2::new(left, foot)]);
            marks.push(Mark::path(line, Ink::line(GUIDE, 0.25)));
            if week % every == 0 {
                let date = name(day_after(weeks.monday, 7 * week));
                marks.push(words(self.letters, &date, SMALL, (left + 0.5, grid - 1.2), SOFT));
            }
        }
        let year = weeks.monday.strftime("from Monday %-d %B %Y").to_string();
        marks.push(words(self.letters, &year, SMALL, (weeks.left + 0.5, grid - 5.0), SOFT));
    }

    /// An order: a light bar until it is done, its hands-on time in the inks of the makers, its days.
    fn line(&self, marks: &mut Vec<Mark>, weeks: &Weeks, order: usize, (top, foot): (f64, f64)) {
        let told = &self.rota.orders[order];
        let middle = (top + foot) / 2.0;
        let capital = NAME.min((foot - top) * 0.42);
        let base = middle + capital / 2.0;
        let number = (order + 1).to_string();
        marks.push(words(self.letters, &number, capital, (0.0, base), SOFT));
        let count =
            if told.quantity > 1 { format!(" \u{d7} {}", told.quantity) } else { String::new() };
        let room = LABELS - 8.0 - width(self.letters, &count, capital);
        let title = fitted(self.letters, &told.title, capital, room) + &count;
        marks.push(words(self.letters, &title, capital, (5.5, base), INK));

        let mine = self.rota.sittings.iter().filter(|sitting| sitting.order == order);
        let begins = mine.clone().map(|sitting| sitting.at.0).min();
        let half = ((foot - top) * 0.28).min(1.9);
        if let Some(begins) = begins {
            let (from, until) =
                (weeks.x(local(self.rota, begins)), weeks.x(local(self.rota, told.done)));
            let bar = rectangle(from, middle - half * 0.55, until, middle + half * 0.55);
            marks.push(Mark::path(Trace::rectangle(bar), Ink::fill(DRY)));
        }
        for sitting in mine {
            let [from, until] =
                [sitting.at.0, sitting.at.1].map(|at| weeks.x(local(self.rota, at)));
            let fill = sitting.maker.map_or(SOFT, |maker| self.looks[maker].fill);
            // Short work stays as wide as a hair, so that its neighbours are seen.
            let form = crate::drawing::Bounds::new(
                DVec2::new(from, middle - half),
                DVec2::new(until.max(from + 0.3), middle + half),
            );
            marks.push(Mark::path(Trace::rectangle(form), Ink::fill(fill)));
        }
        let mut end = weeks.right();
        for (day, at) in marks::days(self.rota, told) {
            let x = weeks.x(at);
            match day {
                _ if !weeks.holds(at) => {}
                Day::Due => marks.extend(marks::diamond((x, middle))),
                Day::LeaveBy => marks.extend(marks::flag(x, top + 0.4, foot - 0.4)),
                Day::Leaves => marks.extend(marks::arrow((x, middle))),
            }
            end = end.max(x);
        }
        if let Some(late) = said::late(told) {
            let text = format!("LATE {late}");
            let (late, _) = plate(self.letters, &text, (end + 1.5, middle + SMALL / 2.0));
            marks.extend(late);
        } else {
            let leaves = local(self.rota, told.leaves);
            let text = leaves.strftime("%-d %b").to_string();
            let at = (end + 1.5 + RIGHT / 2.0 - 3.0, middle);
            marks.push(centred(self.letters, &text, SMALL, at, SOFT));
        }
    }
}
