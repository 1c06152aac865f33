//! The timetable: what must always hold, whatever the hours.

use crate::bench::{FILM, GLITTER, PAINT, RESIN, RESIN_3, STONES, Trial, full};
use jiff::ToSpan;
use jiff::civil::{Date, DateTime, date};
use piece::{Piece, Settings};
use proptest::prelude::*;
use std::sync::LazyLock;
use std::time::{Duration, Instant};
use work::{Sitting, StepKind, Steps, Stopped, Timetable, plan_steps, plan_work};

static TRIALS: LazyLock<Vec<Trial>> = LazyLock::new(|| {
    vec![
        full(),
        Trial::new(&[
            ("body", "ground", PAINT),
            ("body", "clear", RESIN_3),
            ("body", "tide", STONES),
        ]),
        Trial::new(&[
            ("body", "bond", RESIN),
            ("body", "shingle", GLITTER),
            ("body", "clear", RESIN_3),
            ("body", "sash", FILM),
        ]),
        Trial::new(&[("lid", "lid-clear", RESIN_3), ("topper", "topper-stones", STONES)]),
    ]
});

fn minutes(from: DateTime, to: DateTime) -> f64 {
    f64::from(i32::try_from(to.duration_since(from).as_mins()).expect("a few years at most"))
}

fn of_step(table: &Timetable, step: usize) -> Vec<&Sitting> {
    table.sittings.iter().filter(|sitting| sitting.step == step).collect()
}

/// Checks everything that must hold, and says what does not.
fn check(steps: &Steps, settings: &Settings, pieces: u32, table: &Timetable) -> Result<(), String> {
    let told = |what: &str| table.notes.iter().any(|note| note.message.contains(what));
    for pair in table.sittings.windows(2) {
        if pair[0].ends > pair[1].begins {
            return Err(format!("two sittings at once: {pair:?}"));
        }
    }
    for sitting in &table.sittings {
        let midnight = sitting.begins.date().at(0, 0, 0, 0);
        let (from, to) = (minutes(midnight, sitting.begins), minutes(midnight, sitting.ends));
        let hours = settings.maker.hours_on(sitting.begins.weekday());
        let inside =
            hours.iter().any(|&(start, end)| f64::from(start) <= from && to <= f64::from(end));
        if !inside && !told("runs past them") {
            return Err(format!("outside the hours: {sitting:?}"));
        }
        let longest = steps.steps[sitting.step].sitting_min.unwrap_or(f64::INFINITY);
        if minutes(sitting.begins, sitting.ends) > longest + 1.0 {
            return Err(format!("too long at a stretch: {sitting:?}"));
        }
    }
    for (index, step) in steps.steps.iter().enumerate() {
        let own = of_step(table, index);
        let spent: f64 = own.iter().map(|s| minutes(s.begins, s.ends)).sum();
        let least = step.work_min() * f64::from(pieces) + step.set_up_min;
        if own.is_empty() || spent + 0.01 < least {
            return Err(format!("{}: {spent} of {least} min", step.name));
        }
        let begins = own.iter().map(|s| s.begins).min().expect("not empty");
        for &before in &step.after {
            let ended =
                of_step(table, before).iter().map(|s| s.ends).max().ok_or("nothing before")?;
            let waited = minutes(ended, begins);
            if waited < steps.wait_between_min(before, index) && !step.at_once {
                return Err(format!(
                    "{} begins {waited} min after {}",
                    step.name, steps.steps[before].name
                ));
            }
            if step.at_once {
                let pours = of_step(table, before);
                if own.iter().any(|s| pours.iter().all(|pour| pour.ends != s.begins)) {
                    return Err(format!("{} does not follow at once", step.name));
                }
            }
            if let Some(window) = steps.steps[before].sand_after_min {
                let late =
                    own.iter().map(|s| minutes(ended, s.begins)).fold(0.0, f64::max) > window;
                if late {
                    return Err(format!(
                        "{} is poured after the window without sanding",
                        step.name
                    ));
                }
            }
        }
    }
    let last = table.sittings.iter().map(|sitting| sitting.ends).max().ok_or("empty")?;
    if table.ready != last {
        return Err(format!("ready at {}, done at {last}", table.ready));
    }
    Ok(())
}

