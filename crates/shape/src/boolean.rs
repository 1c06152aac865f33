//! Regions as polygons on a fine whole-number grid, so that unions, cuts and what is left at the
//! back of a cup are exact and the same on every machine.
//!
//! The grid lies in the plane of (`around` times a reference radius, `along`). On a revolved part
//! half a turn is a whole number of grid steps, so the cut at the back lies exactly on the grid.

use crate::{Surface, SurfacePoint};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay::{IntOverlayOptions, Overlay};
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

/// Grid steps in half a turn: 2 µm on the widest cups.
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
            .map(|i| surface.around_scale_mm(start + (end - start) * f64::from(i) / f64::from(samples)))
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
        let Some(half) = self.half_turn else {
            return Region::filled(self, loops);
        };
        let shifted = |turns: i64| {
            loops.iter().map(move |one| {
                one.iter().map(|c| Corner::new(c.x + turns * 2 * half, c.y)).collect::<Loop>()
            })
        };
        let copies: Vec<Loop> = shifted(-1).chain(shifted(0)).chain(shifted(1)).collect();
        let ys = || loops.iter().flatten().map(|c| c.y);
        let (Some(low), Some(high)) = (ys().min(), ys().max()) else {
            return Region::default();
        };
        let turn = vec![
            Corner::new(-half, low - 1),
            Corner::new(half, low - 1),
            Corner::new(half, high + 1),
            Corner::new(-half, high + 1),
        ];
        let united = Region::filled(self, &copies);
        united.combined(self, &Region { loops: vec![turn] }, OverlayRule::Intersect)
    }

    /// The grid of a flat drawing.
    pub(crate) fn paper() -> Self {
        Self { steps_per_around: 1.0 / FLAT_GRID_MM, grid_mm: FLAT_GRID_MM, half_turn: None }
    }

    fn options(&self) -> IntOverlayOptions<u128> {
        let steps = LEAST_SPECK_MM2 / (self.grid_mm * self.grid_mm);
        IntOverlayOptions { min_output_area: steps as u128, ..IntOverlayOptions::default() }
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
        let mut overlay = Overlay::<i64>::from_subj_custom(loops, plane.options(), Default::default());
        Self { loops: overlay.overlay(OverlayRule::Subject, rule).into_iter().flatten().collect() }
    }

    fn combined(&self, plane: &Plane, other: &Self, rule: OverlayRule) -> Self {
        let mut overlay = Overlay::<i64>::from_subj_and_clip_custom(
            &self.loops[..],
            &other.loops[..],
            plane.options(),
            Default::default(),
        );
        Self { loops: overlay.overlay(rule, FillRule::NonZero).into_iter().flatten().collect() }
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

    /// What lies at least so far inside it, mm; only on a flat part, where the grid is true to size.
    #[must_use]
    pub(crate) fn inset(&self, plane: &Plane, inset_mm: f64) -> Self {
        let round = IntLineJoin::Round(ArcOptions { max_step: OUTLINE_STEP, ..ArcOptions::default() });
        let style = IntOutlineStyle::new(-plane.steps(inset_mm)).line_join(round);
        let inner = self.loops[..].outline(&style).unwrap_or_default();
        Self { loops: inner.into_iter().flatten().collect() }
    }

    /// Whether there is nothing in it.
    pub(crate) fn is_empty(&self) -> bool {
        self.loops.is_empty()
    }
}
