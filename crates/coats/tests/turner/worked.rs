//! Worked cases and values of papers.

use crate::{CLEAR, close, near};
use coats::turner::bubble::{self, Skin};
use coats::turner::level::{self, Side};
use coats::turner::{
    Fate, Liquid, TurnedCoat, Turning, allowed, allowed_along, edge, flat, load, ripple,
};
use piece::{FieldPath, Measure, Run};
use shape::Surface;
use std::f64::consts::{PI, TAU};

/// Fluidity until gel of a slow clear resin of 1 Pa·s, 1/Pa (own simulation of its cure at 24 °C).
const UNTIL_GEL: f64 = 4874.0;

#[test]
fn the_greatest_load_is_that_of_the_papers() {
    // 4.44272: Duffy & Wilson, J. Fluid Mech. 394 (1999) 29, from memory.
    near(load::MOST_LOAD, 4.44272, 1e-4);
    near(load::load(load::MOST_FLUX).unwrap(), load::MOST_LOAD, 1e-9);
    // A film of `h*` where it is thickest: Moffatt 1977.
    near(load::film(load::MOST_FLUX, 0.0).unwrap(), 1.0, 1e-12);
}

#[test]
fn loads_and_films_are_those_of_adaptive_quadrature() {
    // Flux, load, thickest, thinnest: adaptive quadrature and Brent's method, own reckoning.
    let table = [
        (0.2, 1.256972987, 0.20277939, 0.19743464),
        (0.4, 2.524444765, 0.42571855, 0.38149291),
        (0.5, 3.178021374, 0.55787470, 0.46622052),
        (0.6, 3.875992353, 0.72929928, 0.54580192),
        (2.0 / 3.0, 4.442723531, 1.0, 0.59607164),
    ];
    for (flux, all, most, least) in table {
        near(load::load(flux).unwrap(), all, 1e-8);
        near(load::film(flux, 0.0).unwrap(), most, 1e-7);
        near(load::film(flux, PI).unwrap(), least, 1e-8);
    }
}

#[test]
fn worked_cups_hold_what_the_formula_gives() {
    // Pa·s, g/ml, rpm, mm, then h* mm, greatest mean mm and ml on 200 mm of wall: own reckoning.
    let table = [
        (1.0, 1.1, 6.0, 40.0, 1.52638, 1.07928, 54.25),
        (0.5, 1.1, 3.0, 36.5, 0.72904, 0.51549, 23.64),
        (2.5, 1.13, 10.0, 45.0, 3.26055, 2.30548, 130.4),
        (0.2, 1.1, 6.0, 40.0, 0.68262, 0.48267, 24.26),
    ];
    for (viscosity_pa_s, density_g_per_ml, rpm, radius_mm, scale, most, ml) in table {
        let liquid = Liquid { density_g_per_ml, ..CLEAR };
        let turning = Turning { rpm, liquid, viscosity_pa_s };
        near(turning.scale_mm(radius_mm), scale, 1e-5);
        near(turning.most_film_mm(radius_mm), most, 1e-5);
        close(TAU * radius_mm * 200.0 * turning.most_film_mm(radius_mm) * 1e-3, ml, 4e-4);
        // Ω = 2.00014 ρ g h² / (μ R): the same law turned round.
        let h = most * 1e-3;
        let omega = 2.00014 * 1000.0 * density_g_per_ml * 9.80665 * h * h
            / (viscosity_pa_s * radius_mm * 1e-3);
        close(turning.least_rpm(radius_mm, most, 1.0), omega * 60.0 / TAU, 2e-5);
    }
}

#[test]
fn a_small_load_is_uneven_by_a_third_of_its_square() {
    // For small loads (thickest − thinnest) / 2 means → (h / h*)² / 3 (expansion by hand).
    let (share, mean) = (0.1, 0.1 * load::MOST_LOAD / TAU);
    let pattern = load::pattern(share).unwrap();
    close((pattern.most - pattern.least) / 2.0, mean * mean / 3.0, 0.01);
}

