//! The cure of a film against closed forms, published figures and another solver.

use crate::support::{SLOW, near, reference, sheet, slow_resin};
use coats::cure::kinetics::{Glass, Kinetics, arrhenius, closed, hindered_time_s};
use coats::cure::viscosity::Flow;
use coats::cure::{Model, calibrate, course, marks, plan};
use coats::pot::Filling;
use proptest::prelude::*;
use std::f64::consts::TAU;

/// The other resin of the reference: an activation energy for each of its two reactions.
const TWO: Model = Model {
    kinetics: Kinetics {
        k1_per_s: 2.0e-5,
        k2_per_s: 3.0e-4,
        e1_j_per_mol: 70e3,
        e2_j_per_mol: 55e3,
        at_k: 296.15,
    },
    glass: Glass { end_k: 348.15, lambda: 0.30 },
    flow: Flow { mixed_pa_s: 1.0, at_k: 297.15 },
};

const WEEK_MIN: f64 = 7.0 * 1440.0;

fn steady(c: f64) -> impl Fn(f64) -> f64 {
    move |_| c
}

/// 24 °C at the pour, 16 °C half a day later.
fn swings(min: f64) -> f64 {
    20.0 + 4.0 * libm::cos(TAU * min / 1440.0)
}

#[test]
fn every_film_agrees_with_another_solver() {
    // reference/cure.py: scipy 1.17.1, LSODA, rtol 1e-10. All within 0.1 %.
    let mut checked = 0;
    for row in reference().iter().filter(|row| row.resin != "cup") {
        let model = if row.resin == "slow" { SLOW } else { TWO };
        let room_c: Box<dyn Fn(f64) -> f64> = match row.case.strip_prefix("steady ") {
            Some(c) => Box::new(steady(c.parse().expect("°C"))),
            None => Box::new(swings),
        };
        let course = course(&model, &room_c, WEEK_MIN).expect("a course");
        let found = marks(&course, &sheet(), &room_c);
        let gel = course.at(found.gel_min.expect("gels"), &room_c);
        let h = |min: Option<f64>| min.expect("comes to that") / 60.0;
        let found = match row.figure.as_str() {
            "gel_h" => h(found.gel_min),
            "window_h" => h(found.window_closes_min),
            "sandable_h" => h(found.sandable_min),
            "full_h" => h(found.full_min),
            "reduced_at_gel_h" => gel.reduced_min / 60.0,
            "fluidity_at_gel_per_pa" => gel.fluidity_per_pa,
            "conversion_24_h" => course.at(1440.0, &room_c).conversion,
            "tg_72_c" => course.at(3.0 * 1440.0, &room_c).tg_c,
            other => panic!("{other}"),
        };
        let off = (found / row.value - 1.0).abs();
        assert!(off < 1e-3, "{} {} {}: {found}, {}", row.resin, row.case, row.figure, row.value);
        checked += 1;
    }
    assert_eq!(checked, 2 * 7 * 8);
}

#[test]
fn a_steady_film_follows_the_closed_form() {
    // The rate integrated by partial fractions; a glass transition far below the room stops nothing.
    let model = Model { glass: Glass { end_k: 240.0, lambda: 0.4 }, ..SLOW };
    let room_c = steady(24.0);
    let course = course(&model, &room_c, WEEK_MIN).expect("a course");
    for alpha in [0.05, 0.2, 0.4, 0.6, 0.8, 0.9, 0.95] {
        let asked_min = closed(alpha, model.kinetics.k2_per_s / model.kinetics.k1_per_s)
            / model.kinetics.k1_per_s
            / 60.0;
        near(course.conversion_min(alpha).expect("reached"), asked_min, 2e-6 * asked_min);
    }
    // Without autocatalysis a reaction of the second order is left: k t = α/(1 − α).
    near(closed(0.75, 0.0), 3.0, 1e-12);
}

#[test]
fn the_hindered_time_is_that_of_the_course() {
    // Two roads to one figure: quadrature of 1/rate, and the solver.
    let room_c = steady(24.0);
    let course = course(&SLOW, &room_c, WEEK_MIN).expect("a course");
    for alpha in [0.3, 0.6, 0.85, 0.9, 0.93] {
        let asked_min = hindered_time_s(&SLOW.kinetics, &SLOW.glass, alpha) / 60.0;
        near(course.conversion_min(alpha).expect("reached"), asked_min, 1e-5 * asked_min);
    }
}

