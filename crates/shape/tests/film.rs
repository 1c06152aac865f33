//! Film on walls curved both ways, against the closed forms of thin sheets and an outside solver.

use piece::{Measure, Run};
use shape::film::{FlatFilm, Outlines, Relief, Strain, lie_flat};
use shape::{Surface, SurfacePoint};
use std::f64::consts::{PI, TAU};

/// Radius of the ball of most tests, mm.
const BALL_MM: f64 = 45.0;

/// A wall whose radius follows a curve by its length, read every 2 mm.
fn wall(length_mm: f64, radius_mm: impl Fn(f64) -> f64) -> Surface {
    let steps = (length_mm / 2.0) as u32;
    let measure = |step: u32| {
        let along_mm = length_mm * f64::from(step) / f64::from(steps);
        Measure {
            along_mm,
            radius_mm: radius_mm(along_mm),
            run: Run::Smooth,
            crease: false,
            radius_step_mm: 0.0,
        }
    };
    Surface::revolved(&(0..=steps).map(measure).collect::<Vec<_>>()).expect("a sound wall")
}

/// A ball but for its poles; its equator lies half-way.
fn ball() -> Surface {
    wall(110.0, |along| BALL_MM * libm::cos((along - 55.0) / BALL_MM))
}

/// All places within a distance on the ball of one on its front.
fn disc(distance_mm: f64, middle_mm: f64) -> Vec<SurfacePoint> {
    let (reach, lat) = (distance_mm / BALL_MM, (middle_mm - 55.0) / BALL_MM);
    (0..400)
        .map(|step| {
            // By spherical trigonometry, from the middle under one bearing after the other.
            let bearing = TAU * f64::from(step) / 400.0;
            let down = libm::asin(
                libm::sin(lat) * libm::cos(reach)
                    + libm::cos(lat) * libm::sin(reach) * libm::cos(bearing),
            );
            let around = libm::atan2(
                libm::sin(bearing) * libm::sin(reach) * libm::cos(lat),
                libm::cos(reach) - libm::sin(lat) * libm::sin(down),
            );
            SurfacePoint { around, along_mm: 55.0 + BALL_MM * down }
        })
        .collect()
}

/// What lies between two angles and two distances along the wall.
fn window(around: (f64, f64), along: (f64, f64)) -> Vec<SurfacePoint> {
    let at = |around: f64, along_mm: f64| SurfacePoint { around, along_mm };
    let lerp = |(a, b): (f64, f64), n: u32| a + (b - a) * f64::from(n) / 100.0;
    let mut outline: Vec<_> = (0..100).map(|n| at(lerp(around, n), along.0)).collect();
    outline.extend((0..100).map(|n| at(around.1, lerp(along, n))));
    outline.extend((0..100).rev().map(|n| at(lerp(around, n + 1), along.1)));
    outline.extend((0..100).rev().map(|n| at(around.0, lerp(along, n + 1))));
    outline
}

fn flat(surface: &Surface, shape: Vec<SurfacePoint>, relief: Relief) -> FlatFilm {
    lie_flat(surface, 0, &[vec![shape]], relief)
}

fn strain(surface: &Surface, shape: Vec<SurfacePoint>) -> Strain {
    flat(surface, shape, Relief::None).strain.expect("there is film")
}

/// Within a share of what is expected.
fn near(found: f64, expected: f64, share: f64) {
    assert!((found - expected).abs() <= share * expected.abs(), "{found} instead of {expected}");
}

fn area_mm2(outlines: &Outlines) -> f64 {
    let twice = |one: &Vec<[f64; 2]>| -> f64 {
        one.iter().zip(one.iter().cycle().skip(1)).map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum()
    };
    outlines.iter().map(twice).sum::<f64>().abs() / 2.0
}

/// The stress function of a sheet forced on a wall of curvature K has ∇⁴Φ = -E K (Föppl and von Kármán;
/// Landau and Lifshitz, Theory of Elasticity, § 14, from memory). On a disc of radius a with a free edge
/// Φ = -E K (a² - r²)² / 64, so its edge is squeezed by K a² / 8 and its middle stretched by
/// (1 - ν) K a² / 16 both ways; here ν = 0.
#[test]
fn a_disc_on_a_ball_is_squeezed_at_its_edge_and_stretched_in_its_middle() {
    for (radius_mm, middle_mm) in [(4.0, 55.0), (9.0, 55.0), (9.0, 30.0), (9.0, 80.0)] {
        let found = strain(&ball(), disc(radius_mm, middle_mm));
        let share = radius_mm * radius_mm / (BALL_MM * BALL_MM);
        near(found.squeeze, share / 8.0, 0.04);
        near(found.stretch, share / 16.0, 0.04);
        assert!((found.stretch_at.along_mm - middle_mm).abs() < 0.2 * radius_mm, "{found:?}");
    }
}