#[test]
fn a_turner_out_of_level_lets_a_coat_creep() {
    // 1 Pa·s, 0.3 mm, 1 degree: 0.339 mm/min, 27.5 mm until gel; 5.5 mm at 0.2 degrees: own reckoning.
    let tilt = 1.0_f64.to_radians();
    near(level::drift_mm_per_h(&CLEAR, 0.3, tilt, 1.0) / 60.0, 0.339, 5e-4);
    near(level::drift_mm(&CLEAR, 0.3, tilt, UNTIL_GEL), 27.5, 0.05);
    near(level::drift_mm(&CLEAR, 0.3, 0.2 * tilt, UNTIL_GEL), 5.5, 0.01);
    let allowed = level::most_tilt_rad(&CLEAR, 0.3, 5.5, UNTIL_GEL).unwrap();
    near(allowed.to_degrees(), 0.2, 0.001);
    assert_eq!(level::most_tilt_rad(&CLEAR, 0.01, 5.5, UNTIL_GEL), None);
}

#[test]
fn a_stopped_turner_may_stand_for_seconds() {
    // 1 Pa·s, 40 mm: 12.4 s at 0.3 mm, 4.4 s (to the figure, 4.45) at 0.5 mm: own reckoning.
    near(level::standing_s(&CLEAR, 0.3, 40.0, 1.0), 12.36, 0.01);
    near(level::standing_s(&CLEAR, 0.5, 40.0, 1.0), 4.45, 0.01);
    // The closed solution at those times: 0.6 / 3 of the film squared is gone on top.
    let stood = level::standing_s(&CLEAR, 0.3, 40.0, 1.0);
    let film = |side, share: f64| level::stopped_film_mm(&CLEAR, 0.3, 40.0, side, share * stood);
    close(film(Side::Bottom, 26.03 / 30.0).unwrap(), 0.33, 1e-3);
    close(film(Side::Top, 35.19 / 30.0).unwrap(), 0.27, 1e-3);
    assert_eq!(film(Side::Bottom, 5.0), None);
}

#[test]
fn ripples_die_away_as_the_stokes_equations_have_it() {
    // λ mm, h mm, 1/s at 1 Pa·s and 35 mN/m: a Stokes solution, own reckoning.
    for (wave, film, rate) in [
        (2.0, 0.4, 19.18326),
        (5.0, 0.2, 0.2090154),
        (10.0, 0.2, 0.01414453),
        (20.0, 0.4, 0.007072267),
    ] {
        close(ripple::rate_per_s(&CLEAR, film, wave, 1.0), rate, 1e-6);
    }
    // Thin film: τ = 0.00192487 μ λ⁴ / (σ h³), 3 / 16 π⁴ by hand.
    let tau = 0.001_924_87 * 0.1_f64 * 0.1 * 0.1 * 0.1 / (0.035 * 1e-12);
    close(ripple::rate_per_s(&CLEAR, 0.1, 100.0, 1.0), 1.0 / tau, 1e-4);
    // Deep: σ k / 2 μ by hand.
    close(ripple::rate_per_s(&CLEAR, 50.0, 10.0, 1.0), 0.035 * TAU / 0.01 / 2.0, 1e-9);
    // Left until gel: own reckoning.
    for (film, wave, left) in [
        (0.2, 20.0, 0.0123),
        (0.2, 30.0, 0.418),
        (0.3, 30.0, 0.0532),
        (0.3, 40.0, 0.394),
        (0.4, 40.0, 0.111),
        (0.4, 60.0, 0.646),
    ] {
        near(ripple::left(&CLEAR, film, wave, 4873.65), left, 6e-4);
    }
}

