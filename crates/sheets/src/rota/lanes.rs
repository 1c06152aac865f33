//! Which blocks of one order lie beneath each other in a week because they are done at the same time.

use super::axis::Axis;
use super::local;
use jiff::Timestamp;
use work::rota::{Rota, RotaSitting};

/// A lane under way.
struct Lane {
    sittings: Vec<usize>,
    hands_until: Timestamp,
    busy_until: Timestamp,
}

/// The sittings of an order that reach into a week, by index: a lane for as many as run at once. A
/// sitting takes its lane until its hands-on time is over and its piece is off the turner; what only
/// cures leaves it free. Work on the same pieces stays in one lane where it can, also while they turn.
pub(super) fn lanes(rota: &Rota, axis: &Axis, order: usize) -> Vec<Vec<usize>> {
    let mut lanes: Vec<Lane> = Vec::new();
    for (index, sitting) in rota.sittings.iter().enumerate() {
        let until = busy_until(sitting).max(rests_until(sitting));
        if sitting.order != order || span(rota, axis, (sitting.at.0, until)).is_none() {
            continue;
        }
        let alike = |lane: &Lane| {
            lane.hands_until <= sitting.at.0
                && lane.sittings.last().is_some_and(|&last| {
                    let last = &rota.sittings[last];
                    (last.group, &last.part) == (sitting.group, &sitting.part)
                })
        };
        let free = |lane: &Lane| lane.busy_until <= sitting.at.0;
        let found = lanes.iter().position(alike).or_else(|| lanes.iter().position(free));
        let lane = found.unwrap_or_else(|| {
            lanes.push(Lane {
                sittings: Vec::new(),
                hands_until: Timestamp::MIN,
                busy_until: Timestamp::MIN,
            });
            lanes.len() - 1
        });
        let lane = &mut lanes[lane];
        lane.sittings.push(index);
        lane.hands_until = lane.hands_until.max(sitting.at.1);
        lane.busy_until = lane.busy_until.max(busy_until(sitting));
    }
    lanes.into_iter().map(|lane| lane.sittings).collect()
}

/// When hands and turner are done with it.
pub(super) fn busy_until(sitting: &RotaSitting) -> Timestamp {
    sitting.turning.as_ref().map_or(sitting.at.1, |(_, until)| sitting.at.1.max(*until))
}

/// When the next step on it may begin.
pub(super) fn rests_until(sitting: &RotaSitting) -> Timestamp {
    sitting.rests_until.unwrap_or(sitting.at.1)
}

/// The part of a span that lies in the week, mm.
pub(super) fn span(rota: &Rota, axis: &Axis, at: (Timestamp, Timestamp)) -> Option<(f64, f64)> {
    if at.0 >= at.1 {
        return None;
    }
    axis.span(local(rota, at.0), local(rota, at.1))
}
