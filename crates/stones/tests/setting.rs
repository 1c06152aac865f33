//! What must hold of the order stones are set in, recomputed stone by stone.

mod support;

use glam::DVec3;
use piece::{Finish, Settings};
use proptest::prelude::*;
use std::collections::BTreeMap;
use stones::{Patch, SettingPlan, Stone, plan_setting};
use support::{Laid, band, body, lay, rows, scatter};

fn members(laid: &Laid) -> BTreeMap<(usize, u32), Vec<&Stone>> {
    let mut members: BTreeMap<(usize, u32), Vec<&Stone>> = BTreeMap::new();
    for stone in &laid.stones.stones {
        members.entry((stone.part, stone.patch)).or_default().push(stone);
    }
    members
}

/// To set a stone at the studio's pace, min.
fn setting_min(laid: &Laid, settings: &Settings, stone: &Stone) -> f64 {
    let Finish::Stones(finish) = &laid.piece.zones[stone.zone].finish else { return 0.0 };
    let size = &finish.sizes[stone.size].name;
    let known =
        settings.stones.iter().find(|one| one.material == finish.material && one.size == *size);
    60.0 / known.map_or(300.0, |one| one.set_per_h)
}

fn lean_rad(stone: &Stone, up: DVec3) -> f64 {
    libm::acos(stone.normal.dot(up).clamp(-1.0, 1.0))
}

/// Every stone in one patch, no patch longer than the glue stays open, no fresh stone leaning too far,
/// in the rest or under the hand, and never less idle than the bound.
fn check(laid: &Laid, settings: &Settings) -> SettingPlan {
    let plan = plan_setting(&laid.piece, settings, &laid.stones);
    let members = members(laid);
    let in_all: usize =
        plan.patches.iter().flat_map(|patch| &patch.counts).map(|(_, _, count)| count).sum();
    assert_eq!(in_all, laid.stones.stones.len());
    assert_eq!(plan.patches.len(), members.len());
    let of = |patch: &Patch| &members[&(patch.part, patch.number)];
    for patch in &plan.patches {
        let stones = of(patch);
        let work_min: f64 = stones.iter().map(|stone| setting_min(laid, settings, stone)).sum();
        assert!((work_min - patch.hands_on_min).abs() < 1e-9);
        assert!(stones.len() == 1 || work_min <= settings.glue.open_min + 1e-6, "{work_min} min");
        assert!(stones.iter().all(|stone| stone.zone == patch.zone));
    }
    for (place, now) in plan.patches.iter().enumerate() {
        for before in plan.patches[..place].iter().rev() {
            if (before.part, before.run) != (now.part, now.run) {
                break;
            }
            let ended = before.begins_min + before.hands_on_min;
            assert!(now.begins_min >= ended - 1e-9);
            if now.begins_min >= ended + settings.glue.set_min - 1e-6 {
                continue;
            }
            for stone in of(before) {
                let lean = lean_rad(stone, now.up);
                assert!(lean <= settings.glue.tilt_rad + 1e-6, "leans {lean} rad");
                assert!(lean <= 2.0 * std::f64::consts::FRAC_PI_3 + 1e-6, "lies in the rest");
            }
            // The hand lies on the 80 mm of wall below the patch.
            let foot_mm = now.band_mm.1;
            let columns: Vec<DVec3> = of(now).iter().map(|stone| stone.normal).collect();
            let (from, to) = before.band_mm;
            if (from + to) / 2.0 > foot_mm && from < foot_mm + 80.0 {
                let under = of(before).iter().any(|stone| {
                    // Just below it, not beside it by a hair.
                    columns.iter().any(|column| stone.normal.cross(*column).length() < 5e-10)
                });
                assert!(!under, "patch {} lies under the hand of {}", before.number, now.number);
            }
        }
    }
    assert!(plan.idle_apart_min >= plan.bound_apart_min - 1e-6);
    assert!(plan.idle_min >= plan.bound_min - 1e-6);
    assert!(plan.idle_min <= plan.idle_apart_min + 1e-6);
    let mut hand = plan.hand.clone();
    hand.sort_unstable();
    assert_eq!(hand, (0..plan.patches.len()).collect::<Vec<_>>());
    plan
}

