//! What a task takes, and when.

use crate::book::{Slot, Task};

/// What a task takes of a room while it runs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Need {
    pub room: usize,
    pub amount: i32,
    /// From so many slots after the task begins.
    pub from: Slot,
    pub length: Slot,
}

impl Need {
    /// First slot after it, counted from the task's begin.
    pub fn to(&self) -> Slot {
        self.from.saturating_add(self.length)
    }
}

/// What a task takes of machines, by index: where it uses one twice at a time, the sum.
pub(super) fn of_machines(task: &Task) -> Vec<Need> {
    let used: Vec<Need> = (task.uses.iter())
        .filter(|used| used.amount > 0 && used.length > 0)
        .map(|used| Need {
            room: used.machine,
            amount: i32::from(used.amount),
            from: used.from,
            length: used.length,
        })
        .collect();
    let mut cuts: Vec<(usize, Slot)> =
        used.iter().flat_map(|need| [(need.room, need.from), (need.room, need.to())]).collect();
    cuts.sort_unstable();
    cuts.dedup();
    let mut needs: Vec<Need> = Vec::new();
    for pair in cuts.windows(2).filter(|pair| pair[0].0 == pair[1].0) {
        let ((room, from), (_, to)) = (pair[0], pair[1]);
        let at =
            used.iter().filter(|need| need.room == room && need.from <= from && to <= need.to());
        let amount = at.map(|need| need.amount).sum();
        match needs.last_mut() {
            Some(last) if (last.room, last.to(), last.amount) == (room, from, amount) => {
                last.length += to - from;
            }
            _ => needs.push(Need { room, amount, from, length: to - from }),
        }
    }
    needs.retain(|need| need.amount > 0);
    needs
}

/// What a task takes of people and machines, if people are the first rooms.
pub(super) fn of_rooms(task: &Task, people: usize) -> Vec<Need> {
    let hand = task.hands.iter().map(|&room| Need { room, amount: 1, from: 0, length: task.work });
    let machines = of_machines(task).into_iter();
    let machines = machines.map(|need| Need { room: people + need.room, ..need });
    hand.filter(|need| need.length > 0).chain(machines).collect()
}