#[test]
fn bubbles_rise_in_the_cup_and_only_swing_on_the_turner() {
    // Diameter mm, mm/s and min through 50 mm, at 1 Pa·s: own reckoning of Stokes's law.
    for (wide, rise, wait) in [(0.1, 0.00599, 139.0), (0.3, 0.0539, 15.5), (1.0, 0.599, 1.4)] {
        close(bubble::rise_mm_per_s(&CLEAR, wide, 1.0, Skin::Soiled), rise, 1e-3);
        close(bubble::still_cup_min(&CLEAR, wide, 50.0, 1.0), wait, 0.01);
        let clean = bubble::rise_mm_per_s(&CLEAR, wide, 1.0, Skin::Clean);
        // Half as fast again: Hadamard and Rybczynski 1911, from memory.
        close(clean / bubble::rise_mm_per_s(&CLEAR, wide, 1.0, Skin::Soiled), 1.5, 1e-12);
    }
    near(bubble::swing_mm(&CLEAR, 0.1, 1.0, 6.0), 0.019, 5e-4);
    // Film 0.3 mm, 6 rpm: none at 1 Pa·s, 0.22 mm at 0.3, 0.125 mm at 0.1: own reckoning.
    assert_eq!(bubble::least_leaving_mm(&CLEAR, 0.3, 1.0, 6.0), None);
    near(bubble::least_leaving_mm(&CLEAR, 0.3, 0.3, 6.0).unwrap(), 0.22, 0.005);
    near(bubble::least_leaving_mm(&CLEAR, 0.3, 0.1, 6.0).unwrap(), 0.125, 0.001);
}

#[test]
fn heat_helps_until_the_viscosity_has_doubled() {
    let slow = bubble::heat_window(&|min| libm::exp(min / 60.0), 120.0);
    // exp(t / 60) is 2 at 60 ln 2.
    near(slow.doubled_min.unwrap(), 60.0 * std::f64::consts::LN_2, 1e-9);
    near(slow.until_min(), 10.0, 0.0);
    let fast = bubble::heat_window(&|min| libm::exp(min / 6.0), 120.0);
    near(fast.until_min(), 6.0 * std::f64::consts::LN_2, 1e-9);
    // A resin that gels within a step, and one that never thickens.
    let gels = |min: f64| if min < 7.5 { 1.0 } else { f64::INFINITY };
    near(bubble::heat_window(&gels, 120.0).until_min(), 7.5, 1e-9);
    assert_eq!(bubble::heat_window(&|_| 1.0, 120.0).doubled_min, None);
}

#[test]
fn a_fat_ring_forms_beside_an_edge() {
    // ℓ = 6.3 mm for 0.3 mm and this fluidity, the ring about 18 mm in: own simulation.
    let beside = edge(&CLEAR, 0.3, UNTIL_GEL);
    near(beside.scale_mm, 6.3, 0.05);
    near(beside.ridge_at_mm, 18.0, 0.5);
    assert!((1.20..1.24).contains(&(beside.ridge_mm / 0.3)), "{beside:?}");
}

#[test]
fn a_puddle_of_quicksilver_is_as_high_as_in_books() {
    // 3.6 mm on glass, with 0.487 N/m, 13.53 g/ml, 140 degrees: textbooks, from memory.
    let quicksilver = Liquid { density_g_per_ml: 13.53, surface_tension_n_per_m: 0.487 };
    near(flat::most_dome_mm(&quicksilver, 140.0_f64.to_radians()), 3.6, 0.05);
}

#[test]
fn the_handbook_tells_what_comes_out() {
    let page = include_str!("../../../../docs/handbook/turner.md");
    let longest = flat::longest_gone_mm(&CLEAR, 0.3, ripple::GONE, UNTIL_GEL).unwrap();
    let dome = |deg: f64| flat::most_dome_mm(&CLEAR, deg.to_radians());
    let creep = level::drift_mm_per_h(&CLEAR, 0.3, 1.0_f64.to_radians(), 1.0);
    let mut told = vec![
        format!("waves up to {longest:.0} mm go down to a tenth"),
        format!("{:.2} mm at 60 degrees, {:.2} mm at 90", dome(60.0), dome(90.0)),
        format!("creeps {creep:.0} mm an hour for each degree"),
    ];
    for share in [0.3, 0.6, 0.9, 1.0] {
        let load::Pattern { most, least } = load::pattern(share).unwrap();
        told.push(format!("| {:.0} % | {most:.3} | {least:.3} |", 100.0 * share));
    }
    for words in told {
        assert!(page.contains(&words), "the handbook lacks: {words}");
    }
}

fn measure(along_mm: f64, radius_mm: f64) -> Measure {
    Measure { along_mm, radius_mm, run: Run::Straight, crease: false, radius_step_mm: 0.0 }
}

