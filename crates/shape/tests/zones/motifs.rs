//! Motifs that go round against closed forms: areas, lengths, pitches, no seam; and what holds for all.

use crate::support::*;
use ::piece::*;
use shape::{Shape, shape};
use std::f64::consts::PI;

/// A cylinder of 40 mm radius.
pub const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];
/// A lid with a hole, from the hole outwards: a cone so wide that it is nearly level.
pub const LID: [(f64, f64); 2] = [(0.0, 10.0), (33.0, 42.0)];

pub fn strewn(apart_mm: f64, count: Option<u32>) -> Strewn {
    Strewn { apart_mm, count }
}

pub fn of_kind(kind: MotifKind, from_mm: f64, to_mm: f64) -> Region {
    let motif = Motif { kind, seed: Some(3), inverse: false };
    Region { motif: Some(motif), ..band(level(from_mm), level(to_mm)) }
}

/// Within a share of what is expected.
#[track_caller]
pub fn near_share(found: f64, expected: f64, share: f64) {
    near(found, expected, share * expected);
}

/// Lateral area of a frustum (Zwillinger, CRC Standard Mathematical Tables).
pub fn frustum_mm2(wall: [(f64, f64); 2], from_mm: f64, to_mm: f64) -> f64 {
    let radius = |along: f64| wall[0].1 + (wall[1].1 - wall[0].1) * along / wall[1].0;
    PI * (radius(from_mm) + radius(to_mm)) * (to_mm - from_mm)
}

/// Each quarter turn holds a quarter of it, wherever the quarters begin at the same place of the
/// pattern: there is no seam.
#[track_caller]
fn no_seam(wall: [(f64, f64); 2], region: &Region) {
    let whole = zone(revolved(&wall), region.clone());
    for quarter in 0..4 {
        let from = 0.5 * PI * f64::from(quarter) - PI;
        let window = Region { window_rad: Some((from, from + 0.5 * PI)), ..region.clone() };
        let part = zone(revolved(&wall), window);
        near_share(part.area_mm2, 0.25 * whole.area_mm2, 1e-5);
    }
}

#[test]
fn stripes_take_their_share_of_the_zone() {
    for (wall, twist_rad) in [(CAN, 0.0), (CUP, 0.0), (CUP, 2.5), (CUP, -40.0), (LID, 1.0)] {
        let kind = MotifKind::Stripes { pitch: Pitch::Round(8), share: 0.3, twist_rad };
        let region = of_kind(kind, 2.0, 32.0);
        let stripes = zone(revolved(&wall), region.clone());
        near_share(stripes.area_mm2, 0.3 * frustum_mm2(wall, 2.0, 32.0), 1e-4);
        assert_eq!(stripes.area.shapes(&stripes.surface), 8, "twist {twist_rad}");
        no_seam(wall, &region);
    }
}

#[test]
fn twisted_stripes_on_a_cylinder_are_helices() {
    // A helix that turns by t over a height h on a radius r is sqrt((r t)² + h²) long (do Carmo,
    // Differential Geometry of Curves and Surfaces, section 1-5).
    let (twist_rad, height) = (1.5 * PI, 120.0);
    let kind = MotifKind::Stripes { pitch: Pitch::Round(6), share: 0.5, twist_rad };
    let stripes = zone(revolved(&CAN), of_kind(kind, 30.0, 30.0 + height));
    let helix = (40.0 * twist_rad).hypot(height);
    let level = 2.0 * 0.5 * 2.0 * PI * 40.0;
    near_share(stripes.area.edge_length_mm(&stripes.surface), 12.0 * helix + level, 1e-4);
}

#[test]
fn twisted_stripes_on_a_cone_keep_their_pitch() {
    // Turning by k for each mm along a cone whose radius is u / k grows by m for each mm, a line is
    // the integral of sqrt(1 + u²) du / (k m) long, with the antiderivative
    // (u sqrt(1 + u²) + asinh u) / 2 (Zwillinger, CRC Standard Mathematical Tables).
    let (twist_rad, from, to) = (1.5 * PI, 30.0, 150.0);
    let kind = MotifKind::Stripes { pitch: Pitch::Round(6), share: 0.5, twist_rad };
    let stripes = zone(revolved(&CUP), of_kind(kind, from, to));
    let (slope, rate) = (-12.0 / 180.0, twist_rad / (to - from));
    let radius = |along: f64| 45.0 + slope * along;
    let whole = |u: f64| 0.5 * (u * (1.0 + u * u).sqrt() + u.asinh());
    let line = (whole(rate * radius(to)) - whole(rate * radius(from))) / (rate * slope);
    let level = 0.5 * 2.0 * PI * (radius(from) + radius(to));
    near_share(stripes.area.edge_length_mm(&stripes.surface), 12.0 * line + level, 1e-4);
    // The same depth for every quarter turn: so far down, the stripe at the front is a quarter on.
    for quarter in 1..=2 {
        let turned = 0.5 * PI * f64::from(quarter);
        let along = from + turned / rate;
        let field = shape::Field::new(&stripes.surface, &stripes.area);
        let clear = field.clearance_mm(at((turned + PI).rem_euclid(2.0 * PI) - PI, along - 1e-3));
        assert!(clear > 0.9 * 0.5 * radius(along) * PI / 6.0 * 0.5, "{quarter}: {clear}");
    }
}

