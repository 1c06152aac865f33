//! From a plan back to days and clock times: what the timetable says is what the book asked.

use crate::support::{EXAMPLES, STUDIO, hours_with, ordered};
use jiff::Timestamp;
use schedule::{Effort, Plan, solve};
use std::sync::LazyLock;
use work::StepKind;
use work::rota::{Rota, RotaSitting};
use work::together::{Ordered, Together, plan_book, rota};

const MORE: &str = "begin = 2027-03-22\nspindles = 3\nracks = 8\n\n[post]\nmonday = \"16:30\"\n\
    tuesday = \"16:30\"\nwednesday = \"16:30\"\nthursday = \"16:30\"\nfriday = \"16:30\"\n";

const MAKERS: &str = "[[maker]]\nname = \"Sedge\"\n[maker.hours]\n\
    monday = [\"09:00-12:30\", \"13:30-17:00\"]\ntuesday = [\"09:00-12:30\", \"13:30-17:00\"]\n\
    wednesday = [\"09:00-12:30\", \"13:30-17:00\"]\nthursday = [\"09:00-12:30\"]\n\
    [[maker]]\nname = \"Rush\"\ndoes = [\"set\", \"film\", \"sand\", \"finish\", \"pack\"]\n\
    [maker.hours]\ntuesday = [\"18:00-21:00\"]\nsaturday = [\"10:00-13:00\"]\n";

/// Everything about a plan.
struct Planned {
    together: Together,
    orders: Vec<Ordered>,
    plan: Plan,
    rota: Rota,
}

/// All examples together over the night in which the clocks are put forward, planned in a few rounds.
static PLANNED: LazyLock<Planned> = LazyLock::new(|| {
    let hours = hours_with(MORE, MAKERS);
    let orders: Vec<Ordered> = EXAMPLES
        .iter()
        .map(|example| ordered(example, example.piece.quantity, &hours).expect("groups"))
        .collect();
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    let mut going = |so_far: &schedule::Progress| f64::from(so_far.round) / 3.0;
    let plan = solve(&together.book, &Effort::default(), &mut going).expect("a plan");
    let rota = rota(&together, &orders, &plan);
    Planned { together, orders, plan, rota }
});

fn minutes(from: Timestamp, to: Timestamp) -> f64 {
    (to.as_second() - from.as_second()) as f64 / 60.0
}

#[test]
fn nobody_works_twice_at_a_time_or_outside_her_hours() {
    let rota = &PLANNED.rota;
    for (index, maker) in rota.makers.iter().enumerate() {
        let mut own: Vec<&RotaSitting> =
            rota.sittings.iter().filter(|sitting| sitting.maker == Some(index)).collect();
        assert!(!own.is_empty(), "{} has nothing to do", maker.name);
        own.sort_by_key(|sitting| sitting.at);
        for sitting in &own {
            let inside =
                maker.open.iter().any(|(from, to)| *from <= sitting.at.0 && sitting.at.1 <= *to);
            assert!(inside, "{}: {} at {:?}", maker.name, sitting.step, sitting.at);
        }
        for pair in own.windows(2) {
            // While one mix is watched, the next pour of it may begin.
            let shares = pair[0].mix.is_some() && pair[0].mix == pair[1].mix;
            assert!(shares || pair[0].at.1 <= pair[1].at.0, "{pair:?}");
        }
    }
}