#[test]
fn reduced_time_tells_gel_in_a_room_that_swings() {
    // Before vitrification conversion depends on ∫ exp(−(E/R)(1/T − 1/T₀)) dt alone: what takes 4.0000 h
    // in a steady room takes as much reduced time in one that swings from 24 to 16 °C and back.
    let model = Model { glass: Glass { end_k: 240.0, lambda: 0.4 }, ..SLOW };
    let course = course(&model, &swings, WEEK_MIN).expect("a course");
    let gel_min = course.conversion_min(0.60).expect("gels");
    near(gel_min / 60.0, 4.248, 5e-4);
    let steady_h = model.kinetics.time_s(0.60) / 3600.0;
    near(steady_h, 4.0000, 1e-4);
    near(course.at(gel_min, &swings).reduced_min / 60.0, steady_h, 1e-6);
}

#[test]
fn half_the_time_for_ten_degrees_holds_for_one_activation_energy() {
    // E = R ln 2/(1/T₁ − 1/T₂): 51.2 kJ/mol from 20 to 30 °C, 52.6 from 24 to 34 (arithmetic).
    near(arrhenius(51_220.0, 303.15, 293.15), 2.0, 2e-3);
    near(arrhenius(52_600.0, 307.15, 297.15), 2.0, 2e-3);
    // 53 to 67 kJ/mol, as published for epoxies with amines, make 2.0 to 2.4 (arithmetic).
    near(arrhenius(53_000.0, 307.15, 297.15), 2.01, 5e-3);
    near(arrhenius(67_000.0, 307.15, 297.15), 2.42, 5e-3);
}

#[test]
fn the_glass_transition_runs_both_ways() {
    // DiBenedetto's equation: the uncured mix at α = 0, the end at α = 1, and its own inverse between.
    near(SLOW.glass.tg_k(0.0), 233.15, 1e-9);
    near(SLOW.glass.tg_k(1.0), SLOW.glass.end_k, 1e-9);
    for alpha in [0.1, 0.5, 0.9] {
        near(SLOW.glass.conversion(SLOW.glass.tg_k(alpha)), alpha, 1e-12);
    }
}

#[test]
fn viscosity_doubles_when_it_should() {
    // Own integration with another solver: at 18, 24 and 30 °C the viscosity of the film is double after
    // 123, 76 and 48 min; just mixed it is 1.582, 1 and 0.644 Pa s.
    for (c, doubled_min, mixed_pa_s) in
        [(18.0, 123.0, 1.582), (24.0, 76.0, 1.0), (30.0, 48.0, 0.644)]
    {
        let room_c = steady(c);
        let course = course(&SLOW, &room_c, 600.0).expect("a course");
        let at = |min: f64| course.at(min, &room_c).viscosity_pa_s.expect("flows");
        near(at(0.0), mixed_pa_s, 1e-3);
        assert!(
            at(doubled_min - 1.0) < 2.0 * mixed_pa_s && at(doubled_min + 1.0) > 2.0 * mixed_pa_s
        );
        assert_eq!(course.at(590.0, &room_c).viscosity_pa_s, None);
    }
}

#[test]
fn rooms_that_cannot_be_are_told() {
    let calibrated = calibrate(&slow_resin()).expect("a usual sheet");
    for c in [f64::NAN, f64::INFINITY, -300.0, 400.0] {
        assert!(course(&SLOW, &steady(c), WEEK_MIN).is_err(), "{c}");
        assert!(plan(&calibrated, &steady(c), 20.0).is_err(), "{c}");
        assert!(coats::pot::pot(&SLOW, &sheet(), Filling::usual(20.0), &steady(c)).is_err(), "{c}");
    }
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(24))]

    #[test]
    fn conversion_only_rises_and_warmth_speeds_it(
        tack_free_h in 1.0..10.0_f64,
        beta in 0.0..60.0_f64,
        e_kj in 45.0..75.0_f64,
        end_c in 40.0..120.0_f64,
        lambda in 0.2..1.0_f64,
        room in (12.0..30.0_f64, 0.0..6.0_f64),
    ) {
        let kinetics =
            Kinetics::of(closed(0.6, beta) / (3600.0 * tack_free_h), beta, e_kj * 1e3, 297.15);
        let model = Model { kinetics, glass: Glass { end_k: end_c + 273.15, lambda }, ..SLOW };
        let of = |more: f64| move |min: f64| room.0 + more + room.1 * libm::sin(TAU * min / 1440.0);
        let (here, warmer) = (of(0.0), of(3.0));
        let cold = course(&model, &here, WEEK_MIN).expect("a course");
        let warm = course(&model, &warmer, WEEK_MIN).expect("a course");
        let mut before = 0.0;
        for hour in 0..=168 {
            let min = 60.0 * f64::from(hour);
            let (a, b) = (cold.at(min, &here), warm.at(min, &warmer));
            prop_assert!((0.0..=1.0).contains(&a.conversion));
            prop_assert!(a.conversion >= before - 1e-9);
            prop_assert!(b.conversion >= a.conversion - 1e-6);
            before = a.conversion;
        }
    }
}