#[test]
fn checks_cover_half() {
    for (wall, round) in [(CAN, 16), (CUP, 20), (LID, 12)] {
        let region = of_kind(MotifKind::Checks { pitch: Pitch::Round(round) }, 1.0, 32.0);
        let checks = zone(revolved(&wall), region.clone());
        near_share(checks.area_mm2, 0.5 * frustum_mm2(wall, 1.0, 32.0), 1e-4);
        no_seam(wall, &region);
    }
    // On a cylinder whose height is a whole number of pitches every check is a square.
    let pitch = 2.0 * PI * 40.0 / 20.0;
    let kind = MotifKind::Checks { pitch: Pitch::Round(20) };
    let checks = zone(revolved(&CAN), of_kind(kind, 20.0, 20.0 + 7.0 * pitch));
    near_share(checks.area_mm2, 70.0 * pitch * pitch, 1e-4);
    near_share(checks.area.edge_length_mm(&checks.surface), 70.0 * 4.0 * pitch, 1e-3);
}

#[test]
fn honeycomb_leaves_its_bars() {
    // A hexagon of width a across its sides has an area of a² sqrt(3) / 2 (Zwillinger), so cells of
    // width p - b at a pitch p cover ((p - b) / p)².
    for (round, bar_mm) in [(20, 1.0), (36, 2.5), (12, 0.4)] {
        let pitch = 2.0 * PI * 40.0 / f64::from(round);
        let kind = MotifKind::Honeycomb { pitch: Pitch::Round(round), bar_mm, whole: false };
        let (from, to) = (17.0, 17.0 + 3.0 * pitch * 3.0_f64.sqrt());
        let region = of_kind(kind, from, to);
        let cells = zone(revolved(&CAN), region.clone());
        let share = (1.0 - bar_mm / pitch) * (1.0 - bar_mm / pitch);
        near_share(cells.area_mm2, share * frustum_mm2(CAN, from, to), 2e-4);
        no_seam(CAN, &region);
    }
}

#[test]
fn whole_cells_are_regular_and_their_bars_keep_their_width_on_a_taper() {
    let kind = MotifKind::Honeycomb { pitch: Pitch::Round(24), bar_mm: 1.5, whole: true };
    let cells = zone(revolved(&CUP), of_kind(kind, 20.0, 160.0));
    let mut rows: Vec<f64> = Vec::new();
    for one in cells.area.loops.iter().filter(|one| one.iter().all(|p| p.around.abs() < 3.0)) {
        let ends = |value: &dyn Fn(&shape::SurfacePoint) -> f64| {
            one.iter().map(value).fold((f64::INFINITY, f64::NEG_INFINITY), |(low, high), one| {
                (low.min(one), high.max(one))
            })
        };
        let (left, right) = ends(&|p| p.around);
        let (top, bottom) = ends(&|p| p.along_mm);
        let middle = 0.5 * (top + bottom);
        let radius = 45.0 - 12.0 * middle / 180.0;
        let width = (right - left) * radius;
        near(width, 2.0 * PI * radius / 24.0 - 1.5, 0.03);
        // Height over the tips is 2 / sqrt(3) of the width across the sides (Zwillinger).
        near_share(bottom - top, width * 2.0 / 3.0_f64.sqrt(), 0.01);
        rows.push(middle);
    }
    rows.sort_by(f64::total_cmp);
    rows.dedup_by(|a, b| (*a - *b).abs() < 0.1);
    assert!(rows.len() > 8, "{rows:?}");
}