#[test]
fn a_taper_is_worst_where_it_is_narrowest_and_a_stripe_where_it_lies() {
    let taper = Surface::revolved(&[measure(0.0, 44.0), measure(172.0, 33.5)]).unwrap();
    let turning = Turning { rpm: 6.0, liquid: CLEAR, viscosity_pa_s: 1.0 };
    let even = allowed_along(&taper, &turning, &|_| 0.3).unwrap();
    near(even.worst.along_mm, 172.0, 1e-9);
    near(even.worst.radius_mm, 33.5, 1e-9);
    // The root of the radius: by hand from the worked cup of 40 mm.
    close(even.worst.most_mm, 1.07928 * (33.5_f64 / 40.0).sqrt(), 1e-5);
    assert!(even.places.windows(2).all(|pair| pair[1].along_mm - pair[0].along_mm <= 2.0 + 1e-9));
    let stripe = |along_mm: f64| if (40.0..60.0).contains(&along_mm) { 0.6 } else { 0.3 };
    let striped = allowed_along(&taper, &turning, &stripe).unwrap();
    assert!((58.0..60.0).contains(&striped.worst.along_mm), "{:?}", striped.worst);
}

#[test]
fn what_faces_along_the_axis_is_no_matter_of_the_turner() {
    let bottom = [measure(0.0, 30.0), measure(100.0, 30.0), measure(130.0, 0.0)];
    let cup = Surface::revolved(&bottom).unwrap();
    let turning = Turning { rpm: 6.0, liquid: CLEAR, viscosity_pa_s: 1.0 };
    let found = allowed_along(&cup, &turning, &|_| 0.3).unwrap();
    assert!(found.places.iter().all(|place| place.along_mm <= 100.0));
    near(found.places.last().unwrap().along_mm, 100.0, 0.0);
    let plate = Surface::flat(&piece::Outline::Circle { diameter_mm: 50.0 }).unwrap();
    assert_eq!(allowed_along(&plate, &turning, &|_| 0.3), None);
}

#[test]
fn a_coat_is_told_what_becomes_of_it() {
    let viscosity = |min: f64| libm::exp(min / 60.0);
    let coat = |film_mm| TurnedCoat {
        rpm: 6.0,
        safe_share: 0.6,
        liquid: CLEAR,
        viscosity: &viscosity,
        radius_mm: 40.0,
        film_mm,
        area_mm2: TAU * 40.0 * 200.0,
    };
    let path = FieldPath::root().key("zone").index(0).key("resin").key("film");
    let safe = allowed(&coat(0.3), 120.0);
    assert_eq!((safe.fate, safe.note("shell", &path)), (Fate::Safe, None));
    // Of the worked cup that carries 54.25 ml, 60 %.
    near(safe.safe_ml, 0.6 * 54.25, 0.01);
    // The film goes with the root of the viscosity: exp(2) more of that, exp(1) more of this.
    let (last, first) = (safe.course[120], safe.course[0]);
    close(last.most_mm / first.most_mm, libm::exp(1.0), 1e-12);
    let tight = allowed(&coat(0.8), 120.0);
    assert_eq!(tight.fate, Fate::Tight);
    let sags = allowed(&coat(1.2), 120.0);
    assert_eq!(sags.fate, Fate::Sags);
    close(sags.safe_rpm, 6.0 * (1.2_f64 / (0.6 * 1.07928)) * (1.2 / (0.6 * 1.07928)), 1e-5);
    let note = sags.note("shell", &path).unwrap();
    assert_eq!(
        note.message,
        "the coat of `shell` is planned 1.20 mm thick, and at 6 turns a minute 1.08 mm stay on as the \
         resin is poured: it sags and drips"
    );
    assert_eq!(
        note.hints[0],
        "Plan thinner coats, and more of them: 0.64 mm, 32.5 ml on the part, is safe."
    );
    assert_eq!(note.hints[2], "Or turn faster, if your turner can: 21 turns a minute are safe.");
    // Resin that is warmed after the pour is thinnest then.
    let warmed = |min: f64| if min < 20.0 { 1.0 - min / 40.0 } else { 0.5 * libm::exp(min - 20.0) };
    let warm = allowed(&TurnedCoat { viscosity: &warmed, ..coat(0.8) }, 120.0);
    near(warm.tightest.min, 20.0, 0.5);
    assert_eq!(warm.fate, Fate::Sags);
}