/// The work on a piece shaped as a trial, with so many stones in each zone of stones.
fn worked(
    trial: &Trial,
    piece: &Piece,
    settings: &Settings,
    stones: usize,
    begin: Option<Date>,
) -> (Steps, Option<Timetable>) {
    let (coats, stones) = (trial.coats(settings), trial.stones(stones));
    plan_work(piece, settings, &coats, &stones, begin, &mut |_| true).expect("nobody stops it")
}

/// The same where there must be a timetable.
fn timed(
    trial: &Trial,
    piece: &Piece,
    settings: &Settings,
    stones: usize,
    begin: Option<Date>,
) -> (Steps, Timetable) {
    let (steps, table) = worked(trial, piece, settings, stones, begin);
    (steps, table.expect("a timetable"))
}

fn of_quantity(trial: &Trial, quantity: u32) -> Piece {
    Piece { quantity, ..trial.piece.clone() }
}

fn every_day(settings: &mut Settings, stretches: &[(u16, u16)]) {
    settings.maker.hours = std::array::from_fn(|_| stretches.to_vec());
}

#[test]
fn a_long_day_keeps_the_window() {
    let trial = &TRIALS[1];
    let mut settings = Settings::demo();
    every_day(&mut settings, &[(8 * 60, 21 * 60)]);
    let (steps, table) = timed(trial, &trial.piece, &settings, 300, Some(date(2027, 3, 1)));
    assert_eq!(check(&steps, &settings, 1, &table), Ok(()));
    let pours: Vec<&Sitting> = table
        .sittings
        .iter()
        .filter(|sitting| steps.steps[sitting.step].kind == StepKind::Pour)
        .collect();
    assert!(pours.windows(2).any(|pair| pair[0].begins.date() == pair[1].begins.date()));
}

#[test]
fn counting_back_finds_the_last_day_that_still_works() {
    let trial = &TRIALS[0];
    let settings = Settings::demo();
    let (steps, table) = timed(trial, &trial.piece, &settings, 800, None);
    let post_by =
        date(2027, 5, 22).checked_sub(i64::from(settings.times.post_days).days()).expect("a date");
    assert_eq!(table.post_by, Some(post_by));
    assert!(table.ready.date() <= post_by);
    assert_eq!(check(&steps, &settings, 1, &table), Ok(()));
    let begun = table.sittings[0].begins.date();
    let later = begun.checked_add(1.days()).expect("a date");
    let (_, late) = timed(trial, &trial.piece, &settings, 800, Some(later));
    assert!(late.ready.date() >= post_by, "a day later is too late");
    assert!(late.notes.iter().any(|note| note.path.0 == "due"), "and it is told: {:?}", late.notes);
}

#[test]
fn resin_is_handed_over_72_hours_after_the_last_pour() {
    // A shop: 72 h after the last step before hand-over.
    let trial = &TRIALS[2];
    let settings = Settings::demo();
    let (steps, table) = timed(trial, &trial.piece, &settings, 0, Some(date(2027, 3, 1)));
    let last = |kind: StepKind| {
        table.sittings.iter().rfind(|s| steps.steps[s.step].kind == kind).expect("one")
    };
    assert!(
        minutes(last(StepKind::Pour).ends, last(StepKind::Pack).begins)
            >= 72.0 * 60.0 - settings.times.watch_min
    );
}

#[test]
fn without_any_day_or_any_hours_there_is_no_timetable() {
    let trial = &TRIALS[1];
    let mut settings = Settings::demo();
    let mut piece = trial.piece.clone();
    piece.due = None;
    let bare = plan_steps(&piece, &settings, &trial.coats(&settings), &trial.stones(10));
    assert_eq!(worked(trial, &piece, &settings, 10, None), (bare, None));
    every_day(&mut settings, &[]);
    assert_eq!(worked(trial, &piece, &settings, 10, Some(date(2027, 3, 1))).1, None);
    assert_eq!(worked(trial, &trial.piece, &settings, 10, None).1, None);
}

