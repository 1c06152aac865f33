//! How many pieces are made at a time.

use crate::support::{STUDIO, hours, hours_with, named, ordered, refused};
use work::StepKind;
use work::together::{What, plan_book};

fn sizes(name: &str, quantity: u32, more: &str) -> Vec<u32> {
    let order = ordered(named(name), quantity, &hours(more)).expect("groups");
    order.groups.iter().map(|group| group.pieces).collect()
}

#[test]
fn no_group_is_larger_than_the_spindles_or_racks() {
    assert_eq!(sizes("regatta-pair", 2, "spindles = 2"), [2]);
    assert_eq!(sizes("regatta-pair", 2, "spindles = 1"), [1, 1]);
    assert_eq!(sizes("regatta-pair", 5, "spindles = 2"), [2, 2, 1]);
    assert_eq!(sizes("regatta-pair", 7, "spindles = 3"), [3, 2, 2]);
    assert_eq!(sizes("regatta-pair", 4, "spindles = 9\nracks = 2"), [2, 2]);
}

#[test]
fn flat_toppers_need_no_spindle() {
    assert_eq!(sizes("tern-topper", 3, "spindles = 0"), [3]);
}

#[test]
fn a_group_fits_into_one_stretch_of_hours() {
    // The longest step without a pause is a pour with its watch: 20 min a piece and 10 min (the demo
    // studio); with glitter in it 40 min a piece.
    let short = "[[maker]]\nname = \"Sedge\"\n[maker.hours]\nmonday = [\"18:00-19:30\"]\n";
    let hours = hours_with("spindles = 9", short);
    let order = ordered(named("regatta-pair"), 8, &hours).expect("groups");
    let longest = |pieces: f64| -> f64 {
        let steps = &order.groups[0].steps.steps;
        let mut longest: f64 = 0.0;
        let mut run = 0.0;
        for step in steps.iter().filter(|step| step.sitting_min.is_none()) {
            let min = step.work_min() * pieces + step.set_up_min;
            run = if step.at_once { run + min } else { min };
            if !step.kind.may_pause() {
                longest = longest.max(run);
            }
        }
        longest
    };
    let size = f64::from(order.groups[0].pieces);
    assert!(longest(size) <= 90.0 && longest(size + 1.0) > 90.0, "{size}: {}", longest(size));
}

#[test]
fn what_is_not_about_the_pieces_is_done_once() {
    let hours = hours("spindles = 1");
    let orders = [ordered(named("regatta-pair"), 3, &hours).expect("groups")];
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    let count = |kind: StepKind| {
        let of_kind = together.meanings.iter().filter(|meaning| {
            let steps = &orders[meaning.order].groups[meaning.group].steps.steps;
            meaning.what == What::Steps && steps[meaning.steps.start].kind == kind
        });
        of_kind.count()
    };
    assert_eq!((count(StepKind::Order), count(StepKind::Approve)), (1, 1));
    assert_eq!(count(StepKind::Pack), 3);
}

#[test]
fn no_spindle_and_no_rack_for_what_is_poured_is_told() {
    let told = refused("samphire-bottle", 1, &hours("spindles = 0"), None);
    assert_eq!(
        told[0].message,
        "`spindles` is 0, but `Samphire in September` is poured and has to turn"
    );
    assert_eq!(told[0].path.0, "spindles");
    let told = refused("samphire-bottle", 1, &hours("racks = 0"), None);
    assert_eq!(told[0].message, "`racks` is 0, but `Samphire in September` has to stand and dry");
}

#[test]
fn hours_too_short_for_a_pour_are_told() {
    let short = "[[maker]]\nname = \"Sedge\"\n[maker.hours]\nmonday = [\"18:00-18:25\"]\n";
    let told = refused("samphire-bottle", 1, &hours_with("", short), None);
    assert!(
        told[0].message.contains(
            "without a break, and the longest stretch of hours of those who do it is 25 min"
        ),
        "{told:?}"
    );
}
