//! What holds of the book of any example, in whatever hours.

use crate::support::{EXAMPLES, STUDIO, hours_with, ordered};
use proptest::prelude::*;
use schedule::Book;
use std::fmt::Write;
use work::together::{Ordered, SLOT_MIN, Together, What, plan_book};

/// Hours of two makers, each with one stretch on some days.
fn makers(stretches: &[(u32, u32); 2]) -> String {
    let mut text = String::new();
    for (name, (from, length)) in ["Sedge", "Rush"].iter().zip(stretches) {
        write!(text, "[[maker]]\nname = \"{name}\"\n[maker.hours]\n").expect("text grows");
        for day in ["monday", "tuesday", "thursday", "saturday"] {
            let to = (from + length).min(24);
            writeln!(text, "{day} = [\"{from:02}:00-{to:02}:00\"]").expect("text grows");
        }
    }
    text
}

/// What of a book nobody could keep, whatever they do.
fn conflict(book: &Book) -> Option<String> {
    for link in &book.links {
        if link.most.is_some_and(|most| most < link.least) {
            return Some(format!("{link:?} is never open"));
        }
        if let Some(relief) = link.relief
            && !book.tasks[relief.task].optional
        {
            return Some(format!("{link:?} calls for what is done anyway"));
        }
    }
    // Whatever is left when what waits for nothing is taken away, again and again, waits in a ring.
    let mut left: Vec<bool> = vec![true; book.tasks.len()];
    while let Some(free) = (0..left.len()).find(|&task| {
        left[task] && !book.links.iter().any(|link| link.to == task && left[link.from])
    }) {
        left[free] = false;
    }
    if let Some(task) = left.iter().position(|left| *left) {
        return Some(format!("{} waits for itself", book.tasks[task].name));
    }
    for task in &book.tasks {
        let of = task.hands.iter().flat_map(|hand| book.people[*hand].open.stretches());
        let longest = of.map(|(from, to)| to - from).max().unwrap_or(0);
        let needs = task
            .sittings
            .map_or(task.work, |sittings| sittings.set_up + sittings.least.min(task.work));
        if needs > longest || task.work < 1 {
            return Some(format!("{} has no stretch of hours: {needs} of {longest}", task.name));
        }
        if let Some(sittings) = task.sittings
            && (sittings.set_up + sittings.least > sittings.longest || sittings.least < 1)
        {
            return Some(format!("{}: {sittings:?}", task.name));
        }
        for used in &task.uses {
            if used.amount > book.machines[used.machine].capacity || used.length < 1 {
                return Some(format!("{}: {used:?}", task.name));
            }
        }
        if let Some(mix) = task.mix {
            let used = task.work - mix.stir - mix.watch;
            if mix.amount > mix.most || used < 1 || used > mix.stands {
                return Some(format!("{}: {mix:?}", task.name));
            }
        }
    }
    None
}

/// What a book gets wrong of the steps that it is made of.
fn unlike_steps(together: &Together, orders: &[Ordered]) -> Option<String> {
    let slots = |min: f64| ((min - 1e-6) / SLOT_MIN as f64).ceil() as i32;
    let task_of = |order: usize, group: usize, step: usize| {
        together.meanings.iter().position(|meaning| {
            let whose = meaning.order == order && meaning.what == What::Steps;
            whose && meaning.group == group && meaning.steps.contains(&step)
        })
    };
    for (index, order) in orders.iter().enumerate() {
        for (number, group) in order.groups.iter().enumerate() {
            let steps = &group.steps;
            for (step, told) in steps.steps.iter().enumerate() {
                let Some(task) = task_of(index, number, step) else {
                    let once = matches!(told.kind, work::StepKind::Order | work::StepKind::Approve);
                    if number == 0 || !once {
                        return Some(format!("{} is lost", told.name));
                    }
                    continue;
                };
                let own = told.work_min() * f64::from(group.pieces);
                if together.book.tasks[task].work < slots(own) {
                    return Some(format!("{} is too short", told.name));
                }
                for &before in &told.after {
                    let from = task_of(index, number, before).or(task_of(index, 0, before));
                    let Some(from) = from.filter(|from| *from != task) else { continue };
                    let least = slots(steps.wait_between_min(before, step));
                    let kept =
                        together.book.links.iter().any(|link| {
                            (link.from, link.to) == (from, task) && link.least >= least
                        });
                    if !kept {
                        let earlier = &steps.steps[before].name;
                        return Some(format!("{} does not wait for {earlier}", told.name));
                    }
                }
            }
        }
    }
    None
}

proptest! {
    #![proptest_config(ProptestConfig { cases: 48, failure_persistence: None, ..ProptestConfig::default() })]

    #[test]
    fn the_book_of_any_example_can_be_kept_and_has_the_gaps_of_its_steps(
        which in prop::collection::vec(0..7_usize, 1..3),
        quantity in 1..6_u32,
        spindles in 1..5_u16,
        racks in prop::option::of(1..9_u16),
        stretches in [(0..20_u32, 2..9_u32), (0..20_u32, 2..9_u32)],
    ) {
        let racks = racks.map_or(String::new(), |racks| format!("racks = {racks}\n"));
        let stretches = stretches.map(|(from, length)| (from, length.min(24 - from).max(2)));
        let hours = hours_with(&format!("spindles = {spindles}\n{racks}"), &makers(&stretches));
        let mut orders = Vec::new();
        for (number, which) in which.into_iter().enumerate() {
            let order = ordered(&EXAMPLES[which], quantity, &hours);
            let Ok(mut order) = order else { return Err(TestCaseError::fail(format!("{order:?}"))) };
            order.name = format!("{}-{number}", order.name);
            prop_assert_eq!(order.groups.iter().map(|group| group.pieces).sum::<u32>(), quantity);
            orders.push(order);
        }
        let together = plan_book(&hours, &STUDIO, &orders, None);
        let together = together.map_err(|errors| TestCaseError::fail(format!("{errors:?}")))?;
        prop_assert_eq!(conflict(&together.book), None);
        prop_assert_eq!(unlike_steps(&together, &orders), None);
        prop_assert_eq!(together.meanings.len(), together.book.tasks.len());
    }
}
