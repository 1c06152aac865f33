//! The steps: their order, their waits, what they say.

use crate::bench::{FILM, GLITTER, PAINT, RESIN, RESIN_3, STONES, Trial, full};
use coats::Matter;
use piece::Settings;
use work::{StepKind, Steps, plan_steps};

fn planned(trial: &Trial, stones: usize) -> Steps {
    let settings = Settings::demo();
    plan_steps(&trial.piece, &settings, &trial.coats(&settings), &trial.stones(stones))
}

fn kinds(steps: &Steps, part: usize) -> Vec<StepKind> {
    steps.steps.iter().filter(|step| step.part == Some(part)).map(|step| step.kind).collect()
}

/// Index of the first step with this text in its name.
fn named(steps: &Steps, text: &str) -> usize {
    steps
        .steps
        .iter()
        .position(|step| step.name.contains(text))
        .unwrap_or_else(|| panic!("no step {text}"))
}

/// Every step that must be done before this one.
fn before(steps: &Steps, step: usize) -> Vec<usize> {
    let mut all: Vec<usize> = Vec::new();
    let mut open = vec![step];
    while let Some(next) = open.pop() {
        for &earlier in &steps.steps[next].after {
            if !all.contains(&earlier) {
                all.push(earlier);
                open.push(earlier);
            }
        }
    }
    all
}

#[test]
fn steps_come_after_what_they_wait_for_and_waits_belong_to_it() {
    let steps = planned(&full(), 100);
    for (index, step) in steps.steps.iter().enumerate() {
        assert!(step.after.iter().all(|&earlier| earlier < index), "{}", step.name);
        assert!(
            step.other_waits.iter().all(|(earlier, _)| step.after.contains(earlier)),
            "{}",
            step.name
        );
        assert!(index == 0 || !step.after.is_empty(), "{} waits for nothing", step.name);
    }
    let last = steps.steps.len() - 1;
    assert_eq!(steps.steps[last].kind, StepKind::Pack);
    assert_eq!(before(&steps, last).len(), last, "packing is after everything");
}

#[test]
fn a_full_stack_is_worked_in_the_order_of_the_trade() {
    use StepKind::{Film, Glitter, Mask, Paint, Pour, Prepare, Sand, Set};
    let steps = planned(&full(), 100);
    assert_eq!(
        kinds(&steps, 0),
        [Prepare, Mask, Paint, Paint, Pour, Glitter, Pour, Pour, Pour, Sand, Film, Pour, Sand, Set]
    );
    assert_eq!(kinds(&steps, 1), [Prepare, Mask, Paint, Paint, Pour, Pour, Pour, Sand, Set]);
    assert_eq!(kinds(&steps, 2), [Prepare, Mask, Pour, Sand, Set]);
}

#[test]
fn parts_do_not_wait_for_each_other_before_the_customer_is_asked() {
    let steps = planned(&full(), 100);
    for (index, step) in steps.steps.iter().enumerate() {
        let Some(part) = step.part else { continue };
        let earlier = before(&steps, index);
        let asked = earlier.iter().any(|&other| steps.steps[other].kind == StepKind::Approve);
        let others =
            earlier.iter().filter(|&&other| steps.steps[other].part.is_some_and(|p| p != part));
        assert!(asked || others.count() == 0, "{} waits for another part", step.name);
    }
    // A topper with nothing to show is never held up by the question.
    let topper = named(&steps, "stones on topper");
    assert!(
        before(&steps, topper).iter().all(|&other| steps.steps[other].kind != StepKind::Approve)
    );
}

#[test]
fn the_customer_is_asked_before_the_sealing_coat_and_before_the_stones() {
    // Shops: a photo before the sealing coat, nothing can change after it.
    let steps = planned(&full(), 100);
    let asked = named(&steps, "Ask");
    for after in ["(seal)", "stones on body", "stones on lid", "(lid-clear)"] {
        assert!(before(&steps, named(&steps, after)).contains(&asked), "{after}");
    }
    assert!(before(&steps, asked).contains(&named(&steps, "film on body")));
    let bare = planned(&Trial::new(&[("lid", "all", STONES)]), 50);
    let asked = named(&bare, "Ask");
    assert_eq!(
        bare.steps[asked].after,
        [0],
        "with nothing painted, the picture of the plan is sent at once"
    );
    assert!(before(&bare, named(&bare, "stones on lid")).contains(&asked));
}

