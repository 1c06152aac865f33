//! Whether people are there when they work, do one thing at a time and rest between sittings.

use super::Case;
use schedule::Slot;

/// What is wrong.
pub fn faults(case: Case) -> Vec<String> {
    (0..case.book.people.len()).flat_map(|person| of_person(case, person)).collect()
}

fn of_person(case: Case, person: usize) -> Vec<String> {
    let mut faults = Vec::new();
    let name = &case.book.people[person].name;
    let own = || case.placed().filter(move |(_, _, placed)| placed.person == Some(person));
    let end = own().map(|(_, _, placed)| placed.stretches[placed.stretches.len() - 1].1).max();
    let end = end.unwrap_or(0).max(0) as usize;
    let mut open = vec![false; end];
    for &(from, to) in case.book.people[person].open.stretches() {
        (from.max(0) as usize..(to.max(0) as usize).min(end)).for_each(|slot| open[slot] = true);
    }
    let mut busy: Vec<Vec<usize>> = vec![Vec::new(); end];
    for (index, _, placed) in own() {
        for &(from, to) in &placed.stretches {
            let slots = from.max(0)..to;
            if !case.is_fixed(index)
                && let Some(closed) = slots.clone().find(|&slot| !open[slot as usize])
            {
                faults.push(format!("{name} is not there at {closed} for {}", case.name(index)));
            }
            slots.for_each(|slot| busy[slot as usize].push(index));
        }
    }
    let mut told = Vec::new();
    for (slot, tasks) in busy.iter().enumerate() {
        if tasks.len() > 1 && !may_overlap(case, tasks, slot as Slot) && !told.contains(tasks) {
            let names: Vec<_> = tasks.iter().map(|&task| case.name(task)).collect();
            faults.push(format!("{name} does at {slot} at once: {}", names.join(", ")));
            told.push(tasks.clone());
        }
    }
    faults.extend(rests(case, person));
    faults
}

/// Tasks of one mix may overlap where all but one are only watched; fixed ones are as they are.
fn may_overlap(case: Case, tasks: &[usize], slot: Slot) -> bool {
    if tasks.iter().all(|&task| case.is_fixed(task)) {
        return true;
    }
    let mix = |task: usize| case.place(task).and_then(|placed| placed.mix);
    let one_mix = mix(tasks[0]).is_some() && tasks.iter().all(|&task| mix(task) == mix(tasks[0]));
    let is_watched = |task: usize| {
        let ends = case.place(task).map_or(0, |placed| placed.stretches[0].1);
        case.task(task).mix.is_some_and(|mix| slot >= ends - mix.watch)
    };
    one_mix && tasks.iter().filter(|&&task| !is_watched(task)).count() <= 1
}

/// Between two sittings of a person, whichever tasks they are of, lies the longer rest of the two.
fn rests(case: Case, person: usize) -> Vec<String> {
    let mut sittings: Vec<(Slot, Slot, Slot, usize)> = case
        .placed()
        .filter(|(_, _, placed)| placed.person == Some(person))
        .filter_map(|(index, task, placed)| Some((index, task.sittings?.rest, placed)))
        .flat_map(|(index, rest, placed)| {
            placed.stretches.iter().map(move |&(from, to)| (from, to, rest, index))
        })
        .collect();
    sittings.sort_unstable();
    let pairs = sittings.windows(2).filter(|pair| {
        let free = case.is_fixed(pair[0].3) && case.is_fixed(pair[1].3);
        !free && pair[1].0 - pair[0].1 < pair[0].2.max(pair[1].2)
    });
    let told = pairs.map(|pair| {
        format!(
            "{} follows at {} too soon on {}",
            case.name(pair[1].3),
            pair[1].0,
            case.name(pair[0].3)
        )
    });
    told.collect()
}
