//! Regions as polygons on a fine whole-number grid, so that unions, cuts and what is left at the
//! back of a cup are exact and the same on every machine.
//!
//! The grid lies in the plane of (`around` times a reference radius, `along`). On a revolved part
//! half a turn is a whole number of grid steps, so the cut at the back lies exactly on the grid.

use crate::{Surface, SurfacePoint};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::Overlay;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::i_float::int::angle::Angle;
use i_overlay::i_float::int::point::IntPoint;
use i_overlay::mesh::int::arc::ArcOptions;
use i_overlay::mesh::int::outline::offset::IntOutlineOffset as _;
use i_overlay::mesh::int::style::{IntLineJoin, IntOutlineStyle};
use std::f64::consts::PI;

/// A corner on the grid.
pub(crate) type Corner = IntPoint<i64>;

/// A closed loop on the grid, without a repeated last corner.
pub(crate) type Loop = Vec<Corner>;

/// Grid steps in half a turn: 0.000002 mm on a cup of 40 mm radius.
const HALF_TURN: i64 = 1 << 26;

/// Grid step of a flat part, mm.
const FLAT_GRID_MM: f64 = 1.0 / (1 << 19) as f64;

/// Anything farther out than this, mm, lies outside every part; kept so that the grid never overflows.
pub(crate) const FARTHEST_MM: f64 = 1.0e5;

/// Specks smaller than this, mm², are left out: nobody can cut, weed or fill 0.05 mm squared.
const LEAST_SPECK_MM2: f64 = 0.0025;

/// Largest turn in one step of a rounded outline: 1/128 of a full turn.
const OUTLINE_STEP: Angle = Angle::from_bits(1 << 25);

/// The grid of one part.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Plane {
    /// Steps for one unit of `around`.
    steps_per_around: f64,
    /// One grid step, mm (across at the reference radius, along everywhere).
    grid_mm: f64,
    /// Steps in half a turn; `None` on a flat part.
    pub(crate) half_turn: Option<i64>,
}

impl Plane {
    /// The grid for a bare surface; the reference radius of a revolved part is its largest.
    pub(crate) fn new(surface: &Surface) -> Self {
        if surface.period().is_none() {
            return Self::paper();
        }
        let (start, end) = surface.along_range_mm();
        let samples = 256;
        let widest = (0..=samples)
            .map(|i| {
                surface.around_scale_mm(start + (end - start) * f64::from(i) / f64::from(samples))
            })
            .fold(1.0, f64::max);
        Self {
            steps_per_around: HALF_TURN as f64 / PI,
            grid_mm: PI * widest / HALF_TURN as f64,
            half_turn: Some(HALF_TURN),
        }
    }

    /// The grid corner nearest to a place. Not wrapped: `around` may lie beyond half a turn.
    pub(crate) fn corner(&self, around: f64, along_mm: f64) -> Corner {
        let far = FARTHEST_MM / self.grid_mm;
        let step = |value: f64| value.clamp(-far, far).round() as i64;
        Corner::new(step(around * self.steps_per_around), step(along_mm / self.grid_mm))
    }

    /// The place of a grid corner; half a turn gives exactly pi.
    pub(crate) fn place(&self, corner: Corner) -> SurfacePoint {
        let around = match self.half_turn {
            Some(half) => corner.x as f64 * PI / half as f64,
            None => corner.x as f64 * self.grid_mm,
        };
        SurfacePoint { around, along_mm: corner.y as f64 * self.grid_mm }
    }

    /// A length in grid steps.
    pub(crate) fn steps(&self, length_mm: f64) -> i64 {
        (length_mm / self.grid_mm).round() as i64
    }

    /// A rectangle between two places.
    pub(crate) fn rectangle(&self, from: SurfacePoint, to: SurfacePoint) -> Loop {
        let (a, b) = (self.corner(from.around, from.along_mm), self.corner(to.around, to.along_mm));
        vec![a, Corner::new(b.x, a.y), b, Corner::new(a.x, b.y)]
    }

