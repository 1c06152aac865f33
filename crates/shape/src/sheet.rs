//! One band unrolled onto a flat sheet.

use crate::Flat;
use crate::revolved::Revolved;
use crate::surface::{Surface, SurfacePoint};
use glam::DVec2;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// Farthest that a border polyline may lie from its arc, mm.
const TOLERANCE_MM: f64 = 0.01;

/// One band of a (grown) surface unrolled: x right as seen from outside, y down, the band's start at
/// the front on the origin; a flat part keeps its own coordinates (y down). It is cut open at the
/// back. On a sheet of a cone every generator keeps its length, and a parallel becomes an arc.
#[derive(Debug, Clone, PartialEq)]
pub struct Sheet {
    unrolling: Unrolling,
    borders: Vec<Vec<DVec2>>,
    cuts: Vec<[DVec2; 2]>,
    extent_mm: (DVec2, DVec2),
    error_mm: f64,
}

#[derive(Debug, Clone, PartialEq)]
enum Unrolling {
    Plate,
    Cone(Cone),
}

/// The cone, cylinder or level ring that stands for the band.
#[derive(Debug, Clone, PartialEq)]
pub(crate) struct Cone {
    /// Radius at the start of the band, mm.
    start_radius_mm: f64,
    /// Change of radius for each mm along: the sine of half its opening angle, negative where it
    /// narrows downwards.
    pub(crate) slope: f64,
    /// Places along the bare wall and how far down the grown band they lie, mm.
    lengths_mm: Vec<(f64, f64)>,
}

impl Surface {
    /// Unrolls the band with this index (see [`Surface::bands`]).
    pub fn sheet(&self, band: usize) -> Sheet {
        match self {
            Self::Revolved(revolved) => band_sheet(revolved, band),
            Self::Flat(flat) => plate_sheet(flat),
        }
    }

    /// Unrolls a stretch of a band between two places along the wall: where the band is curved both ways,
    /// on the cone nearest to it there. The same as the sheet of the band where that is exact.
    pub fn sheet_over(&self, band: usize, along_mm: (f64, f64)) -> Sheet {
        match self {
            Self::Revolved(revolved) if !self.bands()[band].straight => {
                let (cone, error_mm) = Cone::fitted(revolved, band, along_mm);
                let ends_mm = (cone.down_mm(along_mm.0), cone.down_mm(along_mm.1));
                cone_sheet(cone, ends_mm, error_mm)
            }
            Self::Revolved(_) | Self::Flat(_) => self.sheet(band),
        }
    }
}

impl Sheet {
    /// Place on the sheet, mm. A place beyond the band is taken to its nearer end.
    pub fn sheet_from_surface(&self, point: SurfacePoint) -> DVec2 {
        match &self.unrolling {
            Unrolling::Plate => DVec2::new(point.around, point.along_mm),
            Unrolling::Cone(cone) => cone.place(point.around, cone.down_mm(point.along_mm)),
        }
    }

    /// The place of the surface that lies there on the sheet; what lies beyond the ends of the band is
    /// taken to the nearer one.
    pub fn surface_from_sheet(&self, place: DVec2) -> SurfacePoint {
        match &self.unrolling {
            Unrolling::Plate => SurfacePoint { around: place.x, along_mm: place.y },
            Unrolling::Cone(cone) => {
                let (around, down_mm) = cone.unplaced(place);
                SurfacePoint { around, along_mm: cone.along_mm(down_mm) }
            }
        }
    }

    /// Border lines, mm: of a revolved band the parallels at its start and end from left to right,
    /// of a plate its closed outlines. Within 0.01 mm of the true curve.
    pub fn borders(&self) -> &[Vec<DVec2>] {
        &self.borders
    }

    /// The two sides of the cut at the back, left and right, each from the band's start to its end;
    /// none on a plate.
    pub fn cuts(&self) -> &[[DVec2; 2]] {
        &self.cuts
    }

    /// Least and greatest x and y, mm.
    pub fn extent_mm(&self) -> (DVec2, DVec2) {
        self.extent_mm
    }

    /// Greatest difference between a length on the sheet and the same on the surface, over full
    /// parallels and over lines straight down the wall, mm; 0 on a straight band.
    pub fn error_mm(&self) -> f64 {
        self.error_mm
    }

    /// Angle that a full turn takes on the sheet, radians: 2π · sin(half opening angle) of the cone
    /// (do Carmo, Differential Geometry of Curves and Surfaces, section 4-2, on the isometry of a
    /// cone and a plane sector); 0 for a cylinder, `None` for a plate.
    pub fn sector_rad(&self) -> Option<f64> {
        match &self.unrolling {
            Unrolling::Plate => None,
            Unrolling::Cone(cone) => Some(TAU * cone.slope.abs()),
        }
    }
}

