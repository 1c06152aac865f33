//! What must hold whatever the numbers.

use crate::CLEAR;
use coats::turner::{Fate, TurnedCoat, Turning, allowed, load, ripple};
use proptest::prelude::*;
use std::f64::consts::PI;

proptest! {
    #[test]
    fn the_film_solves_its_cubic_and_is_the_same_above_and_below(
        flux in 0.0..load::MOST_FLUX,
        theta in -PI..PI,
    ) {
        let film = load::film(flux, theta).unwrap();
        let back = film - film * film * film / 3.0 * libm::cos(theta);
        prop_assert!((back - flux).abs() < 1e-12, "{back}");
        // It is the thinner of two roots: between it and nothing the flux only grows.
        prop_assert!(film * film * libm::cos(theta) <= 1.0 + 1e-9);
        let mirrored = load::film(flux, -theta).unwrap();
        prop_assert!((film - mirrored).abs() < 1e-15);
    }

    #[test]
    fn more_stays_on_a_faster_wider_cup_and_of_thicker_resin(
        rpm in 0.5..24.0_f64,
        viscosity_pa_s in 0.05..10.0_f64,
        radius_mm in 5.0..80.0_f64,
        more in 1.001..3.0_f64,
    ) {
        let turning = Turning { rpm, liquid: CLEAR, viscosity_pa_s };
        let most = turning.most_film_mm(radius_mm);
        let faster = Turning { rpm: rpm * more, ..turning };
        let thicker = Turning { viscosity_pa_s: viscosity_pa_s * more, ..turning };
        // All three by the same law, the root of how much more.
        for other in [
            faster.most_film_mm(radius_mm),
            thicker.most_film_mm(radius_mm),
            turning.most_film_mm(radius_mm * more),
        ] {
            prop_assert!(other > most && (other / most - more.sqrt()).abs() < 1e-12);
        }
        // The slowest turning for what stays on is the turning itself.
        prop_assert!((turning.least_rpm(radius_mm, most, 1.0) / rpm - 1.0).abs() < 1e-12);
    }

    #[test]
    fn a_coat_planned_by_what_is_safe_is_safe(
        rpm in 0.5..24.0_f64,
        mu in 0.05..10.0_f64,
        radius_mm in 20.0..60.0_f64,
        film_mm in 0.05..3.0_f64,
        safe_share in 0.2..0.95_f64,
    ) {
        let viscosity = |min: f64| mu * libm::exp(min / 60.0);
        let coat = TurnedCoat {
            rpm, safe_share, liquid: CLEAR, viscosity: &viscosity, radius_mm, film_mm, area_mm2: 5e4,
        };
        let found = allowed(&coat, 120.0);
        let slower = TurnedCoat { rpm: found.safe_rpm * 1.000_001, ..coat };
        let thinner = TurnedCoat { film_mm: found.safe_film_mm * 0.999_999, ..coat };
        for safe in [slower, thinner] {
            prop_assert_eq!(allowed(&safe, 120.0).fate, Fate::Safe);
        }
        // Resin that only thickens holds least at the pour, and more from moment to moment.
        prop_assert_eq!(found.tightest, found.course[0]);
        prop_assert!(found.course.windows(2).all(|pair| pair[0].most_mm < pair[1].most_mm));
    }

    #[test]
    fn a_thicker_film_levels_longer_waves(film_mm in 0.05..1.0_f64, more in 1.01..3.0_f64) {
        let longest = |film_mm| ripple::longest_gone_mm(&CLEAR, film_mm, 0.1, 4874.0).unwrap();
        prop_assert!(longest(film_mm * more) > longest(film_mm));
    }

    #[test]
    fn a_fuller_turner_is_less_even(share in 0.01..0.98_f64) {
        let (one, other) = (load::pattern(share).unwrap(), load::pattern(share + 0.02).unwrap());
        prop_assert!(one.most > 1.0 && one.least < 1.0);
        prop_assert!(other.most > one.most && other.least < one.least);
    }
}

#[test]
fn a_load_beyond_the_greatest_has_no_film() {
    assert_eq!(load::film(0.67, 0.0), None);
    assert_eq!(load::load(0.67), None);
    assert_eq!(load::load(f64::NAN), None);
    assert_eq!(load::pattern(1.01), None);
}
