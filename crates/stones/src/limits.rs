//! Which sizes may lie where: small stones wear off near the ends of a part, and a large flat back
//! stands too high above a curved wall for the glue to fill.

use glam::DVec3;
use libm::{cos, sin};
use piece::StoneRules;
use shape::{Surface, SurfacePoint};
use std::f64::consts::PI;

/// Places along the wall that are reckoned out, mm apart.
const STEP_MM: f64 = 0.1;
/// Largest flat back that is thought of, mm.
const WIDEST_MM: f64 = 40.0;
/// Directions from the middle of a flat back in which its rise is measured, level among them; half are enough
/// for a surface that is alike to the left and to the right.
const WAYS: u32 = 9;

/// The rules of a zone ready to be asked about.
#[derive(Debug, Clone)]
pub struct Limits {
    /// Within so many mm of an end no stone of a smaller diameter, mm.
    wear: Option<(f64, f64)>,
    /// At even steps along the bare wall: the largest diameter that the glue can bed, and the way to
    /// the nearer end along the wall, mm.
    steps: Vec<(f64, f64)>,
    start_mm: f64,
    step_mm: f64,
    /// Outline of a flat part, whose edge is its end.
    outline: Vec<Vec<glam::DVec2>>,
}

impl Limits {
    /// The limits that rules set on a surface; `None` if they set none.
    pub fn new(rules: &StoneRules, surface: &Surface) -> Option<Self> {
        let bond_mm = rules.bond_line_mm.filter(|_| surface.period().is_some());
        if rules.wear.is_none() && bond_mm.is_none() {
            return None;
        }
        let (start_mm, end_mm) = surface.along_range_mm();
        let outline = match surface {
            Surface::Flat(flat) => flat.outline().to_vec(),
            Surface::Revolved(_) => Vec::new(),
        };
        let count = ((end_mm - start_mm) / STEP_MM).ceil().max(1.0) as usize;
        let step_mm = (end_mm - start_mm) / count as f64;
        let places = (0..=count).map(|k| start_mm + step_mm * k as f64);
        let mut way_mm = 0.0;
        let mut last: Option<DVec3> = None;
        let mut steps: Vec<(f64, f64)> = places
            .map(|along_mm| {
                let at = surface.world_from_surface(SurfacePoint { around: 0.0, along_mm });
                way_mm += last.map_or(0.0, |last| last.distance(at));
                last = Some(at);
                let widest = bond_mm.map(|bond_mm| widest_mm(surface, along_mm, bond_mm));
                (widest.unwrap_or(f64::INFINITY), way_mm)
            })
            .collect();
        for step in &mut steps {
            step.1 = step.1.min(way_mm - step.1);
        }
        Some(Self { wear: rules.wear, steps, start_mm, step_mm, outline })
    }

    /// Whether a stone may lie here; `slack_mm` makes it stricter.
    pub fn allow(&self, at: SurfacePoint, diameter_mm: f64, slack_mm: f64) -> bool {
        self.wear_allows(at, diameter_mm, slack_mm) && self.bond_allows(at, diameter_mm)
    }

    /// The same for wear alone: a small stone keeps its whole girdle away from the ends.
    pub fn wear_allows(&self, at: SurfacePoint, diameter_mm: f64, slack_mm: f64) -> bool {
        self.wear.is_none_or(|(within_mm, least_mm)| {
            diameter_mm >= least_mm - 1e-9
                || self.from_end_mm(at) - 0.5 * diameter_mm >= within_mm + slack_mm
        })
    }

    /// The same for the bond line alone.
    pub fn bond_allows(&self, at: SurfacePoint, diameter_mm: f64) -> bool {
        let ([low, high], _) = self.step(at);
        // Where the wall turns, of two places the stricter counts.
        diameter_mm <= low.0.min(high.0) + 1e-6
    }

    /// From a place to the nearer end of the part, mm.
    pub fn from_end_mm(&self, at: SurfacePoint) -> f64 {
        if self.outline.is_empty() {
            let ([low, high], share) = self.step(at);
            return low.1 + share * (high.1 - low.1);
        }
        // Mm down from the centre on a flat part, whose outline has y up.
        let point = glam::DVec2::new(at.around, -at.along_mm);
        let pieces = self.outline.iter().flat_map(|ring| {
            ring.iter().zip(ring.iter().cycle().skip(1)).map(|(a, b)| (*a, *b - *a))
        });
        let away = pieces.map(|(a, along)| {
            let to = point - a;
            let share =
                (to.dot(along) / along.length_squared().max(f64::MIN_POSITIVE)).clamp(0.0, 1.0);
            to.distance_squared(along * share)
        });
        away.fold(f64::INFINITY, f64::min).sqrt()
    }

    /// The reckoned places on both sides and how far it is between them.
    fn step(&self, at: SurfacePoint) -> ([(f64, f64); 2], f64) {
        let last = self.steps.len() - 1;
        let k = ((at.along_mm - self.start_mm) / self.step_mm).clamp(0.0, last as f64);
        let low = (k as usize).min(last - 1);
        ([self.steps[low], self.steps[low + 1]], k - low as f64)
    }
}

