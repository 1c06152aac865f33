//! Which pours may share a mix, and recoat windows with the sanding that makes up for them.

use crate::support::{STUDIO, book, hours, hours_with, named, ordered};
use coats::Matter;
use coats::pot::{Filling, pot};
use work::StepKind;
use work::together::{What, plan_book};

#[test]
fn a_shared_mix_stays_cool_and_thin_for_as_long_as_it_stands() {
    let (together, orders) = book("heron-low-tide", &hours(""));
    let mixes: Vec<_> = together.book.tasks.iter().filter_map(|task| task.mix).collect();
    assert!(!mixes.is_empty());
    let pours = orders[0].coats.pours.as_ref().expect("it is poured");
    let fitted = &pours.calibration;
    let density = STUDIO.resin.density_mixed_g_per_ml();
    for mix in mixes {
        // The same cup followed by the heat balance of the pot, not by the search for masses.
        let mass_g = f64::from(mix.most) / 10.0 * density;
        let found = pot(&fitted.likely, &fitted.sheet, Filling::usual(mass_g), &|_| 24.0)
            .expect("it can be followed");
        let thin_min = found.doubled_min.expect("it thickens");
        let stands_min = f64::from(mix.stands * 5);
        assert!(6.0 + stands_min <= thin_min, "{stands_min} of {thin_min} min");
        // Two pours of 20 min, stirred once in 6 min (a seller's guide).
        assert!(stands_min + 5.0 >= 2.0 * 20.0 - 6.0, "{stands_min}");
        assert_eq!((mix.stir, mix.watch), (1, 2), "6 min down, 10 min");
        assert!(pours.runaway_g.is_none_or(|runaway_g| mass_g <= runaway_g));
    }
}

#[test]
fn what_a_pour_takes_of_a_mix_is_all_that_is_mixed_for_it() {
    let (together, orders) = book("heron-low-tide", &hours(""));
    let order = &orders[0];
    for (task, meaning) in together.book.tasks.iter().zip(&together.meanings) {
        let Some(mix) = task.mix else { continue };
        let coat = order.groups[0].steps.steps[meaning.steps.start].coat.expect("a pour");
        let Matter::Resin(poured) = order.coats.coats[coat].matter else { panic!("resin") };
        let tenths = poured.mixed_ml() * 10.0;
        assert!((tenths..tenths + 1.0).contains(&f64::from(mix.amount)), "{tenths} {mix:?}");
    }
}

#[test]
fn a_recoat_window_runs_from_the_piece_that_was_poured_first() {
    // The demo sheet: the next coat 4 to 8 h after a pour; the watch of 10 min is part of the step. In
    // a pair the second cup is poured 20 min after the first.
    let hours = hours("spindles = 2");
    let orders = [ordered(named("heron-low-tide"), 2, &hours).expect("groups")];
    let together = plan_book(&hours, &STUDIO, &orders, None).expect("a book");
    assert_eq!(orders[0].groups[0].pieces, 2);
    let windows: Vec<_> = together.book.links.iter().filter(|link| link.relief.is_some()).collect();
    assert!(!windows.is_empty());
    for link in windows {
        assert_eq!(link.least * 5, 240 - 10);
        assert_eq!(link.most.map(|most| most * 5), Some(480 - 10 - 20));
        let relief = link.relief.expect("filtered");
        assert_eq!(relief.before * 5, 24 * 60 - 10, "hard at 24 h");
        let sanding = &together.book.tasks[relief.task];
        assert!(sanding.optional && sanding.name.contains("Sand"), "{}", sanding.name);
        assert_eq!(sanding.work * 5, 2 * 20, "20 min for each");
        assert_eq!(together.meanings[relief.task].what, What::SandFirst);
        assert_eq!(together.meanings[relief.task].steps, together.meanings[link.to].steps);
    }
}

#[test]
fn where_nobody_sands_between_coats_windows_must_be_kept() {
    // Sanding before stones and film is left to nobody either, so a piece without both is looked at.
    let makers = "[[maker]]\nname = \"Sedge\"\n\
        does = [\"order\", \"prepare\", \"mask\", \"paint\", \"glitter\", \"pour\", \"film\", \
        \"approve\", \"set\", \"finish\", \"pack\"]\n[maker.hours]\nmonday = [\"09:00-21:00\"]\n";
    let hours = hours_with("", makers);
    let example = named("heron-low-tide");
    let told = crate::support::refused(example.name, 1, &hours, None);
    assert_eq!(told[0].message, "nobody does `sand`");
    assert!(told[0].hints[0].contains("`does`"));
}

#[test]
fn a_pour_with_glitter_in_it_is_one_task_and_turns_until_the_last_is_still() {
    let mut found = 0;
    for example in crate::support::EXAMPLES.iter() {
        let (together, orders) = book(example.name, &hours("spindles = 4"));
        for (task, meaning) in together.book.tasks.iter().zip(&together.meanings) {
            let group = &orders[0].groups[meaning.group];
            let steps = &group.steps.steps[meaning.steps.clone()];
            if steps.len() < 2 || meaning.what != What::Steps {
                continue;
            }
            found += 1;
            assert_eq!((steps[0].kind, steps[1].kind), (StepKind::Pour, StepKind::Glitter));
            // 20 min to pour and 20 min to sprinkle a piece, and 10 min to watch, in the demo studio;
            // it turns for 6 h after the pour.
            let pieces = group.pieces as i32;
            assert_eq!(task.work * 5, 40 * pieces + 10);
            let turns = task.uses.iter().find(|used| used.machine == 0).expect("it turns");
            assert_eq!((turns.from, turns.length * 5), (0, 40 * pieces + 360));
        }
    }
    assert!(found > 0, "no example has glitter in a pour");
}
