//! Glitter and edges under clear resin, against closed forms and practice.

use coats::bury::flake::{Coarseness, area_mm2, coarseness, cover_share, layer_g_per_m2, per_g};
use coats::bury::{BuryKind, LAYERS_HELD, Relief, Sprinkled, bury, bury_plan, coat_added_mm};
use coats::{Matter, plan_coats};
use piece::{Piece, Pressed, Settings, Source, read_settings};
use proptest::prelude::*;

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}

fn flakes(width_mm: f64, pressed: Pressed) -> Sprinkled {
    Sprinkled { width_mm, thickness_mm: 0.05, layers: 1, pressed }
}

#[test]
fn flakes_to_the_gram_follow_from_the_hexagon() {
    // Reckoned by hand from (√3/2) d², 50 µm and 1.38 g/cm³: inch cuts of sellers' charts.
    for (inch, count) in [(0.008, 405_297.0), (0.015, 115_284.0), (1.0 / 16.0, 6640.0)] {
        near(per_g(inch * 25.4, 0.05) / count, 1.0, 1e-4);
    }
    // A regular hexagon of side a: area 3√3/2 a², width across flats √3 a (plane geometry).
    near(area_mm2(3.0_f64.sqrt()), 1.5 * 3.0_f64.sqrt(), 1e-12);
    near(layer_g_per_m2(0.025), 34.5, 1e-9);
    near(layer_g_per_m2(0.05), 69.0, 1e-9);
    // 104 g/m² held, 5.2 g on 0.0503 m² (our own simulation of pouring on and shaking off).
    near(LAYERS_HELD * layer_g_per_m2(0.05), 103.5, 1e-9);
    near(LAYERS_HELD * layer_g_per_m2(0.05) * 0.0503, 5.2, 0.01);
}

#[test]
fn sprinkled_layers_cover_as_a_poisson_field_does() {
    // 1 − e⁻¹ (closed form; our own simulation of free sprinkling gave 0.639).
    near(cover_share(1.0), 0.632_120_558_8, 1e-9);
    near(cover_share(0.0), 0.0, 0.0);
}

#[test]
fn peaks_stand_between_the_poisson_stack_and_flakes_that_never_bend() {
    // 99 % of a stack of 1.5 layers: 4 to 5 flakes; flakes that rest flat and never tilt: 9 to 13
    // (our own simulation).
    let fine = flakes(0.2, Pressed::Patted);
    near(fine.peak_mm(), 0.2 + 0.2 * 0.342_020_143, 1e-9);
    assert!(fine.peak_mm() > 4.0 * 0.05 && fine.peak_mm() < 13.0 * 0.05);
    let peak = |pressed| flakes(1.0, pressed).peak_mm();
    assert!(peak(Pressed::Rolled) < peak(Pressed::Patted));
    assert!(peak(Pressed::Patted) < peak(Pressed::Loose));
    // Two layers hold three flakes in the mean: 99 % of a Poisson stack of 3 is 8, of 1.5 it is 5
    // (tables of the Poisson distribution: P(X ≤ 8; 3) = 0.9962, P(X ≤ 5; 1.5) = 0.9955).
    let twice = Sprinkled { layers: 2, ..fine };
    near(twice.peak_mm() - fine.peak_mm(), 3.0 * 0.05, 1e-12);
}

#[test]
fn coats_over_loose_flakes_are_more() {
    // Our own model, no source: 1.6 mm flakes at 30 degrees under 12, 15 and 20 ml on 0.0503 m².
    let relief = Relief::glitter(&flakes(1.6, Pressed::Loose));
    for (mixed_ml, coats) in [(12.0, 6), (15.0, 5), (20.0, 4)] {
        let film_mm = coat_added_mm(mixed_ml, 0.0503, 0.1, 0.03);
        assert_eq!(bury(relief, film_mm, 0.0, 0.15).coats, coats, "{mixed_ml} ml");
    }
    for (mixed_ml, film_mm) in [(12.0, 0.208), (15.0, 0.260), (20.0, 0.347)] {
        near(coat_added_mm(mixed_ml, 0.0503, 0.1, 0.03), film_mm, 0.0005);
    }
}