#[test]
fn waits_are_those_of_the_data_sheet_and_the_shops() {
    // Demo sheet: next coat 4 to 8 h, hard at 24 h, full cure 72 h, all from the end of the pour; the
    // watch of 10 min is part of the step. A shop: hand over 72 h after the last step.
    let settings = Settings::demo();
    let watch = settings.times.watch_min;
    let steps = planned(&full(), 100);
    let second = named(&steps, "Pour coat 2 of 3 on body");
    let (first, third) = (second - 1, second + 1);
    assert_eq!(steps.wait_between_min(first, second), 240.0 - watch);
    assert_eq!(steps.steps[first].sand_after_min, Some(480.0 - watch));
    let sand = named(&steps, "Sand body before film");
    // Makers: film about 12 h after a coat; here the coat must be hard enough to sand first.
    assert_eq!(steps.wait_between_min(third, sand), (24.0 * 60.0_f64).max(720.0) - watch);
    let pack = steps.steps.len() - 1;
    for pour in ["(seal)", "Pour coat 3 of 3 on lid", "(topper-clear)"] {
        assert_eq!(
            steps.wait_between_min(named(&steps, pour), pack),
            72.0 * 60.0 - watch,
            "{pour}"
        );
    }
    // A maker tried 2 h over glitter (it slid) and 6 h (it held).
    let glitter = named(&steps, "Glitter");
    assert!(steps.steps[glitter].at_once && steps.steps[glitter].after == [glitter - 1]);
    assert_eq!(steps.wait_between_min(glitter, glitter + 1), 360.0 - watch);
    // Glue: 24 to 72 h; the demo takes 72 before the piece is handled.
    let finish = named(&steps, "Check");
    assert_eq!(steps.wait_between_min(named(&steps, "stones on body"), finish), 72.0 * 60.0);
}

#[test]
fn a_soft_quick_resin_still_waits_twelve_hours_before_film() {
    let trial = Trial::new(&[("body", "clear", RESIN), ("body", "sash", FILM)]);
    let mut settings = Settings::demo();
    settings.resin.sandable_min = 300.0;
    let steps = plan_steps(&trial.piece, &settings, &trial.coats(&settings), &trial.stones(0));
    let sand = named(&steps, "Sand");
    assert_eq!(steps.wait_between_min(sand - 1, sand) + settings.times.watch_min, 720.0);
}

#[test]
fn setting_a_full_cup_takes_what_makers_say() {
    // A maker: 8 to 10 h for one cup of 2,000 to 3,000 stones; sittings of 1 to 3 h.
    let trial = Trial::new(&[("body", "tide", STONES)]);
    let steps = planned(&trial, 2750);
    let set = &steps.steps[named(&steps, "Set 2750")];
    let hours = set.hands_on_min / 60.0;
    assert!((8.0..=10.0).contains(&hours), "{hours} h");
    assert!(set.hands_on_min / f64::from(set.sittings()) <= 180.0);
    assert!(
        (set.work_min() - 2750.0 / 320.0 * 60.0).abs() < 1e-6,
        "320 an hour in the demo settings"
    );
    assert!((set.hands_on_for_min(1) - set.hands_on_min).abs() < 1e-6);
}

#[test]
fn the_sentences_carry_the_figures() {
    let (trial, settings) = (full(), Settings::demo());
    let coats = trial.coats(&settings);
    let steps = plan_steps(&trial.piece, &settings, &coats, &trial.stones(137));
    for step in &steps.steps {
        let how = step.how.join(" ");
        assert!(!how.is_empty() && !how.contains("NaN"), "{}", step.name);
        match step.coat.map(|coat| &coats.coats[coat].matter) {
            Some(Matter::Resin(mix)) => {
                for figure in [
                    format!("{:.1} g of A", mix.a_g),
                    format!("{:.1} g of B", mix.b_g),
                    format!("{:.1} ml in all", mix.mixed_ml()),
                ] {
                    assert!(how.contains(&figure), "{figure} in {how}");
                }
            }
            Some(Matter::Glitter { .. }) => assert!(how.contains(" g of foam glitter"), "{how}"),
            Some(Matter::Paint { .. }) => assert!(how.contains(" ml on "), "{how}"),
            None => {}
        }
        if step.kind == StepKind::Set {
            assert!(how.contains("137 stones in all: 137 SS10 foam"), "{how}");
        }
    }
    let mask = steps.steps[named(&steps, "Mask body")].how.join(" ");
    assert!(mask.contains("19/32 in (15 mm) from the rim"), "{mask}");
}

#[test]
fn dangerous_steps_carry_cautions_and_send_to_the_safety_data_sheet() {
    let steps = planned(&full(), 10);
    for step in &steps.steps {
        let cautions = step.cautions.join(" ");
        let words: &[&str] = match step.kind {
            StepKind::Pour if step.part == Some(0) => &["gloves", "allergic", "Torch", "lip"],
            StepKind::Pour => &["gloves", "allergic", "Torch"],
            StepKind::Sand => &["dust mask", "wet"],
            StepKind::Prepare => &["dust mask", "no flame"],
            StepKind::Set => &["sharp", "children", "no flame"],
            StepKind::Paint => &["mask", "no flame"],
            StepKind::Pack => &["cured"],
            _ => continue,
        };
        for word in words.iter().chain(&["safety data sheet"]) {
            assert!(cautions.contains(word), "{word} in {cautions}");
        }
    }
    let all: Vec<&String> =
        steps.steps.iter().flat_map(|step| step.how.iter().chain(&step.cautions)).collect();
    assert!(all.iter().all(|text| !text.contains("is food safe")));
}