/// Lengths along a strip grow by K x² / 2 less at a distance x from its middle line; their mean has no
/// strain. So its edges are squeezed by K w² / 12 and its middle is stretched by K w² / 24.
#[test]
fn a_strip_up_or_round_a_ball_strains_by_the_square_of_its_width() {
    let width_mm = 8.0;
    let share = width_mm * width_mm / (BALL_MM * BALL_MM);
    let half = 0.5 * width_mm;
    let round = strain(&ball(), window((-1.2, 1.2), (55.0 - half, 55.0 + half)));
    near(round.squeeze, share / 12.0, 0.05);
    near(round.stretch, share / 24.0, 0.05);
    // Up the ball a strip between two meridians grows narrower, so this one is of even width.
    let edge = |side: f64, n: u32| {
        let along_mm = 20.0 + 70.0 * f64::from(n) / 100.0;
        let radius_mm = BALL_MM * libm::cos((along_mm - 55.0) / BALL_MM);
        SurfacePoint {
            around: libm::asin(side * BALL_MM * libm::sin(half / BALL_MM) / radius_mm),
            along_mm,
        }
    };
    let mut strip: Vec<_> = (0..=100).map(|n| edge(1.0, n)).collect();
    strip.extend((0..=100).rev().map(|n| edge(-1.0, n)));
    let up = strain(&ball(), strip);
    near(up.squeeze, share / 12.0, 0.08);
    near(up.stretch, share / 24.0, 0.08);
}

/// A waist with the same curvature, but of the other sign: stretch and squeeze change places.
#[test]
fn a_strip_round_a_waist_is_stretched_at_its_edges() {
    // r'' = r / R² has the curvature -1 / R² everywhere.
    let waist = wall(60.0, |along| 35.0 * libm::cosh((along - 30.0) / BALL_MM));
    let share = 64.0 / (BALL_MM * BALL_MM);
    let found = strain(&waist, window((-1.2, 1.2), (26.0, 34.0)));
    near(found.stretch, share / 12.0, 0.05);
    near(found.squeeze, share / 24.0, 0.05);
}

#[test]
fn on_a_cone_nothing_strains_and_areas_stay() {
    let cone = wall(100.0, |along| 45.0 - 0.1 * along);
    let shape = window((-0.9, 0.9), (20.0, 70.0));
    let found = flat(&cone, shape.clone(), Relief::None);
    assert!(found.strain.expect("there is film").taut() < 1e-6);
    // Of a ring sector: half the angle times (R² - r²) over the sine.
    let area = 0.9 * (43.0 * 43.0 - 38.0 * 38.0) / 0.1;
    near(area_mm2(&found.groups[0][0]), area, 1e-4);
}

#[test]
fn what_is_reported_grows_with_the_coats_beneath() {
    // A ball with a coat of 5 mm is a ball of 50 mm, and a window of angles grows with it.
    let shape = window((-0.2, 0.2), (46.0, 64.0));
    let bare = strain(&ball(), shape.clone());
    let grown = strain(&ball().grown(5.0), shape);
    near(grown.taut(), bare.taut(), 0.02);
}

/// Between two meridians a ball narrows by the cosine of the latitude, so a slit from the edge of a film
/// to the middle of it, between fingers w apart, opens by w (1 - cos(y / R)) at the height y above the
/// strip that holds them; with a strip of some height a little less.
#[test]
fn slits_on_a_ball_open_to_wedges_of_the_right_width() {
    let limit = 0.04;
    let shape = window((-0.9, 0.9), (30.0, 80.0));
    let bare = flat(&ball(), shape.clone(), Relief::None);
    assert!(bare.strain.expect("film").taut() > 2.0 * limit, "{bare:?}");
    let found = flat(&ball(), shape, Relief::Below(limit));
    assert!(found.strain.expect("film").taut() <= limit, "{:?}", found.strain);
    assert_eq!(found.groups.len(), 1, "it holds together");
    assert_eq!(found.groups[0].len(), 1);
    let columns = found.cuts / 2 + 1;
    assert!((3..=5).contains(&columns), "{columns}");
    let apart_mm = 1.8 * BALL_MM / columns as f64;
    let expected = apart_mm * (1.0 - libm::cos(25.0 / BALL_MM));
    near(found.wedge_mm, expected, 0.15);
    // What the wedges take out is no film of the ball: areas agree.
    let area = 1.8 * BALL_MM * BALL_MM * 2.0 * libm::sin(25.0 / BALL_MM);
    near(area_mm2(&found.groups[0][0]), area, 0.01);
}