#[test]
fn chunky_fine_and_no_glitter_are_buried_by_plainly_different_plans() {
    // Common practice: after a thin layer of chunky glitter on a wet coat about six hours, a quick
    // sealer of half an hour to an hour, then about two coats of six to eight hours before sanding.
    let (recoat_min, film_mm) = ((240.0, 480.0), 0.3);
    let plan = |glitter: Option<&Sprinkled>| bury_plan(glitter, film_mm, recoat_min, 0.05, 0.1);
    let chunky = plan(Some(&flakes(1.0, Pressed::Patted)));
    let kinds: Vec<BuryKind> = chunky.coats.iter().map(|coat| coat.kind).collect();
    assert_eq!(kinds, [BuryKind::Bed, BuryKind::Seal, BuryKind::Clear, BuryKind::Clear]);
    near(chunky.coats[0].wait_min.0, 360.0, 0.0);
    assert_eq!(chunky.coats[1].wait_min, (30.0, 60.0));
    assert_eq!(chunky.coats[2].wait_min, (360.0, 480.0));
    assert!(chunky.over_peaks_mm >= 0.15);
    // Fine glitter: one coat to bond and two more at the least, no sealer (common practice: 2 to 3).
    let fine = bury_plan(Some(&flakes(0.2, Pressed::Patted)), 0.2, recoat_min, 0.05, 0.1);
    assert_eq!((fine.clear(), fine.coats.len()), (2, 3));
    assert!(fine.coats.iter().all(|coat| coat.kind != BuryKind::Seal));
    assert_eq!(fine.coats[1].wait_min, recoat_min);
    // No glitter: one coat that can be sanded into, and no bed to wait for.
    let none = plan(None);
    assert_eq!((none.clear(), none.coats.len()), (1, 1));
    // Chunky at the film that most makers leave: three to five (common practice).
    let thin = bury_plan(Some(&flakes(1.0, Pressed::Patted)), 0.2, recoat_min, 0.05, 0.1);
    assert!((3..=5).contains(&thin.clear()), "{thin:?}");
}

#[test]
fn a_film_that_nobody_can_pour_is_refused_and_not_stacked_by_the_million() {
    let with = |film: &str| {
        let text = format!(
            "cupwright = 1\ntitle = \"Trial\"\n[[part]]\nname = \"body\"\nrevolved = [{{ along = \"0 mm\", diameter = \"74 mm\" }}, {{ along = \"205 mm\", diameter = \"74 mm\" }}]\n[[zone]]\nname = \"clear\"\npart = \"body\"\nresin = {{ film = \"{film}\" }}\n"
        );
        text.parse::<Piece>()
    };
    let told = format!("{:?}", with("0.000001 mm").expect_err("too thin"));
    assert!(told.contains("thinner than 0.01 mm") && told.contains("Check its unit"), "{told}");
    assert!(with("0.01 mm").is_ok());
}

#[test]
fn an_edge_of_film_takes_its_step_and_marker_nothing() {
    // Common practice: the edge of film of 0.05 mm vanishes under one to two thin coats.
    let film = bury(Relief::edge(0.05, 0.0), 0.2, 0.0, 0.1);
    assert_eq!(film.coats, 1);
    near(film.over_peaks_mm, 0.15, 1e-12);
    assert_eq!(bury(Relief::edge(0.08, 0.0), 0.15, 0.05, 0.1).coats, 2);
    // Film all over lifts everything alike: no step is left to bury.
    near(bury(Relief::edge(0.08, 1.0), 0.2, 0.0, 0.1).needed_mm, 0.1, 1e-12);
    assert_eq!(bury(Relief::SMOOTH, 0.2, 0.0, 0.0).coats, 0);
}

#[test]
fn bare_flakes_drink_what_practice_keeps_at_hand() {
    // Common practice: the first coat over glitter takes 20 to 50 % more; coats leave 0.2 mm.
    for (width_mm, pressed) in
        [(1.0, Pressed::Patted), (1.0, Pressed::Loose), (1.6, Pressed::Patted)]
    {
        let share = flakes(width_mm, pressed).drinks_mm() / 0.2;
        assert!((0.2..=0.5).contains(&share), "{width_mm} mm: {share}");
    }
    assert!(flakes(0.2, Pressed::Patted).drinks_mm() < 0.2 * 0.2);
    assert_eq!(coarseness(0.4), Coarseness::Fine);
    assert_eq!(coarseness(0.6), Coarseness::Medium);
    assert_eq!(coarseness(1.0), Coarseness::Chunky);
}