#[test]
fn scales_cover_what_their_circles_leave_seen() {
    // What is seen of a scale lies between its own circle and those above, whose areas are integrals
    // of sqrt(r² - x²); summed here by the midpoint rule.
    for (round, gap) in [(24, 0.8), (18, 2.0), (40, 0.3)] {
        let radius = PI * 40.0 / f64::from(round);
        let (own, above) = (radius - 0.5 * gap, radius + 0.5 * gap);
        let steps = 200_000;
        let step = radius / f64::from(steps);
        let half: f64 = (0..steps)
            .map(|i| {
                let x = (f64::from(i) + 0.5) * step;
                let lower = (own * own - x * x).max(0.0).sqrt();
                let upper = (above * above - (x - radius) * (x - radius)).sqrt() - radius;
                (lower - upper).max(0.0) * step
            })
            .sum();
        let kind = MotifKind::Scales { pitch: Pitch::Round(round), gap_mm: gap, whole: false };
        let region = of_kind(kind, 20.0, 20.0 + 12.0 * radius);
        let scales = zone(revolved(&CAN), region.clone());
        near_share(scales.area_mm2, 12.0 * f64::from(round) * 2.0 * half, 1e-3);
        no_seam(CAN, &region);
    }
}

/// One of each kind, as a maker might write it.
pub fn one_of_each() -> Vec<MotifKind> {
    let size_mm = (4.0, 7.0);
    let strewn = strewn(2.0, None);
    let all = [Confetto::Disc, Confetto::Square, Confetto::Triangle, Confetto::Strip];
    vec![
        MotifKind::Drips { count: 9, width_mm: (4.0, 9.0), length_mm: (8.0, 40.0), solid_mm: 4.0 },
        MotifKind::Reeds {
            count: 50,
            height_mm: (20.0, 60.0),
            width_mm: 3.0,
            lean_rad: 0.3,
            heads: 0.3,
        },
        MotifKind::Rain { length_mm: (6.0, 11.0), width_mm: 1.2, slant_rad: 0.2, strewn },
        MotifKind::Stars { points: 5, size_mm, inner: 0.4, tilt_rad: 0.3, strewn },
        MotifKind::Petals { petals: 6, size_mm: (9.0, 15.0), heart: 0.3, strewn },
        MotifKind::Confetti { shapes: all.to_vec(), size_mm, strewn },
        MotifKind::Scales { pitch: Pitch::Round(20), gap_mm: 0.8, whole: true },
        MotifKind::Checks { pitch: Pitch::Round(20) },
        MotifKind::Stripes { pitch: Pitch::Round(9), share: 0.4, twist_rad: 2.0 },
        MotifKind::Honeycomb { pitch: Pitch::Round(22), bar_mm: 1.0, whole: false },
    ]
}

#[test]
fn a_motif_and_its_inverse_make_up_the_zone() {
    for kind in one_of_each() {
        let ours = of_kind(kind.clone(), 20.0, 150.0);
        let motif = ours.motif.clone().map(|motif| Motif { inverse: true, ..motif });
        let theirs = Region { motif, ..ours.clone() };
        let (ours, theirs) = (zone(revolved(&CUP), ours), zone(revolved(&CUP), theirs));
        let whole = frustum_mm2(CUP, 20.0, 150.0);
        near_share(ours.area_mm2 + theirs.area_mm2, whole, 1e-5);
        assert!(ours.area_mm2 > 0.02 * whole, "{} {}", kind.key(), ours.area_mm2 / whole);
    }
}

#[test]
fn the_same_seed_gives_the_same_motif_and_another_seed_another() {
    let made = |kind: &MotifKind, seed: Option<u64>, of_piece: u64, name: &str| -> Shape {
        let mut region = of_kind(kind.clone(), 20.0, 150.0);
        region.motif = region.motif.map(|motif| Motif { seed, ..motif });
        let mut piece = piece_of(revolved(&CUP), vec![(region, film())]);
        piece.seed = of_piece;
        piece.zones[0].name = name.into();
        shape(&piece, &studio()).expect("sound piece")
    };
    for kind in one_of_each().into_iter().take(6) {
        let loops =
            |seed, of_piece, name| made(&kind, seed, of_piece, name).zones.remove(0).area.loops;
        assert_eq!(loops(Some(5), 1, "a"), loops(Some(5), 2, "b"), "{}", kind.key());
        assert_ne!(loops(Some(5), 1, "a"), loops(Some(6), 1, "a"), "{}", kind.key());
        assert_eq!(loops(None, 1, "a"), loops(None, 1, "a"), "{}", kind.key());
        assert_ne!(loops(None, 1, "a"), loops(None, 2, "a"), "{}", kind.key());
        assert_ne!(loops(None, 1, "a"), loops(None, 1, "b"), "{}", kind.key());
    }
}
