//! Published instances of job shops and projects reach their published optimum.
//!
//! Sources of the instances and optima: `published/README.md`.

#[path = "published/reading.rs"]
mod reading;

use reading::{Published, published};
use schedule::{Book, Conflict, Exact, Plan, exact};

/// How often each search may be asked whether to go on: steps, so that the test is the same on every
/// machine.
const ASKED: usize = 700;

fn solved(book: &Book) -> Result<Exact, Conflict> {
    let mut asked = 0;
    exact(book, None, &mut |_| {
        asked += 1;
        asked < ASKED
    })
}

/// Every gap and capacity, counted slot by slot: none of it with the code under test.
fn keeps_to(book: &Book, plan: &Plan) {
    let placed: Vec<_> =
        plan.tasks.iter().map(|placed| placed.as_ref().expect("every task is placed")).collect();
    for (task, placed) in book.tasks.iter().zip(&placed) {
        assert_eq!(placed.stretches.len(), 1, "{} is in one piece", task.name);
        assert_eq!(placed.ends() - placed.begins(), task.work, "{}", task.name);
        assert!(placed.begins() >= 0 && placed.ends() <= book.horizon, "{}", task.name);
    }
    for link in &book.links {
        let gap = placed[link.to].begins() - placed[link.from].ends();
        assert!(gap >= link.least && link.most.is_none_or(|most| gap <= most), "{link:?}: {gap}");
    }
    for (at, machine) in book.machines.iter().enumerate() {
        for slot in 0..book.horizon {
            let used = book.tasks.iter().zip(&placed).flat_map(|(task, placed)| {
                let running = task.uses.iter().filter(move |used| {
                    let from = placed.begins() + used.from;
                    used.machine == at && (from..from + used.length).contains(&slot)
                });
                running.map(|used| u32::from(used.amount))
            });
            assert!(used.sum::<u32>() <= u32::from(machine.capacity), "{} at {slot}", machine.name);
        }
    }
}

fn reaches_its_optimum(instance: &Published) {
    let Published { name, book, optimum } = instance;
    match (solved(book), optimum) {
        (Ok(found), Some(optimum)) => {
            let plan = found.plan.as_ref().unwrap_or_else(|| panic!("{name} has a plan"));
            keeps_to(book, plan);
            let last = plan.tasks.iter().flatten().map(|placed| placed.ends()).max();
            assert_eq!(last, i32::try_from(plan.cost.finishes).ok(), "{name}");
            assert_eq!(plan.cost.finishes, *optimum, "{name}");
            assert!(found.bound.finishes <= *optimum, "{name}: {:?}", found.bound);
            // That of this one takes longer than a test should.
            assert!(found.proven || *name == "j3013_1", "{name} is proved");
        }
        (Err(conflict), None) => assert!(!conflict.to_string().is_empty()),
        (Ok(found), None) => panic!("{name} has no plan, but was given {:?}", found.plan),
        (Err(conflict), Some(_)) => panic!("{name} has a plan, but: {conflict}"),
    }
}

#[test]
fn job_shops_reach_their_optimum() {
    published().iter().filter(|one| one.name.len() == 4).for_each(reaches_its_optimum);
}

#[test]
fn projects_reach_their_optimum() {
    let plain = |one: &&Published| one.name.starts_with("j30") && !one.name.contains("psp");
    assert_eq!(published().iter().filter(plain).count(), 12);
    published().iter().filter(plain).for_each(reaches_its_optimum);
}

#[test]
fn projects_with_greatest_gaps_reach_their_optimum_or_are_told_to_have_none() {
    let lags = |one: &&Published| one.name.contains("psp") || one.name.starts_with("UBO");
    assert_eq!(published().iter().filter(lags).count(), 19);
    published().iter().filter(lags).for_each(reaches_its_optimum);
}

#[test]
fn the_same_steps_give_the_same_plan() {
    let all = published();
    let shop = all.iter().find(|one| one.name == "ft06").expect("ft06");
    assert_eq!(solved(&shop.book), solved(&shop.book));
}
