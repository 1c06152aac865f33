//! The marks of an order's days: due, leave by, leaves, late. Each has a form of its own, so that
//! nothing hangs on colour.

use super::axis::Axis;
use super::blocks::SOFT;
use super::captions::Word;
use super::{local, said};
use crate::drawing::{INK, Ink, Mark, Trace, WHITE};
use glam::DVec2;
use jiff::civil::DateTime;
use work::rota::{Rota, RotaOrder};

/// A moment that matters to an order.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) enum Day {
    /// The customer wants it.
    Due,
    /// The last moment to leave.
    LeaveBy,
    /// When it leaves.
    Leaves,
}

/// When each of an order's marks stands, on the studio's clock. A due day stands at noon.
pub(super) fn days(rota: &Rota, order: &RotaOrder) -> Vec<(Day, DateTime)> {
    let mut days = Vec::new();
    days.extend(order.leave_by.map(|at| (Day::LeaveBy, local(rota, at))));
    days.extend(order.due.map(|due| (Day::Due, due.at(12, 0, 0, 0))));
    days.push((Day::Leaves, local(rota, order.leaves)));
    days
}

/// The marks of an order between the top and foot of its row, and the words that go with them.
pub(super) fn drawn(
    rota: &Rota,
    order: &RotaOrder,
    axis: &Axis,
    (top, middle, foot): (f64, f64, f64),
) -> (Vec<Mark>, Vec<Word>) {
    let (mut marks, mut words) = (Vec::new(), Vec::new());
    for (day, at) in days(rota, order).into_iter().filter(|(_, at)| axis.holds(*at)) {
        let x = axis.x(at);
        let late = said::late(order);
        let (text, strong) = match (day, late) {
            (Day::Due, _) => ("due".to_owned(), false),
            (Day::LeaveBy, _) => ("leave by".to_owned(), false),
            (Day::Leaves, None) => ("leaves".to_owned(), false),
            (Day::Leaves, Some(late)) => (format!("LATE by {late}"), true),
        };
        marks.extend(match day {
            Day::Due => diamond((x, middle)),
            Day::LeaveBy => flag(x, top, foot),
            Day::Leaves => arrow((x, middle)),
        });
        words.push(Word { from: x - 1.0, until: x + 1.0, text, strong });
    }
    (marks, words)
}

/// A hollow diamond.
pub(super) fn diamond((x, y): (f64, f64)) -> Vec<Mark> {
    let corners = [(-1.5, 0.0), (0.0, -1.9), (1.5, 0.0), (0.0, 1.9)];
    let form = Trace::outline(corners.map(|(dx, dy)| DVec2::new(x + dx, y + dy)));
    vec![Mark::path(form, Ink::outlined(WHITE, INK, 0.45))]
}

/// A pole with a pennant.
pub(super) fn flag(x: f64, top: f64, foot: f64) -> Vec<Mark> {
    let pole = Trace::line([DVec2::new(x, top), DVec2::new(x, foot)]);
    let pennant = [(0.0, 0.0), (2.4, 0.9), (0.0, 1.8)];
    let pennant = Trace::outline(pennant.map(|(dx, dy)| DVec2::new(x + dx, top + dy)));
    vec![Mark::path(pole, Ink::line(INK, 0.45)), Mark::path(pennant, Ink::fill(INK))]
}

/// A full arrow head to the right, with white about it.
pub(super) fn arrow((x, y): (f64, f64)) -> Vec<Mark> {
    let corners = [(-1.3, -1.6), (1.5, 0.0), (-1.3, 1.6)];
    let form = Trace::outline(corners.map(|(dx, dy)| DVec2::new(x + dx, y + dy)));
    vec![Mark::path(form.clone(), Ink::line(WHITE, 0.9)), Mark::path(form, Ink::fill(INK))]
}

/// A dashed line where the plan begins.
pub(super) fn beginning(x: f64, top: f64, foot: f64) -> Mark {
    let line = Trace::line([DVec2::new(x, top), DVec2::new(x, foot)]);
    Mark::path(line, Ink::dashed(SOFT, 0.35, 1.2, 0.9))
}