proptest! {
    #[test]
    fn what_is_planned_covers_and_a_coat_fewer_does_not(
        width_mm in 0.05..3.0_f64,
        thickness_mm in 0.02..0.15_f64,
        layers in 1_u32..5,
        film_mm in 0.05..0.6_f64,
        sanding_mm in 0.0..0.2_f64,
        cover_mm in 0.0..0.5_f64,
    ) {
        let glitter = Sprinkled { width_mm, thickness_mm, layers, pressed: Pressed::Patted };
        let relief = Relief::glitter(&glitter);
        let burial = bury(relief, film_mm, sanding_mm, cover_mm);
        prop_assert!(burial.over_peaks_mm >= sanding_mm + cover_mm - 1e-8);
        prop_assert!(burial.coats == 0 || burial.over_peaks_mm - film_mm < sanding_mm + cover_mm);
        let wider = Relief::glitter(&Sprinkled { width_mm: width_mm + 0.1, ..glitter });
        prop_assert!(bury(wider, film_mm, sanding_mm, cover_mm).needed_mm >= burial.needed_mm);
        let again = Relief::glitter(&Sprinkled { layers: layers + 1, ..glitter });
        prop_assert!(again.peak_mm >= relief.peak_mm && again.solid_mm > relief.solid_mm);
    }
}

#[test]
fn layers_and_how_they_are_pressed_reach_the_plan_from_the_files() {
    let planned = |glitter: &str, sanding: &str| {
        let text = format!(
            r##"cupwright = 1
title = "Trial"
[colours]
"foam" = "#e8eef0"
[[part]]
name = "body"
revolved = [{{ along = "0 mm", diameter = "74 mm" }}, {{ along = "205 mm", diameter = "74 mm" }}]
[[zone]]
name = "bond"
part = "body"
resin = {{}}
[[zone]]
name = "shingle"
part = "body"
glitter = {{ colour = "foam", flake = "1.0 mm"{glitter} }}
[[zone]]
name = "clear"
part = "body"
resin = {{ coats = 1 }}
"##
        );
        let piece: Piece = text.parse().unwrap_or_else(|faults| panic!("{faults:?}"));
        let demo = Settings::DEMO_TEXT
            .replace("flake_thickness", &format!("sanding = \"{sanding}\"\nflake_thickness"));
        let reading = read_settings(&Source::new("studio.toml", demo));
        let settings = reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics));
        let shape = shape::shape(&piece, &settings).expect("a shape");
        let coats = plan_coats(&piece, &shape, &settings).expect("its resin can be poured");
        let of_zone = coats.coats.iter().filter(|coat| coat.zone == 1);
        let layers: Vec<_> = of_zone
            .map(|coat| match coat.matter {
                Matter::Glitter { on_cup_g, drinks_ml, .. } => (coat.film_mm, on_cup_g, drinks_ml),
                _ => (coat.film_mm, 0.0, 0.0),
            })
            .collect();
        let note = coats.notes.into_iter().find(|note| note.path.0.ends_with("flake"));
        (layers, note.expect("too few coats").hints)
    };
    let (once, hints) = planned("", "0.05 mm");
    let (twice, _) = planned(", layers = 2, pressed = \"rolled\"", "0.05 mm");
    // The second layer has a thin bed of its own between it and the first.
    assert_eq!((once.len(), twice.len()), (1, 3));
    near(twice[0].0, once[0].0, 1e-12);
    near(twice[1].0, 0.15, 1e-12);
    near(twice[0].1 + twice[2].1, 2.0 * once[0].1, 1e-9);
    // Rolled flakes lie flatter and leave smaller wedges.
    assert!(twice[2].2 < once[0].2);
    // 0.617 mm by the balance of volumes: four coats of 0.2 mm, five where 0.25 mm are sanded off.
    assert!(hints[0].contains("Plan 4 clear coats"), "{hints:?}");
    assert!(hints[1].contains("drink about"), "{hints:?}");
    assert!(planned("", "0.25 mm").1[0].contains("Plan 5 clear coats"));
}