#[test]
fn glitter_without_a_fresh_coat_is_bedded_in_glue_and_sealed_after_an_hour() {
    // Makers: 30 to 60 min for a layer of brushed glue.
    let trial = Trial::new(&[
        ("body", "ground", PAINT),
        ("body", "shingle", GLITTER),
        ("body", "clear", RESIN_3),
    ]);
    let steps = planned(&trial, 0);
    let glitter = named(&steps, "Glitter");
    assert!(!steps.steps[glitter].at_once);
    assert!(steps.steps[glitter].how.join(" ").contains("glue"));
    assert_eq!(steps.wait_between_min(glitter, named(&steps, "Pour")), 60.0);
}

#[test]
fn each_kind_of_part_is_spoken_of_as_what_it_is() {
    let steps = planned(&full(), 100);
    for step in &steps.steps {
        let Some(part) = step.part else { continue };
        let text = step.how.iter().chain(&step.cautions).cloned().collect::<Vec<_>>().join(" ");
        let foreign: &[&str] = match part {
            0 => &["the lid", "the plate", "level on its back"],
            1 => &["the cup", "rim and foot", "the plate", "the lip"],
            _ => &["the cup", "turning", "rim and foot", "the lip", "the lid"],
        };
        for word in foreign {
            assert!(!text.contains(word), "{word} in {}: {text}", step.name);
        }
        assert!(!text.contains("the whole plate but"), "{text}");
    }
    let plate = Trial::new(&[("topper", "clear", RESIN)]);
    let mut piece = plate.piece.clone();
    piece.parts.retain(|part| part.name == "topper");
    piece.parts[0].seat = None;
    piece.zones[0].part = 0;
    let settings = Settings::demo();
    let mut coats = plate.coats(&settings);
    coats.coats.iter_mut().for_each(|coat| coat.part = 0);
    let steps = plan_steps(&piece, &settings, &coats, &plate.stones(0));
    let finish = &steps.steps[named(&steps, "Check")];
    let text = finish.how.iter().chain(&finish.cautions).cloned().collect::<Vec<_>>().join(" ");
    assert!(!text.contains("cup") && !text.contains("drinks from"), "{text}");
}

#[test]
fn a_wave_is_told_by_where_its_crests_lie_and_traced_from_the_wrap() {
    // Girth of the trial cup: pi x 74 mm = 232.5 mm; four crests are 58.1 mm apart, and 45 degrees
    // are an eighth of it, 29.1 mm.
    let mut trial = Trial::new(&[("body", "tide", PAINT)]);
    let band = trial.piece.zones[0].region.band.as_mut().expect("a band");
    band.from = piece::Edge {
        along_mm: 90.0,
        wave: piece::Wave::Sine,
        amplitude_mm: 4.0,
        count: 4,
        crest_rad: std::f64::consts::FRAC_PI_4,
    };
    let mut settings = Settings::demo();
    settings.lengths = piece::settings::LengthUnit::Millimetres;
    let steps = plan_steps(&trial.piece, &settings, &trial.coats(&settings), &trial.stones(0));
    let text = steps.steps[named(&steps, "Mask body")].how.join(" ");
    assert!(
        text.contains(
            "first crest 45° to the right of the front, 29.1 mm round; 4 crests, 58.1 mm apart"
        ),
        "{text}"
    );
    assert!(text.contains("wrap of the body as a template"), "{text}");
}

#[test]
fn steps_name_the_files_and_pages_they_use() {
    let steps = planned(&full(), 100);
    let film = steps.steps[named(&steps, "film on body")].how.join(" ");
    assert!(film.contains("with cut-reed.svg") && film.contains("the wrap of the body"), "{film}");
    let set = steps.steps[named(&steps, "stones on body")].how.join(" ");
    assert!(set.contains("placement pages of tide"), "{set}");
}

#[test]
fn lengths_keep_to_one_system_with_mm_beside() {
    let (trial, mut settings) = (full(), Settings::demo());
    let texts = |settings: &Settings| {
        let coats = trial.coats(settings);
        let steps = plan_steps(&trial.piece, settings, &coats, &trial.stones(10));
        steps.steps.iter().flat_map(|step| step.how.clone()).collect::<Vec<_>>()
    };
    assert!(texts(&settings).iter().all(|text| !text.contains("cm")), "areas in square inches");
    settings.lengths = piece::settings::LengthUnit::Millimetres;
    assert!(texts(&settings).iter().all(|text| !text.contains(" in (") && !text.contains("in²")));
}

#[test]
fn goods_that_must_be_sent_for_hold_up_the_first_part() {
    let (trial, mut settings) = (full(), Settings::demo());
    settings.times.delivery_days = 5;
    let steps = plan_steps(&trial.piece, &settings, &trial.coats(&settings), &trial.stones(0));
    for (index, step) in steps.steps.iter().enumerate() {
        if step.kind == StepKind::Prepare {
            assert_eq!(steps.wait_between_min(0, index), 5.0 * 24.0 * 60.0);
        }
    }
}
