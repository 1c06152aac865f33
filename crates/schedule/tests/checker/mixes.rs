//! Whether tasks that share a mix may do so.

use super::Case;
use schedule::{Mix, Placed, Slot};
use std::collections::BTreeMap;

type Sharer<'a> = (usize, Option<Mix>, &'a Placed);

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    let mut faults = Vec::new();
    let mut mixes: BTreeMap<u32, Vec<Sharer>> = BTreeMap::new();
    for (index, task, placed) in case.placed() {
        match placed.mix {
            Some(number) => mixes.entry(number).or_default().push((index, task.mix, placed)),
            None if task.mix.is_some() && task.fixed.is_none() => {
                faults.push(format!("{} is of no mix", task.name));
            }
            None => {}
        }
    }
    let mut before = Slot::MIN;
    for (place, (number, tasks)) in mixes.iter_mut().enumerate() {
        tasks.sort_by_key(|(_, _, placed)| placed.stretches[0].0);
        let begins = tasks[0].2.stretches[0].0;
        if *number as usize != place || begins < before {
            faults.push(format!("mix {number} at {begins} is not numbered in order of time"));
        }
        before = begins;
        let settled = tasks.iter().all(|&(index, ..)| case.is_fixed(index));
        if let Some(why) = of_mix(tasks).filter(|_| !settled) {
            let names: Vec<_> = tasks.iter().map(|&(index, ..)| case.name(index)).collect();
            faults.push(format!("{}: {why}", names.join(" and ")));
        }
    }
    faults
}

/// Why tasks, in order of time, cannot share.
fn of_mix(tasks: &[Sharer]) -> Option<String> {
    let mut sharers = Vec::new();
    for (_, mix, placed) in tasks {
        let Some(mix) = mix else { return Some("one has nothing to mix".into()) };
        sharers.push((*mix, placed.person, placed.stretches[0].0, placed.stretches[0].1));
    }
    let (first, person, begins, _) = sharers[0];
    let stirred = begins + first.stir;
    let taken: u64 = sharers.iter().map(|(mix, ..)| u64::from(mix.amount)).sum();
    for (mix, by, _, ends) in &sharers {
        if mix.kind != first.kind {
            return Some("of different kinds".into());
        }
        if *by != person {
            return Some("by different people".into());
        }
        if ends - mix.watch - stirred > mix.stands {
            let stood = ends - mix.watch - stirred;
            return Some(format!("the mix stands {stood} slots, most {}", mix.stands));
        }
        // One task alone takes what it takes.
        if sharers.len() > 1 && taken > u64::from(mix.most) {
            return Some(format!("{taken} is taken, most {}", mix.most));
        }
    }
    let apart = sharers.windows(2).find(|pair| pair[1].2 != pair[0].3 - pair[0].0.watch);
    apart.map(|pair| format!("one begins at {}, not back to back", pair[1].2))
}