    /// The whole of a revolved part between two distances from the rim.
    pub(crate) fn ring(&self, from_mm: f64, to_mm: f64) -> Loop {
        self.rectangle(
            SurfacePoint { around: -PI, along_mm: from_mm },
            SurfacePoint { around: PI, along_mm: to_mm },
        )
    }

    /// Brings loops that run over the back into the one turn from -pi to pi: copies shifted by whole
    /// turns, united and clipped. Loops may reach up to one and a half turns to either side. On a flat
    /// part the same without copies.
    pub(crate) fn wrapped(&self, loops: &[Loop]) -> Region {
        let corners = || loops.iter().flatten();
        let (Some(half), Some(left), Some(right)) =
            (self.half_turn, corners().map(|c| c.x).min(), corners().map(|c| c.x).max())
        else {
            return Region::filled(self, loops);
        };
        if -half <= left && right <= half {
            return Region::filled(self, loops);
        }
        let shifts =
            [(right > half).then_some(-2 * half), Some(0), (left < -half).then_some(2 * half)];
        let copies: Vec<Loop> = shifts
            .into_iter()
            .flatten()
            .flat_map(|shift| {
                loops
                    .iter()
                    .map(move |one| one.iter().map(|c| Corner::new(c.x + shift, c.y)).collect())
            })
            .collect();
        let low = corners().map(|c| c.y).min().unwrap_or_default() - 1;
        let high = corners().map(|c| c.y).max().unwrap_or_default() + 1;
        let turn = vec![
            Corner::new(-half, low),
            Corner::new(half, low),
            Corner::new(half, high),
            Corner::new(-half, high),
        ];
        let united = Region::filled(self, &copies);
        united.combined(self, &Region { loops: vec![turn] }, OverlayRule::Intersect)
    }

    /// The grid of a flat drawing.
    pub(crate) fn paper() -> Self {
        Self { steps_per_around: 1.0 / FLAT_GRID_MM, grid_mm: FLAT_GRID_MM, half_turn: None }
    }
}

/// A region on the grid of a part: outer loops run counterclockwise (x to the right, y upwards),
/// holes clockwise, and no two cross.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Region {
    /// Its loops.
    pub(crate) loops: Vec<Loop>,
}

impl Region {
    /// What non-zero filling of the loops covers; self-crossing loops come out mended.
    pub(crate) fn filled(plane: &Plane, loops: &[Loop]) -> Self {
        Self::cleaned(plane, loops, FillRule::NonZero)
    }

    /// What even-odd filling of the loops covers.
    pub(crate) fn even_odd(plane: &Plane, loops: &[Loop]) -> Self {
        Self::cleaned(plane, loops, FillRule::EvenOdd)
    }

    fn cleaned(plane: &Plane, loops: &[Loop], rule: FillRule) -> Self {
        let mut overlay = Overlay::<i64>::from_subj(loops);
        Self::swept(plane, overlay.overlay(OverlayRule::Subject, rule).into_iter().flatten())
    }

    fn combined(&self, plane: &Plane, other: &Self, rule: OverlayRule) -> Self {
        let mut overlay = Overlay::<i64>::from_subj_and_clip(&self.loops[..], &other.loops[..]);
        Self::swept(plane, overlay.overlay(rule, FillRule::NonZero).into_iter().flatten())
    }

    /// Without specks. What lies against the cut at the back stays, since it may be the tip of
    /// something larger on the other side.
    fn swept(plane: &Plane, loops: impl Iterator<Item = Loop>) -> Self {
        let least = LEAST_SPECK_MM2 / (plane.grid_mm * plane.grid_mm);
        let at_cut =
            |one: &Loop| plane.half_turn.is_some_and(|half| one.iter().any(|c| c.x.abs() == half));
        Self { loops: loops.filter(|one| at_cut(one) || area_steps(one) >= least).collect() }
    }