impl Cone {
    /// The cone nearest to a band between two places along the bare wall. Its place 0 down is still the
    /// start of the band.
    pub(crate) fn over(revolved: &Revolved, band: usize, along_mm: (f64, f64)) -> Self {
        Self::fitted(revolved, band, along_mm).0
    }

    /// The same, and the greatest difference of a full parallel on it from that of the wall, mm.
    fn fitted(revolved: &Revolved, band: usize, (from, to): (f64, f64)) -> (Self, f64) {
        let (lengths_mm, radii_mm) = meridian(revolved, band);
        // There are at least two; `first` is at or before `from`, `last` at or after `to`.
        let ends = lengths_mm.len() - 1;
        let first = lengths_mm.partition_point(|(at, _)| *at <= from).clamp(1, ends) - 1;
        let last = lengths_mm.partition_point(|(at, _)| *at < to).clamp(first + 1, ends);
        let begin_mm = lengths_mm[first].1;
        let counted: Vec<(f64, f64)> =
            lengths_mm[first..=last].iter().map(|(at, down)| (*at, down - begin_mm)).collect();
        let (radius_mm, slope, error_mm) = fit(&counted, &radii_mm[first..=last]);
        let slope = slope.clamp(-1.0, 1.0);
        (Self { start_radius_mm: radius_mm - slope * begin_mm, slope, lengths_mm }, error_mm)
    }

    /// With ρ = r / |slope| the distance from the apex and φ = around · |slope|, the place is
    /// (ρ sin φ, distance down ∓ ρ (1 - cos φ)). Written with sin(x)/x it holds for cylinders too,
    /// and loses no digits when the apex is far away.
    pub(crate) fn place(&self, around: f64, down_mm: f64) -> DVec2 {
        let arc_mm = around * self.radius_mm(down_mm);
        let turn = around * self.slope;
        let half = sinc(turn / 2.0);
        DVec2::new(arc_mm * sinc(turn), down_mm - arc_mm * turn / 2.0 * half * half)
    }

    /// Angle round the part and how far down it is what lies at a place of the sheet: what [`Self::place`]
    /// is the other way about, in polar coordinates about the apex.
    fn unplaced(&self, place: DVec2) -> (f64, f64) {
        // So near to a cylinder that the apex is too far away to be counted from.
        if self.slope.abs() < 1e-9 {
            return (place.x / self.radius_mm(place.y).max(1e-3), place.y);
        }
        let (side, apex_mm) = (self.slope.signum(), -self.start_radius_mm / self.slope);
        let from_apex = DVec2::new(place.x, place.y - apex_mm) * side;
        let turn = libm::atan2(from_apex.x, from_apex.y);
        (turn / self.slope, apex_mm + side * from_apex.length())
    }

    /// Radius so far down, mm.
    pub(crate) fn radius_mm(&self, down_mm: f64) -> f64 {
        self.start_radius_mm + self.slope * down_mm
    }

    /// How far down the grown band a place along the bare wall lies, mm.
    pub(crate) fn down_mm(&self, along_mm: f64) -> f64 {
        let after = self.lengths_mm.partition_point(|(at, _)| *at <= along_mm);
        let i = after.clamp(1, self.lengths_mm.len() - 1);
        let ((from, start), (to, end)) = (self.lengths_mm[i - 1], self.lengths_mm[i]);
        let u = ((along_mm - from) / (to - from)).clamp(0.0, 1.0);
        start + u * (end - start)
    }

    /// The place along the bare wall that lies so far down the grown band, mm.
    fn along_mm(&self, down_mm: f64) -> f64 {
        let after = self.lengths_mm.partition_point(|(_, down)| *down <= down_mm);
        let i = after.clamp(1, self.lengths_mm.len() - 1);
        let ((start, from), (end, to)) = (self.lengths_mm[i - 1], self.lengths_mm[i]);
        start + ((down_mm - from) / (to - from)).clamp(0.0, 1.0) * (end - start)
    }

    fn length_mm(&self) -> f64 {
        self.lengths_mm[self.lengths_mm.len() - 1].1
    }

    /// The parallel at a distance down, from left to right.
    fn parallel(&self, down_mm: f64) -> Vec<DVec2> {
        let bend = (self.radius_mm(down_mm) * self.slope).abs();
        // A chord over an angle a lies ρ a² / 8 off its arc.
        let half_steps = (PI * (bend / (8.0 * TOLERANCE_MM)).sqrt()).ceil().max(1.0) as i32;
        let mut arounds: Vec<f64> =
            (-half_steps..=half_steps).map(|k| PI * f64::from(k) / f64::from(half_steps)).collect();
        // The widest places of a sector of more than half a turn.
        let widest = FRAC_PI_2 / self.slope.abs();
        if widest < PI {
            arounds.extend([-widest, widest]);
            arounds.sort_by(f64::total_cmp);
        }
        arounds.into_iter().map(|around| self.place(around, down_mm)).collect()
    }
}