/// Stones of each layout stand from the rim down wherever they touch.
fn rows_grow_downwards(laid: &Laid) {
    let stones = &laid.stones.stones;
    for (place, stone) in stones.iter().enumerate() {
        for later in &stones[place + 1..] {
            let same = (stone.zone, stone.layer) == (later.zone, later.layer);
            if !same || later.patch == stone.patch {
                continue;
            }
            // Right above one another.
            let above = stone.at.along_mm > later.at.along_mm + 1.5 * stone.diameter_mm
                && stone.at.along_mm < later.at.along_mm + 2.5 * stone.diameter_mm
                && (stone.at.around - later.at.around).abs() < 1e-8;
            assert!(!above, "{stone:?} is set before {later:?}");
        }
    }
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, ..ProptestConfig::with_cases(24) })]

    #[test]
    fn fresh_stones_lean_in_no_cup_too_far(
        top in 20.0..45.0_f64,
        lean in -0.3..0.3_f64,
        height in 5.5..70.0_f64,
        second in 7.0..20.0_f64,
        size in prop::sample::select(vec!["SS8", "SS12", "SS20"]),
        set_min in 0.0..40.0_f64,
        tilt_deg in 15.0..120.0_f64,
        open_min in 2.0..15.0_f64,
        stacked in any::<bool>(),
    ) {
        let mut settings = Settings::demo();
        settings.glue.set_min = set_min;
        settings.glue.tilt_rad = tilt_deg.to_radians();
        settings.glue.open_min = open_min;
        let wide = band(10.0, 10.0 + height);
        // A low zone has no room for layouts between its outlines.
        let first = if stacked && height > 20.0 {
            stack(&wide)
        } else {
            rows("tide", &wide, "level", size, 0.1)
        };
        let zones = first
            + &scatter("spray", &band(10.5 + height, 10.5 + height + second), &[("SS10", 50.0), ("SS6", 50.0)], 0.1);
        let laid = support::lay_with(&body(&[(0.0, top), (110.0, top + lean * 40.0)], &zones), &settings);
        check(&laid, &settings);
        rows_grow_downwards(&laid);
    }
}

#[test]
fn a_whole_wall_is_set_without_a_wait() {
    // Columns from the rim to the foot take over an hour each: what lies beside is long dry.
    let laid = lay(&body(
        &[(0.0, 44.0), (172.0, 33.5)],
        &rows("tide", &band(15.0, 160.0), "level", "SS10", 0.1),
    ));
    let plan = check(&laid, &Settings::demo());
    assert!(plan.patches.len() > 50);
    assert!(plan.idle_apart_min < 1e-9, "{} min", plan.idle_apart_min);
}

/// Outline, single stones, scatter and pockets among each other in one zone.
fn stack(region: &str) -> String {
    format!(
        "[[zone]]\nname = \"stack\"\npart = \"body\"\n{region}\n\
         [[zone.stones]]\nlayout = \"outline\"\nsize = \"SS6\"\ncolour = \"foam\"\n\
         [[zone.stones]]\nlayout = \"sparse\"\nsize = \"SS20\"\napart = \"18 mm\"\ncolour = \"foam\"\n\
         [[zone.stones]]\nlayout = \"scatter\"\nrounds = 0\ncolour = \"ebb\"\n\
         sizes = [ {{ size = \"SS12\" }}, {{ size = \"SS10\" }}, {{ size = \"SS8\" }} ]\n\
         [[zone.stones]]\nlayout = \"pockets\"\nsize = \"SS5\"\ncolour = \"foam\"\n"
    )
}

#[test]
fn layouts_among_each_other_are_set_together_without_a_wait() {
    // Set one after the other they took 121 patches and 102 min of waiting (own trials).
    let laid = lay(&body(&[(0.0, 42.0), (120.0, 36.0)], &stack(&band(4.0, 116.0))));
    let plan = check(&laid, &Settings::demo());
    assert!(plan.idle_apart_min < 1e-9, "{} min", plan.idle_apart_min);
    // By hand: the least there can be is all work in patches as long as the glue stays open.
    let work_min: f64 = plan.patches.iter().map(|patch| patch.hands_on_min).sum();
    let least = work_min / Settings::demo().glue.open_min;
    assert!((plan.patches.len() as f64) < 2.0 * least, "{} patches", plan.patches.len());
    let stones = &laid.stones.stones;
    let together = members(&laid)
        .values()
        .filter(|patch| patch[0].layer < patch[patch.len() - 1].layer)
        .count();
    assert!(2 * together > plan.patches.len(), "{together} patches of several layouts");
    for pair in stones.windows(2).filter(|pair| pair[0].patch == pair[1].patch) {
        assert!(pair[0].layer <= pair[1].layer, "{pair:?}");
    }
}

#[test]
fn a_narrow_ring_of_layouts_waits_about_as_long_as_it_must() {
    let laid = lay(&body(&[(0.0, 42.0), (120.0, 36.0)], &stack(&band(40.0, 62.0))));
    let plan = check(&laid, &Settings::demo());
    let (idle, bound) = (plan.idle_apart_min, plan.bound_apart_min);
    assert!(idle <= bound + 8.0, "{idle} min idle, {bound} min at least");
}

#[test]
fn zones_below_one_another_are_set_column_by_column_without_a_wait() {
    // By hand: a column of both zones takes some 20 min, so with one column between the glue has set.
    let zones = rows("pennants", &band(165.0, 186.0), "level", "SS10", 0.1)
        + &rows("wake", &band(187.0, 228.0), "level", "SS12", 0.1)
        + &rows("rail", &band(24.0, 34.0), "level", "SS12", 0.1);
    let plan = check(&lay(&body(&[(0.0, 40.5), (239.0, 40.5)], &zones)), &Settings::demo());
    assert!(plan.idle_apart_min < 1e-9, "{} min", plan.idle_apart_min);
}