#[test]
fn hours_that_are_too_short_for_a_pour_and_impossible_dates_are_no_panic() {
    let trial = &TRIALS[0];
    let mut settings = Settings::demo();
    every_day(&mut settings, &[(600, 620)]);
    let (steps, table) = timed(trial, &trial.piece, &settings, 40, Some(date(2027, 3, 1)));
    assert_eq!(check(&steps, &settings, 1, &table), Ok(()));
    assert!(table.notes.iter().any(|note| note.message.contains("runs past them")));
    for day in [Date::MIN, Date::MAX] {
        let mut piece = trial.piece.clone();
        piece.due = Some(day);
        let _ = worked(trial, &piece, &settings, 40, None);
        let _ = worked(trial, &piece, &settings, 40, Some(day));
    }
}

#[test]
fn a_batch_is_poured_in_turn_and_waits_run_side_by_side() {
    let mut settings = Settings::demo();
    every_day(&mut settings, &[(8 * 60, 20 * 60)]);
    let trial = &TRIALS[1];
    let days = |pieces: u32| {
        let piece = of_quantity(trial, pieces);
        let (steps, table) = timed(trial, &piece, &settings, 100, Some(date(2027, 3, 1)));
        assert_eq!(check(&steps, &settings, pieces, &table), Ok(()));
        minutes(date(2027, 3, 1).at(0, 0, 0, 0), table.ready) / 1440.0
    };
    let (one, four) = (days(1), days(4));
    assert!(four < 2.0 * one, "{one} and {four} days: four pieces cure at the same time");
}

fn hours() -> impl Strategy<Value = [Vec<(u16, u16)>; 7]> {
    let day = prop_oneof![
        1 => Just(vec![]),
        3 => (360..1080_u16, 60..360_u16).prop_map(|(from, length)| vec![(from, from + length)]),
        2 => (480..600_u16, 60..180_u16, 30..120_u16, 90..300_u16)
            .prop_map(|(from, morning, rest, evening)| vec![(from, from + morning), (from + morning + rest, from + morning + rest + evening)]),
    ];
    prop::array::uniform7(day)
        .prop_filter("some work", |week| week.iter().any(|day| !day.is_empty()))
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(200))]

    #[test]
    fn every_timetable_keeps_hours_waits_windows_and_one_pair_of_hands(
        week in hours(),
        trial in 0..4_usize,
        stones in 0..1500_usize,
        pieces in 1..6_u32,
        recoat_from in 120.0..600.0_f64,
        window in 0.0..600.0_f64,
        sitting in 40.0..240.0_f64,
        start in 0..365_i64,
    ) {
        let trial = &TRIALS[trial];
        let mut settings = Settings::demo();
        settings.maker.hours = week;
        settings.resin.recoat_min = (recoat_from, recoat_from + window);
        settings.times.sitting_min = sitting;
        let piece = of_quantity(trial, pieces);
        let (coats, set) = (trial.coats(&settings), trial.stones(stones));
        let bare = plan_steps(&piece, &settings, &coats, &set);
        let begin = date(2027, 1, 1).checked_add(start.days()).expect("a date");
        for begin in [Some(begin), None] {
            let (steps, table) = timed(trial, &piece, &settings, stones, begin);
            prop_assert_eq!(check(&steps, &settings, pieces, &table), Ok(()));
            let added = steps.steps.len() - bare.steps.len();
            let spent = added as f64 * settings.times.sand_min;
            prop_assert!((steps.hands_on_min() - bare.hands_on_min() - spent).abs() < 1e-6);
        }
        let (_, back) = timed(trial, &piece, &settings, stones, None);
        let post_by = back.post_by.expect("a due day");
        let late = back.notes.iter().any(|note| note.path.0 == "due");
        let left = |at: DateTime| {
            let minute = at.hour() as u16 * 60 + at.minute() as u16;
            settings.maker.hours_on(at.weekday()).iter().any(|(from, _)| *from >= minute)
        };
        let in_time = back.ready.date() < post_by || (back.ready.date() == post_by && left(back.ready));
        prop_assert_eq!(in_time, !late);
        if in_time {
            // None of the days after it would have done. Where a day later gives the same table, since
            // nothing is done on the first day, the last of such days is meant.
            let begun = back.sittings.iter().map(|sitting| sitting.begins.date()).min().expect("work");
            for later in 1..=14_i64 {
                let begin = begun.checked_add(later.days()).expect("a date");
                let (_, table) = timed(trial, &piece, &settings, stones, Some(begin));
                let late = table.notes.iter().any(|note| note.path.0 == "due");
                prop_assert!(late, "begun on {begin}, not on {begun}, it would be in time as well");
            }
        }
    }
}