#[test]
fn each_step_has_its_hands_and_waits_for_those_before_it_in_real_time() {
    let Planned { orders, rota, .. } = &*PLANNED;
    let of = |order: usize, group: u32, name: &str| -> Vec<&RotaSitting> {
        let mine = rota.sittings.iter().filter(|sitting| {
            sitting.order == order && sitting.group.0 == group && sitting.step == name
        });
        mine.collect()
    };
    for (index, order) in orders.iter().enumerate() {
        for (number, group) in (1..).zip(&order.groups) {
            for (step, told) in group.steps.steps.iter().enumerate() {
                let own = of(index, number, &told.name);
                if own.is_empty() {
                    assert!(number > 1, "{} is nowhere", told.name);
                    continue;
                }
                let spent: f64 =
                    own.iter().map(|sitting| minutes(sitting.at.0, sitting.at.1)).sum();
                let needs = told.work_min() * f64::from(group.pieces) + told.set_up_min;
                let saved = if own[0].mix.is_some() { 6.0 } else { 0.0 };
                assert!(spent + saved + 1e-6 >= needs, "{}: {spent} of {needs} min", told.name);
                let begins = own.iter().map(|sitting| sitting.at.0).min().expect("not empty");
                for &before in &told.after {
                    let earlier = &group.steps.steps[before];
                    let ended = of(index, number, &earlier.name).iter().map(|one| one.at.1).max();
                    let Some(ended) = ended else { continue };
                    let least = group.steps.wait_between_min(before, step);
                    // Of pours from one mix the next begins while the one before is watched.
                    let waited = minutes(ended, begins);
                    assert!(
                        waited + 1e-6 >= least,
                        "{} {waited} of {least} min after {}",
                        told.name,
                        earlier.name
                    );
                }
            }
        }
    }
}

/// From when to when which spindle turns, and what: order, group and part.
type Turn = (Timestamp, Timestamp, u32, (usize, u32, Option<String>));

#[test]
fn no_spindle_turns_two_things_and_numbers_stay_within_their_count() {
    let rota = &PLANNED.rota;
    let (_, spindles) = rota.machines[0];
    let mut turns: Vec<Turn> = Vec::new();
    for sitting in &rota.sittings {
        let Some((numbers, until)) = &sitting.turning else { continue };
        assert_eq!(numbers.len(), sitting.pieces as usize, "{}", sitting.step);
        for &number in numbers {
            assert!((1..=u32::from(spindles)).contains(&number), "{number}");
            let thing = (sitting.order, sitting.group.0, sitting.part.clone());
            turns.push((sitting.at.0, *until, number, thing));
        }
    }
    assert!(turns.len() > 6, "{turns:?}");
    for (index, one) in turns.iter().enumerate() {
        for other in &turns[index + 1..] {
            let apart = one.1 <= other.0 || other.1 <= one.0;
            assert!(one.2 != other.2 || apart || one.3 == other.3, "{one:?} {other:?}");
        }
    }
}

#[test]
fn an_order_leaves_with_the_post_after_its_last_step() {
    let Planned { rota, .. } = &*PLANNED;
    for (index, order) in rota.orders.iter().enumerate() {
        let last =
            rota.sittings.iter().filter(|sitting| sitting.order == index).map(|one| one.at.1);
        assert_eq!(Some(order.done), last.max(), "{}", order.name);
        let leaves = rota.zone.to_datetime(order.leaves);
        assert_eq!((leaves.hour(), leaves.minute()), (16, 30), "{}", order.name);
        assert!(
            order.leaves >= order.done && minutes(order.done, order.leaves) <= 3.0 * 1440.0 + 60.0
        );
    }
}

#[test]
fn dangerous_steps_keep_their_instructions_and_cautions_and_shared_mixes_say_what_to_weigh() {
    let Planned { rota, plan, together, .. } = &*PLANNED;
    for sitting in &rota.sittings {
        assert!(!sitting.how.is_empty(), "{}", sitting.step);
        assert!(!sitting.why.is_empty(), "{}", sitting.step);
        if !matches!(sitting.kind, StepKind::Order | StepKind::Approve) {
            let cautions = sitting.cautions.join(" ");
            assert!(cautions.contains("safety data sheet"), "{}", sitting.step);
        }
        let text = sitting.how.join(" ");
        assert_eq!(sitting.mix.is_some(), text.contains("serves"), "{}", sitting.step);
    }
    let placed = plan.tasks.iter().flatten();
    assert_eq!(
        placed.filter(|one| one.mix.is_some()).count() > 0,
        together.book.tasks.iter().any(|task| task.mix.is_some())
    );
}

#[test]
fn the_sentences_on_quality_say_what_they_rest_on() {
    let rota = &PLANNED.rota;
    let text = rota.quality.join(" ");
    assert!(text.contains("This rests on"), "{text}");
    let late =
        rota.orders.iter().filter(|order| order.leave_by.is_some_and(|by| order.leaves > by));
    assert_eq!(late.count() == 0, text.contains("Every order leaves in time"), "{text}");
}