#[test]
fn the_idle_time_of_a_single_ring_is_near_its_bound() {
    for (size, height) in [("SS10", 17.0), ("SS20", 12.0), ("SS12", 30.0), ("SS16", 5.0)] {
        let laid = lay(&body(
            &[(0.0, 40.0), (100.0, 40.0)],
            &rows("tide", &band(15.0, 15.0 + height), "level", size, 0.1),
        ));
        let plan = check(&laid, &Settings::demo());
        let (idle, bound) = (plan.idle_apart_min, plan.bound_apart_min);
        assert!(idle <= bound + 5.0, "{size}: {idle} min idle, {bound} min at least");
    }
}

#[test]
fn the_lid_is_set_while_the_body_waits() {
    let text = body(&[(0.0, 40.0), (100.0, 40.0)], &rows("tide", &band(15.0, 24.0), "level", "SS20", 0.1))
        .replace(
            "[[zone]]",
            "[[part]]\nname = \"lid\"\nsits_on = { part = \"body\", sink = \"6 mm\" }\n\
             revolved = [ { along = \"0 mm\", radius = \"8 mm\" }, { along = \"33 mm\", radius = \"40 mm\" } ]\n\
             [[zone]]\nname = \"crest\"\npart = \"lid\"\nband = { from = \"5 mm\", to = \"30 mm\" }\n\
             stones = { layout = \"rows\", size = \"SS12\", colour = \"ebb\", gap = \"0.1 mm\" }\n[[zone]]",
        );
    let plan = check(&lay(&text), &Settings::demo());
    assert!(plan.idle_apart_min > 30.0, "{}", plan.idle_apart_min);
    assert!(
        plan.idle_min < plan.idle_apart_min - 20.0,
        "{} {}",
        plan.idle_min,
        plan.idle_apart_min
    );
}

#[test]
fn names_are_cut_by_the_time_that_the_glue_stays_open() {
    let line = |name: &str, text: &str, height_mm: f64, along_mm: f64| {
        format!(
            "[[zone]]\nname = \"{name}\"\npart = \"body\"\nlettering = {{ text = \"{text}\", height = \
             \"{height_mm} mm\", along = \"{along_mm} mm\", font = \"nunito-extrabold\" }}\n\
             stones = {{ layout = \"line\", size = \"SS6\", colour = \"ebb\" }}\n"
        )
    };
    let cup = [(0.0, 43.9), (168.0, 33.7)];
    let names = line("long", "Marigold & Elsbeth", 18.0, 45.0) + &line("short", "Ida", 24.0, 100.0);
    let laid = lay(&body(&cup, &names));
    let settings = Settings::demo();
    let plan = check(&laid, &settings);
    let work_min: f64 =
        laid.stones.stones.iter().map(|stone| setting_min(&laid, &settings, stone)).sum();
    // Patches full to the last minute would be so many; a patch ends where the cup would lean too far too.
    let least = (work_min / settings.glue.open_min).ceil() as usize;
    let zones: Vec<usize> = plan.patches.iter().map(|patch| patch.zone).collect();
    let changes = zones.windows(2).filter(|pair| pair[0] != pair[1]).count();
    eprintln!("{work_min} min in {} patches of at least {least}, {changes} changes", zones.len());
    // To begin a patch takes about a minute (common practice, no source): work outlasts it.
    let mean_min = work_min / zones.len() as f64;
    assert!(mean_min > 2.0, "{mean_min}");
    assert!(changes <= 10, "{zones:?}");
}

#[test]
#[ignore = "a measurement: run it by name with --nocapture"]
fn how_long_it_takes_to_put_patches_in_order() {
    for (zones, height_mm) in [(1, 30.0), (1, 120.0), (1, 480.0), (4, 480.0)] {
        let mut settings = Settings::demo();
        let text: String = (0..zones)
            .map(|zone| {
                let tall_mm = height_mm / f64::from(zones);
                let from_mm = 10.0 + tall_mm * f64::from(zone);
                rows(
                    &format!("z{zone}"),
                    &band(from_mm, from_mm + tall_mm - 0.5),
                    "level",
                    "SS5",
                    0.1,
                )
            })
            .collect();
        let text = body(&[(0.0, 100.0), (500.0, 100.0)], &text);
        for per_h in [3000.0, 300.0, 60.0, 20.0] {
            settings.stones.iter_mut().for_each(|one| one.set_per_h = per_h);
            let began = std::time::Instant::now();
            let laid = support::lay_with(&text, &settings);
            let laying = began.elapsed();
            let began = std::time::Instant::now();
            let plan = plan_setting(&laid.piece, &settings, &laid.stones);
            println!(
                "{} stones, {per_h} an hour, {zones} zones: {} patches, {:.0} min idle (at least {:.0}), laid in {laying:.2?}, planned in {:.2?}",
                laid.stones.stones.len(),
                plan.patches.len(),
                plan.idle_apart_min,
                plan.bound_apart_min,
                began.elapsed()
            );
        }
    }
}
