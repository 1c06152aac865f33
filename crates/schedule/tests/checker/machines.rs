//! Whether there is room on the machines.

use super::Case;
use schedule::{Slot, Use};

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    (0..case.book.machines.len()).flat_map(|machine| of_machine(case, machine)).collect()
}

fn of_machine(case: Case, machine: usize) -> Vec<String> {
    let uses: Vec<(usize, Slot, &Use)> = case
        .placed()
        .flat_map(|(index, task, placed)| {
            let begins = placed.stretches.first().map_or(0, |stretch| stretch.0);
            task.uses.iter().map(move |used| (index, begins + used.from, used))
        })
        .filter(|(_, _, used)| used.machine == machine)
        .collect();
    let end = uses.iter().map(|(_, from, used)| from + used.length).max().unwrap_or(0).max(0);
    let slots = |from: Slot, length: Slot| {
        from.clamp(0, end) as usize..(from + length.max(0)).clamp(0, end) as usize
    };
    let described = &case.book.machines[machine];
    let mut room = vec![i64::from(described.capacity); end as usize];
    for outage in &described.outages {
        for slot in slots(outage.from, outage.to - outage.from) {
            room[slot] = (room[slot] - i64::from(outage.amount)).max(0);
        }
    }
    for (_, from, used) in &uses {
        slots(*from, used.length).for_each(|slot| room[slot] -= i64::from(used.amount));
    }
    let mut faults = Vec::new();
    for (index, from, used) in uses {
        let over = slots(from, used.length).find(|&slot| room[slot] < 0);
        if let Some(slot) = over.filter(|_| !case.is_fixed(index) && used.amount > 0) {
            faults.push(format!("no {} at {slot} for {}", described.name, case.name(index)));
        }
    }
    faults
}