#[test]
fn film_on_a_waist_is_cut_right_through() {
    let waist = wall(80.0, |along| 35.0 * libm::cosh((along - 40.0) / BALL_MM));
    let found = flat(&waist, window((-0.8, 0.8), (10.0, 70.0)), Relief::Below(0.04));
    assert!(found.strain.expect("film").taut() <= 0.04, "{:?}", found.strain);
    assert_eq!(found.groups.len(), found.cuts + 1);
    assert_eq!(found.wedge_mm, 0.0);
}

#[test]
fn film_within_its_limit_is_left_whole() {
    let found = flat(&ball(), disc(5.0, 55.0), Relief::Below(0.01));
    assert_eq!((found.cuts, found.groups.len()), (0, 1));
}

#[test]
fn film_all_round_and_over_the_pole_gives_figures() {
    let lid = wall(60.0, |along| BALL_MM * libm::sin(along / BALL_MM));
    let found = strain(&lid, window((-PI, PI), (0.0, 30.0)));
    assert!(found.taut().is_finite() && found.taut() > 0.005, "{found:?}");
}

/// An ellipse of 32 by 22 mm on the shoulder of a bottle whose radius is 34 + 6 cos((s - 10) / 14).
/// Expected: a mesh of 80 rings of triangles with the least sum of squared Green strains, solved with
/// SciPy 1.17 (Gauss and Newton, sparse), from four meshes carried to the limit of fine ones.
#[test]
fn film_on_a_shoulder_strains_as_another_solver_says() {
    let shoulder = wall(60.0, |along| 34.0 + 6.0 * libm::cos((along - 10.0) / 14.0));
    let middle_mm = 34.0 + 6.0 * libm::cos(12.0 / 14.0);
    let ellipse = (0..600).map(|step| TAU * f64::from(step) / 600.0).map(|angle| SurfacePoint {
        around: 16.0 * libm::cos(angle) / middle_mm,
        along_mm: 22.0 + 11.0 * libm::sin(angle),
    });
    let found = strain(&shoulder, ellipse.collect());
    near(found.squeeze, 0.01545, 0.03);
    near(found.stretch, 0.0072, 0.06);
    assert!((found.squeeze_at.along_mm - 11.0).abs() < 1.0, "{found:?}");
}

/// The sail of a boat: its low corners lie beside the strip that holds the film together.
#[test]
fn a_sail_on_a_ball_is_slit_and_stays_in_one_piece() {
    let at = |around: f64, along_mm: f64| SurfacePoint { around, along_mm };
    let lerp = |a: SurfacePoint, b: SurfacePoint, n: u32| {
        let share = f64::from(n) / 60.0;
        at(a.around + (b.around - a.around) * share, a.along_mm + (b.along_mm - a.along_mm) * share)
    };
    for corners in [
        [at(-0.1, 25.0), at(0.75, 75.0), at(-0.75, 75.0)],
        [at(-0.75, 30.0), at(0.75, 30.0), at(0.2, 80.0)],
        [at(-0.7, 25.0), at(0.7, 70.0), at(-0.7, 82.0)],
    ] {
        let sides = [(0, 1), (1, 2), (2, 0)];
        let sail: Vec<_> = sides
            .iter()
            .flat_map(|(a, b)| (0..60).map(|n| lerp(corners[*a], corners[*b], n)))
            .collect();
        let limit = 0.03;
        let bare = strain(&ball(), sail.clone());
        assert!(bare.taut() > limit, "{bare:?}");
        let found = flat(&ball(), sail.clone(), Relief::Below(limit));
        assert!(found.strain.expect("film").taut() <= limit, "{:?}", found.strain);
        assert_eq!((found.groups.len(), found.groups[0].len()), (1, 1), "{}", found.cuts);
        assert!(found.cuts >= 1 && found.wedge_mm > 0.3, "{} {}", found.cuts, found.wedge_mm);
        // Area on the ball, R ∫ cos(latitude) around along (Green), and on the sheet.
        let on_ball: f64 = sail
            .iter()
            .zip(sail.iter().cycle().skip(1))
            .map(|(a, b)| {
                let sine = |p: &SurfacePoint| libm::sin((p.along_mm - 55.0) / BALL_MM);
                0.5 * (sine(a) + sine(b)) * (b.around - a.around) * BALL_MM * BALL_MM
            })
            .sum();
        near(area_mm2(&found.groups[0][0]), on_ball.abs(), 0.01);
    }
}