#[test]
fn a_missed_window_becomes_a_sanding_that_counts() {
    let trial = &TRIALS[1];
    let mut settings = Settings::demo();
    every_day(&mut settings, &[(18 * 60, 21 * 60)]);
    let (coats, stones) = (trial.coats(&settings), trial.stones(300));
    let bare = plan_steps(&trial.piece, &settings, &coats, &stones);
    let begin = Some(date(2027, 3, 1));
    let (steps, table) = timed(trial, &trial.piece, &settings, 300, begin);
    assert_eq!(check(&steps, &settings, 1, &table), Ok(()));
    let extra: Vec<_> = steps
        .steps
        .iter()
        .filter(|step| step.kind == StepKind::Sand && step.zone.is_some())
        .collect();
    assert_eq!(extra.len(), 2, "coats 2 and 3 of 3 are poured an evening or more later");
    assert_eq!(steps.hands_on_min(), bare.hands_on_min() + 2.0 * settings.times.sand_min);
    for step in extra {
        let how = step.how.join(" ");
        for word in ["320 to 400 grit", "Wash it", "wipe with alcohol"] {
            assert!(how.contains(word), "{word} in {how}");
        }
        assert!(step.cautions.iter().any(|caution| caution.contains("dust mask")));
    }
    // Found in trials: a maker who works evenings only cannot keep recoat windows for a chain of coats.
    let told = "2 pours cannot begin 4 h to 8 h after";
    assert!(table.notes.iter().any(|note| note.message.contains(told)), "{:?}", table.notes);
}

#[test]
fn it_is_never_ready_in_the_last_hours_of_the_day_to_post() {
    for trial in TRIALS.iter() {
        for back in 0..7 {
            let settings = Settings::demo();
            let mut piece = trial.piece.clone();
            piece.due = Some(date(2027, 5, 22).checked_add(back.days()).expect("a date"));
            let (_, table) = timed(trial, &piece, &settings, 200, None);
            let last = table.post_by.expect("a due day");
            // Evenings end the day; only a Saturday has a second stretch.
            let saturday = last.weekday() == jiff::civil::Weekday::Saturday;
            assert!(table.ready.date() < last || saturday, "{} {last}", table.ready);
        }
    }
}

#[test]
fn a_thousand_pieces_are_timed_as_one_is_and_whole() {
    let trial = &TRIALS[0];
    let settings = Settings::demo();
    let piece = of_quantity(trial, 1000);
    let started = Instant::now();
    let (steps, table) = timed(trial, &piece, &settings, 900, None);
    // Measured: 0.1 s. It was an hour and more when every beginning was tried.
    assert!(started.elapsed() < Duration::from_secs(10), "{:?}", started.elapsed());
    assert!(table.sittings.len() > 1000, "{} sittings", table.sittings.len());
    let late = table.notes.iter().any(|note| note.path.0 == "due");
    let cut = table.notes.iter().any(|note| note.path.0 == "quantity");
    assert!(late || cut || check(&steps, &settings, 1000, &table) == Ok(()));
}

#[test]
fn it_stops_as_soon_as_it_is_told() {
    let trial = &TRIALS[0];
    let settings = Settings::demo();
    let (coats, stones) = (trial.coats(&settings), trial.stones(300));
    for most in [0, 1, 40, 200] {
        let mut asked = 0;
        let mut last = 0.0;
        let mut going = |share: f64| {
            assert!((last..1.0).contains(&share), "{share} after {last}");
            last = share;
            asked += 1;
            asked <= most
        };
        let stopped = plan_work(&trial.piece, &settings, &coats, &stones, None, &mut going);
        assert_eq!(stopped.map(|(steps, _)| steps.steps.len()), Err(Stopped));
        assert_eq!(asked, most + 1, "asked again after it was stopped");
    }
}
