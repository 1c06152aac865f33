//! The mixing cup against another solver, an energy balance, and what must always hold.

use crate::support::{SLOW, near, reference, sheet, slow_resin};
use coats::cure::{Calibration, calibrate};
use coats::pot::{Filling, greatest_mass_g, heat_caution, pot, runaway_mass_g, working_min};
use piece::Severity;
use proptest::prelude::*;

fn calibrated() -> Calibration {
    calibrate(&slow_resin()).expect("a usual sheet")
}

#[test]
fn every_cup_agrees_with_another_solver() {
    // reference/cure.py: scipy 1.17.1, LSODA, rtol 1e-10. All within 0.1 %.
    let mut checked = 0;
    for row in reference().iter().filter(|row| row.resin == "cup") {
        let words: Vec<f64> = row.case.split(' ').filter_map(|word| word.parse().ok()).collect();
        let [mass_g, width_mm, c] = words[..] else { panic!("{}", row.case) };
        let filling = Filling { width_mm, ..Filling::usual(mass_g) };
        let found = pot(&SLOW, &sheet(), filling, &|_| c).expect("followed");
        let found = match row.figure.as_str() {
            "gels_min" => found.gels_min.expect("gels"),
            "doubled_min" => found.doubled_min.expect("doubles"),
            "hot_min" => found.hot_min.expect("passes 40 °C"),
            "peak_c" => found.peak_c,
            other => panic!("{other}"),
        };
        let off = (found / row.value - 1.0).abs();
        assert!(off < 1e-3, "{} {}: {found}, {}", row.case, row.figure, row.value);
        checked += 1;
    }
    assert!(checked >= 45, "{checked}");
}

#[test]
fn a_cup_that_loses_nothing_heats_by_its_whole_heat() {
    // Energy balance: T − T₀ = ΔH/c_p · α; 350 kJ/kg over 1900 J/(kg K) is 184.2 K for whole cure.
    let filling = Filling { cooling_w_per_m2_k: 0.0, ..Filling::usual(100.0) };
    let found = pot(&SLOW, &sheet(), filling, &|_| 24.0).expect("followed");
    near(found.peak_c, 24.0 + 350e3 / 1900.0 * found.peak_conversion, 0.01);
    near(found.peak_c, 24.0 + 184.2, 0.3);
}

#[test]
fn more_in_one_cup_gels_sooner_and_a_tray_later() {
    // ASTM D2471-99 (withdrawn 2008): gel time and peak change with the volume, so it has to be told.
    let of = |filling| pot(&SLOW, &sheet(), filling, &|_| 24.0).expect("followed");
    let mut before = of(Filling::usual(5.0));
    for mass_g in [10.0, 20.0, 30.0, 40.0, 50.0, 80.0, 160.0, 320.0] {
        let found = of(Filling::usual(mass_g));
        assert!(found.gels_min < before.gels_min && found.peak_c > before.peak_c, "{mass_g} g");
        before = found;
    }
    let tray = of(Filling { width_mm: 150.0, ..Filling::usual(100.0) });
    assert!(tray.gels_min > of(Filling::usual(100.0)).gels_min);
    assert_eq!(tray.hot_min, None);
}

#[test]
fn the_greatest_mass_leaves_the_wanted_time() {
    let found = calibrated();
    let room_c = |_: f64| 24.0;
    let mass_g = greatest_mass_g(&found, 70.0, 45.0, &room_c).expect("found").expect("some mass");
    // Own integration with another solver: 50 g double after 49.7 min, 100 g after 39.9.
    assert!((50.0..100.0).contains(&mass_g), "{mass_g}");
    let left = |mass_g: f64| {
        working_min(&found.likely, &found.sheet, Filling::usual(mass_g), &room_c).expect("followed")
    };
    near(left(mass_g), 45.0, 0.02);
    // A film is double after 76 min: no mass, however small, can be worked for two hours.
    assert_eq!(greatest_mass_g(&found, 70.0, 120.0, &room_c), Ok(None));
    assert_eq!(greatest_mass_g(&found, 70.0, 1.0, &room_c), Ok(Some(5000.0)));
}

#[test]
fn a_mix_that_runs_away_gets_a_caution() {
    let found = calibrated();
    let room_c = |_: f64| 24.0;
    // Own integration with another solver: 30 g reach 47 °C, 50 g 145 °C.
    let limit_g = runaway_mass_g(&found, 70.0, &room_c).expect("found").expect("some mass");
    assert!((30.0..50.0).contains(&limit_g), "{limit_g}");
    assert_eq!(heat_caution(&found, limit_g - 1.0, Some(limit_g), &room_c), Ok(None));
    let caution =
        heat_caution(&found, 200.0, Some(limit_g), &room_c).expect("found").expect("told");
    assert_eq!(caution.severity, Severity::Caution);
    assert!(caution.message.contains("after about 36 min"), "{}", caution.message);
    assert!(caution.message.contains("smoke"), "{}", caution.message);
    assert!(caution.hints.concat().contains("safety data sheet"), "{:?}", caution.hints);
    assert!(
        caution.hints[0].contains(&format!("less than {:.0} g", limit_g.floor())),
        "{:?}",
        caution.hints
    );
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(32))]

    #[test]
    fn a_cup_stays_within_its_heat(
        log_mass in -1.0..3.3_f64,
        width_mm in 40.0..300.0_f64,
        cooling in 0.0..30.0_f64,
        c in 10.0..35.0_f64,
    ) {
        let mass_g = libm::pow(10.0, log_mass);
        let filling = Filling { mass_g, width_mm, cooling_w_per_m2_k: cooling };
        let found = pot(&SLOW, &sheet(), filling, &|_| c).expect("followed");
        prop_assert!(found.peak_c >= c - 1e-6 && found.peak_c <= c + 350e3 / 1900.0 + 0.01);
        prop_assert!((0.0..=1.0).contains(&found.peak_conversion));
        prop_assert!(found.gels_min >= found.doubled_min);
        let warmer = pot(&SLOW, &sheet(), filling, &|_| c + 2.0).expect("followed");
        prop_assert!(warmer.gels_min.unwrap_or(f64::INFINITY) <= found.gels_min.unwrap_or(f64::INFINITY));
    }
}