    /// Without islands and without holes smaller than a disc of this width, mm.
    #[must_use]
    pub(crate) fn without_specks(mut self, plane: &Plane, width_mm: f64) -> Self {
        let least = 0.25 * PI * (width_mm / plane.grid_mm) * (width_mm / plane.grid_mm);
        self.loops.retain(|one| area_steps(one) >= least);
        self
    }

    /// What lies in both.
    #[must_use]
    pub(crate) fn intersected(&self, plane: &Plane, other: &Self) -> Self {
        if self.is_empty() || other.is_empty() {
            return Self::default();
        }
        self.combined(plane, other, OverlayRule::Intersect)
    }

    /// What lies in this and not in the other.
    #[must_use]
    pub(crate) fn without(&self, plane: &Plane, other: &Self) -> Self {
        if self.is_empty() || other.is_empty() {
            return self.clone();
        }
        self.combined(plane, other, OverlayRule::Difference)
    }

    /// What lies in either.
    #[must_use]
    pub(crate) fn united(&self, plane: &Plane, other: &Self) -> Self {
        if self.is_empty() || other.is_empty() {
            return if self.is_empty() { other.clone() } else { self.clone() };
        }
        self.combined(plane, other, OverlayRule::Union)
    }

    /// Its separate shapes, each with its holes. One that runs across the back is two.
    pub(crate) fn shapes(&self) -> impl Iterator<Item = Self> {
        let mut overlay = Overlay::<i64>::from_subj(&self.loops[..]);
        let shapes = overlay.overlay(OverlayRule::Subject, FillRule::NonZero);
        shapes.into_iter().map(|loops| Self { loops })
    }

    /// Area for each mm of edge, mm: half the width of a stroke. As on the grid, not on the surface.
    pub(crate) fn breadth_mm(&self, plane: &Plane) -> f64 {
        let (mut area, mut edge) = (0.0, 0.0);
        for one in &self.loops {
            area += signed_area_steps(one);
            for (a, b) in one.iter().zip(one.iter().cycle().skip(1)) {
                edge += libm::hypot((b.x - a.x) as f64, (b.y - a.y) as f64);
            }
        }
        plane.grid_mm * area.abs() / edge.max(1.0)
    }

    /// What lies in this and not in the other, down to the last speck.
    #[must_use]
    pub(crate) fn rest(&self, other: &Self) -> Self {
        let mut overlay = Overlay::<i64>::from_subj_and_clip(&self.loops[..], &other.loops[..]);
        let rest = overlay.overlay(OverlayRule::Difference, FillRule::NonZero);
        Self { loops: rest.into_iter().flatten().collect() }
    }

    /// What lies at least so far inside it, mm; where that is negative, all that lies so near. True to
    /// size where the grid is: on a flat part.
    #[must_use]
    pub(crate) fn inset(&self, plane: &Plane, inset_mm: f64) -> Self {
        let round =
            IntLineJoin::Round(ArcOptions { max_step: OUTLINE_STEP, ..ArcOptions::default() });
        let style = IntOutlineStyle::new(-plane.steps(inset_mm)).line_join(round);
        let inner = self.loops[..].outline(&style).unwrap_or_default();
        Self { loops: inner.into_iter().flatten().collect() }
    }

    /// Whether there is nothing in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.loops.is_empty()
    }
}

/// Area of a loop, grid steps squared.
fn area_steps(one: &Loop) -> f64 {
    signed_area_steps(one).abs()
}

/// The same, negative where it turns the other way.
fn signed_area_steps(one: &Loop) -> f64 {
    let from = one.first().copied().unwrap_or_default();
    let twice: f64 = one
        .windows(2)
        .map(|w| {
            let (a, b) = (w[0], w[1]);
            (a.x - from.x) as f64 * (b.y - from.y) as f64
                - (b.x - from.x) as f64 * (a.y - from.y) as f64
        })
        .sum();
    0.5 * twice
}