/// sin(x) / x.
fn sinc(x: f64) -> f64 {
    if x == 0.0 { 1.0 } else { libm::sin(x) / x }
}

/// Places along the bare wall and how far down the grown band they lie, and the radius at each, mm.
fn meridian(revolved: &Revolved, band: usize) -> (Vec<(f64, f64)>, Vec<f64>) {
    let segments = revolved.band_segments(band);
    let mut lengths_mm = vec![(segments[0].along_mm.0, 0.0)];
    let mut radii_mm = vec![revolved.segment_ends_mm(&segments[0]).0.x];
    let mut down_mm = 0.0;
    for segment in segments {
        let (start_mm, end_mm) = segment.along_mm;
        down_mm += (end_mm - start_mm) * revolved.segment_scale(segment);
        lengths_mm.push((end_mm, down_mm));
        radii_mm.push(revolved.segment_ends_mm(segment).1.x);
    }
    (lengths_mm, radii_mm)
}

fn band_sheet(revolved: &Revolved, band: usize) -> Sheet {
    let segments = revolved.band_segments(band);
    let (lengths_mm, radii_mm) = meridian(revolved, band);
    let (start_radius_mm, slope, error_mm) = if segments.len() == 1 {
        (radii_mm[0], segments[0].normal.0.y, 0.0)
    } else {
        fit(&lengths_mm, &radii_mm)
    };
    let cone = Cone { start_radius_mm, slope, lengths_mm };
    let ends_mm = (0.0, cone.length_mm());
    cone_sheet(cone, ends_mm, error_mm)
}

/// The sheet of a cone between two distances down it.
fn cone_sheet(cone: Cone, (from_mm, to_mm): (f64, f64), error_mm: f64) -> Sheet {
    let borders = vec![cone.parallel(from_mm), cone.parallel(to_mm)];
    let side = |around: f64| [cone.place(around, from_mm), cone.place(around, to_mm)];
    let cuts = vec![side(-PI), side(PI)];
    Sheet { extent_mm: extent(&borders), borders, cuts, error_mm, unrolling: Unrolling::Cone(cone) }
}

/// The cone parallel to the one through both ends, moved so that the parallels that come out too
/// long and those that come out too short are off by the same: start radius, slope, and by how much
/// at most. (On a wall that curves one way only, no other cone comes nearer: the best straight line
/// for a convex function, Chebyshev.)
fn fit(lengths_mm: &[(f64, f64)], radii_mm: &[f64]) -> (f64, f64, f64) {
    let last = radii_mm.len() - 1;
    let slope = (radii_mm[last] - radii_mm[0]) / lengths_mm[last].1;
    let off = |i: usize, start_mm: f64| radii_mm[i] - (start_mm + slope * lengths_mm[i].1);
    let (low, high) = (0..=last)
        .map(|i| off(i, radii_mm[0]))
        .fold((0.0, 0.0), |(low, high), off| (f64::min(low, off), f64::max(high, off)));
    let least_mm = (radii_mm[0] - radii_mm[last]).max(0.0);
    let start_mm = (radii_mm[0] + (low + high) / 2.0).max(least_mm);
    let most = (0..=last).map(|i| off(i, start_mm).abs()).fold(0.0, f64::max);
    (start_mm, slope, TAU * most)
}

fn plate_sheet(flat: &Flat) -> Sheet {
    let down = |points: &Vec<DVec2>| -> Vec<DVec2> {
        let closed = points.iter().chain(points.first());
        closed.map(|at| DVec2::new(at.x, -at.y)).collect()
    };
    let borders: Vec<Vec<DVec2>> = flat.outline().iter().map(down).collect();
    let extent_mm = extent(&borders);
    Sheet { unrolling: Unrolling::Plate, borders, cuts: Vec::new(), extent_mm, error_mm: 0.0 }
}

fn extent(lines: &[Vec<DVec2>]) -> (DVec2, DVec2) {
    let mut points = lines.iter().flatten();
    let first = points.next().copied().unwrap_or_default();
    points.fold((first, first), |(low, high), at| (low.min(*at), high.max(*at)))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_place_on_the_sheet_of_a_cone_is_found_again() {
        let lengths_mm = vec![(0.0, 0.0), (40.0, 42.0), (90.0, 91.0)];
        for slope in [-0.9, -0.2, -1e-12, 0.0, 1e-7, 0.3] {
            let cone = Cone { start_radius_mm: 85.0, slope, lengths_mm: lengths_mm.clone() };
            for (around, along_mm) in [(0.0, 0.0), (1.2, 33.0), (-3.0, 77.0), (3.1, 90.0)] {
                let at = cone.place(around, cone.down_mm(along_mm));
                let (found, down_mm) = cone.unplaced(at);
                assert!((found - around).abs() < 1e-7, "{slope}: {found} {around}");
                assert!((cone.along_mm(down_mm) - along_mm).abs() < 1e-6, "{slope}: {down_mm}");
            }
        }
    }
}