/// Diameter of the largest flat back that stands nowhere higher than this above the wall, mm.
pub(crate) fn widest_mm(surface: &Surface, along_mm: f64, bond_mm: f64) -> f64 {
    let (mut low, mut high) = (0.0, WIDEST_MM);
    if rise_mm(surface, along_mm, 0.5 * high) <= bond_mm {
        return f64::INFINITY;
    }
    for _ in 0..20 {
        let middle = 0.5 * (low + high);
        if rise_mm(surface, along_mm, 0.5 * middle) <= bond_mm {
            low = middle;
        } else {
            high = middle;
        }
    }
    low
}

/// How far the wall falls away under the rim of a flat back of this radius that touches it with its
/// middle, at most, mm; on a hollow wall, how far it rises. About r²/2R for a wall whose principal
/// radius of curvature is R (the sagitta).
pub fn rise_mm(surface: &Surface, along_mm: f64, radius_mm: f64) -> f64 {
    let at = SurfacePoint { around: 0.0, along_mm };
    let centre = surface.world_from_surface(at);
    let normal = surface.normal(at);
    let (start, end) = surface.along_range_mm();
    let (right_mm, down_mm) =
        (surface.around_scale_mm(along_mm).max(1e-3), surface.along_scale(along_mm).max(1e-3));
    let fall = |way: u32| {
        let angle = PI * (f64::from(way) / f64::from(WAYS - 1) - 0.5);
        let (right, down) = (radius_mm * cos(angle), radius_mm * sin(angle));
        // The rim lies this far from the middle in the plane of the flat back: a step along the wall
        // comes out a little shorter there and is made longer by as much.
        let mut scale = 1.0;
        let mut fall_mm = 0.0;
        for _ in 0..6 {
            let to = SurfacePoint {
                around: (scale * right / right_mm).clamp(-PI, PI),
                along_mm: (along_mm + scale * down / down_mm).clamp(start, end),
            };
            let off = surface.world_from_surface(to) - centre;
            fall_mm = -off.dot(normal);
            let flat_mm = (off + fall_mm * normal).length();
            scale *= (radius_mm / flat_mm.max(1e-6)).clamp(0.5, 2.0);
        }
        fall_mm.abs()
    };
    (0..WAYS).map(fall).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::{Measure, Run};

    fn wall(measures: &[(f64, f64)]) -> Surface {
        let measure = |(along_mm, radius_mm): &(f64, f64)| Measure {
            along_mm: *along_mm,
            radius_mm: *radius_mm,
            run: Run::Straight,
            crease: false,
            radius_step_mm: 0.0,
        };
        Surface::revolved(&measures.iter().map(measure).collect::<Vec<_>>()).expect("a wall")
    }

    #[test]
    fn a_flat_back_rises_by_the_sagitta_of_the_wall() {
        // On a cylinder the rise is R - sqrt(R² - r²), about r²/2R: the sagitta of a circle, as in any
        // handbook of geometry (from memory).
        let surface = wall(&[(0.0, 37.0), (100.0, 37.0)]);
        for radius_mm in [1.0_f64, 2.35, 3.2, 6.0] {
            let exact = 37.0 - (37.0 * 37.0 - radius_mm * radius_mm).sqrt();
            let is = rise_mm(&surface, 50.0, radius_mm);
            assert!((is - exact).abs() < 1e-4, "{is} mm, {exact} mm by the circle");
            assert!((is - radius_mm * radius_mm / 74.0).abs() < 0.01 * is);
        }
    }

    #[test]
    fn a_leaning_wall_is_flatter_than_its_radius_says() {
        // Meusnier: the normal curvature round a cone is the cosine of its lean over its radius.
        let surface = wall(&[(0.0, 20.0), (100.0, 80.0)]);
        let is = rise_mm(&surface, 50.0, 2.0);
        let sagitta = 4.0 * 0.8 / (2.0 * 50.0);
        assert!((is - sagitta).abs() < 0.03 * sagitta, "{is} mm, {sagitta} mm by the sagitta");
    }

    #[test]
    fn the_largest_size_for_a_bond_line_follows_from_the_sagitta() {
        let surface = wall(&[(0.0, 37.0), (100.0, 37.0)]);
        let rules = StoneRules { bond_line_mm: Some(0.1), ..StoneRules::default() };
        let limits = Limits::new(&rules, &surface).expect("a rule");
        // r = sqrt(2 R b) = sqrt(7.4) = 2.72 mm.
        let at = SurfacePoint { around: 1.0, along_mm: 40.0 };
        assert!(limits.allow(at, 5.43, 0.0) && !limits.allow(at, 5.45, 0.0));
    }

    #[test]
    fn near_the_ends_only_large_stones_may_lie() {
        let surface = wall(&[(0.0, 37.0), (100.0, 37.0)]);
        let rules = StoneRules { wear: Some((6.0, 2.4)), ..StoneRules::default() };
        let limits = Limits::new(&rules, &surface).expect("a rule");
        let at = |along_mm| SurfacePoint { around: 1.0, along_mm };
        assert!(limits.allow(at(1.3), 2.4, 0.0));
        assert!(!limits.allow(at(6.9), 2.0, 0.0) && limits.allow(at(7.01), 2.0, 0.0));
        assert!(!limits.allow(at(93.1), 2.0, 0.0));
    }
}
