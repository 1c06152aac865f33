//! Each rule broken once.

use crate::checker::{cost, faults};
use crate::right::{
    DONE, DRY, FEW_STONES, POUR, PREPARE, RECOAT, SAND, SECOND_POUR, STONES, book, placed, plan,
};
use schedule::{Book, Cost, Plan, Slot};

/// The right plan, changed; the checker has to say this, and the cost is right again.
fn caught(says: &str, change: impl FnOnce(&mut Book, &mut Plan)) {
    let (mut book, mut plan) = (book(), plan());
    change(&mut book, &mut plan);
    plan.cost = cost(&book, &plan);
    let found = faults(&book, &plan);
    assert!(found.iter().any(|fault| fault.contains(says)), "not said: {says}; said: {found:?}");
}

/// The same, with one task elsewhere.
fn moved(says: &str, task: usize, person: Option<usize>, stretches: &[(Slot, Slot)]) {
    caught(says, |_, plan| {
        let mix = plan.tasks[task].as_ref().and_then(|placed| placed.mix);
        plan.tasks[task] = Some(placed(person, stretches, mix));
    });
}

#[test]
fn tasks_are_there_and_may_be_done_so() {
    caught("8 places for 9 tasks", |_, plan| plan.tasks.truncate(8));
    caught("dry is not there", |_, plan| plan.tasks[DRY] = None);
    caught("done is fixed and not there", |_, plan| plan.tasks[DONE] = None);
    moved("done is fixed and stands elsewhere", DONE, Some(0), &[(1, 3)]);
    moved("pour is done by nobody", POUR, None, &[(8, 14)]);
    moved("pour may not be done by 1", POUR, Some(1), &[(8, 14)]);
    moved("dry needs nobody", DRY, Some(1), &[(60, 63)]);
    moved("prepare begins at 2, before 3", PREPARE, Some(0), &[(2, 6)]);
    moved("dry ends at 101, past the horizon 100", DRY, None, &[(98, 101)]);
}

#[test]
fn tasks_take_as_long_as_they_take() {
    moved("prepare takes [5]", PREPARE, Some(0), &[(3, 8)]);
    moved("prepare takes [1, 3]", PREPARE, Some(0), &[(3, 4), (5, 8)]);
    moved("prepare has stretches out of order", PREPARE, Some(0), &[(5, 8), (3, 4)]);
    moved("prepare has no stretch", PREPARE, Some(0), &[]);
    // Stirring is saved only by the second of a mix.
    moved("recoat takes [5], not [6]", RECOAT, Some(0), &[(43, 48)]);
    moved("second pour takes [6], not [5]", SECOND_POUR, Some(0), &[(12, 18)]);
}

#[test]
fn sittings_are_neither_too_long_nor_too_short() {
    moved("does 19 of 20", STONES, Some(1), &[(0, 12), (15, 26)]);
    moved("a sitting of 13, above 12", STONES, Some(1), &[(0, 13), (16, 27)]);
    moved("a sitting of 5, below 6", STONES, Some(1), &[(0, 7), (10, 22), (25, 32)]);
    moved("nothing but set-up", STONES, Some(1), &[(0, 12), (15, 27), (30, 32)]);
    moved("stones follows at 14 too soon on stones", STONES, Some(1), &[(0, 12), (14, 26)]);
    moved("few stones follows at 29 too soon on stones", FEW_STONES, Some(1), &[(29, 37)]);
}

#[test]
fn people_are_there_and_do_one_thing_at_a_time() {
    moved("Samphire is not there at 50 for recoat", RECOAT, Some(0), &[(45, 51)]);
    moved("Sedge does at 26 at once: sand, stones", SAND, Some(1), &[(26, 28)]);
    // Work of another mix may not fill the time of watching, nor may other work.
    caught("Samphire does at 12 at once", |_, plan| {
        plan.tasks[SECOND_POUR] = Some(placed(Some(0), &[(12, 18)], Some(1)));
        plan.tasks[RECOAT] = Some(placed(Some(0), &[(43, 49)], Some(2)));
    });
    caught("Samphire does at 7 at once: prepare, done", |book, plan| {
        let done = Some(placed(Some(0), &[(7, 8)], None));
        plan.tasks[DONE].clone_from(&done);
        book.tasks[DONE].fixed = done;
    });
    // More than the watch of the first.
    moved("Samphire does at 11 at once", SECOND_POUR, Some(0), &[(11, 16)]);
}

#[test]
fn machines_have_room() {
    caught("no spindle at 12 for pour", |book, _| book.machines[0].capacity = 1);
    caught("no spindle at 43 for recoat", |book, _| book.machines[0].outages[0].amount = 2);
    caught("no spindle at 62 for recoat", |book, _| {
        book.tasks[RECOAT].uses[0].from = 10;
        book.machines[0].outages[0] = schedule::Outage { from: 62, to: 70, amount: 9 };
    });
}

#[test]
fn gaps_are_kept() {
    moved("-1 slots between prepare and pour, least 0", PREPARE, Some(1), &[(5, 9)]);
    moved("2 slots between recoat and dry, least 5", DRY, None, &[(51, 54)]);
    moved("21 slots between recoat and dry, most 20", DRY, None, &[(70, 73)]);
    caught("29 slots between pour and recoat, most 8, without sand", |_, plan| {
        plan.tasks[SAND] = None;
    });
    moved("sand is done 19 slots after the first", SAND, Some(1), &[(33, 35)]);
    moved("sand is done 0 slots before the second", SAND, Some(1), &[(41, 43)]);
    moved("3 slots between pour and recoat, least 4", RECOAT, Some(0), &[(17, 23)]);
    caught("sand is done and not called for", |book, _| book.links[1].most = Some(29));
}

#[test]
fn mixes_are_shared_only_where_they_can_be() {
    moved("not back to back", SECOND_POUR, Some(0), &[(14, 19)]);
    caught("the mix stands 6 slots, most 5", |book, _| {
        book.tasks[SECOND_POUR].mix.as_mut().expect("a mix").stands = 5;
    });
    caught("40 is taken, most 39", |book, _| {
        book.tasks[POUR].mix.as_mut().expect("a mix").most = 39;
    });
    caught("of different kinds", |book, _| {
        book.tasks[POUR].mix.as_mut().expect("a mix").kind = 2;
    });
    caught("by different people", |book, plan| {
        book.tasks[SECOND_POUR].hands.push(1);
        plan.tasks[SECOND_POUR] = Some(placed(Some(1), &[(12, 17)], Some(0)));
    });
    caught("recoat is of no mix", |_, plan| {
        plan.tasks[RECOAT] = Some(placed(Some(0), &[(43, 49)], None));
    });
    caught("one has nothing to mix", |_, plan| {
        plan.tasks[DRY] = Some(placed(None, &[(60, 63)], Some(2)));
    });
    caught("mix 7 at 43 is not numbered in order of time", |_, plan| {
        plan.tasks[RECOAT] = Some(placed(Some(0), &[(43, 49)], Some(7)));
    });
}

#[test]
fn the_cost_is_reckoned_anew() {
    let wrong = [
        Cost { late: 19, ..plan().cost },
        Cost { extras: 2, ..plan().cost },
        Cost { finishes: 111, ..plan().cost },
    ];
    for cost in wrong {
        let found = faults(&book(), &Plan { cost, ..plan() });
        assert!(found.iter().any(|fault| fault.starts_with("the cost is")), "{cost:?}: {found:?}");
    }
    let bound = Cost { late: 21, ..Cost::default() };
    let found = faults(&book(), &Plan { bound, ..plan() });
    assert!(found.iter().any(|fault| fault.contains("above the cost")), "{found:?}");
}
