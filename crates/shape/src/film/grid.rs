//! A film in columns that slits part, each held by a strip across.

use super::basis::Basis;
use super::lying::{Cell, Joint, Lying};
use super::samples::{down, samples};
use crate::sheet::Cone;
use crate::{Surface, SurfacePoint};
use glam::DVec2;

/// Lines of samples on a film that is not parted, on a small one, and on each cell of one that is.
const WHOLE_LINES: usize = 24;
const SMALL_LINES: usize = 9;
const CELL_LINES: usize = 9;
/// Degree of the polynomials on such a cell.
const CELL_DEGREE: usize = 3;
/// Places at which cells hang together, for each joint.
const JOINT_PLACES: usize = 12;

/// An outline and its holes.
pub(super) type Shape = Vec<Vec<SurfacePoint>>;

/// Where a film is parted.
#[derive(Debug, Clone, Default)]
pub(super) struct Parting {
    /// Angles of the slits, from left to right.
    pub(super) slits: Vec<f64>,
    /// Between these two distances along the wall nothing is slit; only with slits.
    pub(super) strip_mm: Option<(f64, f64)>,
}

/// A film that lies on a wall, parted or not.
pub(super) struct Parted<'a> {
    pub(super) lying: Lying<'a>,
    parting: Parting,
}

/// Least and greatest corner of a shape.
pub(super) fn extent(shape: &[Vec<SurfacePoint>]) -> (SurfacePoint, SurfacePoint) {
    let far = |at: f64| SurfacePoint { around: at, along_mm: at };
    shape.iter().flatten().fold((far(f64::INFINITY), far(f64::NEG_INFINITY)), |(low, high), p| {
        let least = |a: SurfacePoint, b: &SurfacePoint, of: fn(f64, f64) -> f64| SurfacePoint {
            around: of(a.around, b.around),
            along_mm: of(a.along_mm, b.along_mm),
        };
        (least(low, p, f64::min), least(high, p, f64::max))
    })
}

impl<'a> Parted<'a> {
    /// A film in one piece.
    pub(super) fn whole(surface: &'a Surface, cone: &'a Cone, shape: &Shape) -> Self {
        let (low, high) = extent(shape);
        let widest =
            surface.around_scale_mm(low.along_mm).max(surface.around_scale_mm(high.along_mm));
        let size_mm =
            libm::hypot((high.around - low.around) * widest, high.along_mm - low.along_mm);
        // On a ball the form of a round film is of the third degree but for a share of the fourth power
        // of its size over the radius.
        let (degree, lines) = match size_mm / widest.max(1.0) {
            share if share < 0.25 => (3, SMALL_LINES),
            share if share < 0.5 => (3, WHOLE_LINES),
            share if share < 2.0 => (5, WHOLE_LINES),
            _ => (7, WHOLE_LINES),
        };
        let corner = |at: SurfacePoint| (at.around, at.along_mm);
        let cell = Cell {
            basis: Basis::new(corner(low), corner(high), degree),
            samples: samples(shape, (low, high), lines),
        };
        let lying = Lying::new(surface, cone, vec![cell], Vec::new());
        Self { lying, parting: Parting::default() }
    }

    /// A film with slits from both edges to a strip that holds it together.
    pub(super) fn slit(
        surface: &'a Surface,
        cone: &'a Cone,
        shape: &Shape,
        parting: Parting,
    ) -> Self {
        let (low, high) = extent(shape);
        let (from, to) = parting.strip_mm.unwrap_or((low.along_mm, high.along_mm));
        let mut columns = vec![low.around];
        columns.extend(&parting.slits);
        columns.push(high.around);
        let rows = [low.along_mm, from, to, high.along_mm];
        let (mut cells, mut joints) = (Vec::new(), Vec::new());
        for (column, sides) in columns.windows(2).enumerate() {
            for (row, ends) in rows.windows(2).enumerate() {
                let (low, high) = ((sides[0], ends[0]), (sides[1], ends[1]));
                let place = |(around, along_mm): (f64, f64)| SurfacePoint { around, along_mm };
                let samples = samples(shape, (place(low), place(high)), CELL_LINES);
                cells.push(Cell { basis: Basis::new(low, high, CELL_DEGREE), samples });
                let here = 3 * column + row;
                if row > 0 {
                    joints.push(Joint {
                        cells: (here - 1, here),
                        places: across(shape, surface, (sides[0], sides[1]), ends[0]),
                    });
                }
                if column > 0 && row == 1 {
                    joints.push(Joint {
                        cells: (here - 3, here),
                        places: along(shape, sides[0], (ends[0], ends[1])),
                    });
                }
            }
        }
        joints.retain(|joint| !joint.places.is_empty());
        Self { lying: Lying::new(surface, cone, cells, joints), parting }
    }

    /// The cell that holds a place.
    fn cell(&self, at: SurfacePoint) -> usize {
        let Some((from, to)) = self.parting.strip_mm else { return 0 };
        let column = self.parting.slits.partition_point(|slit| *slit <= at.around);
        let row = usize::from(at.along_mm >= from) + usize::from(at.along_mm > to);
        3 * column + row
    }

    /// Place on the sheet, mm.
    pub(super) fn on_sheet(&self, at: SurfacePoint) -> DVec2 {
        self.lying.on_sheet(self.cell(at), at)
    }

    /// How the film is strained there.
    pub(super) fn stretched(&self, at: SurfacePoint) -> super::lying::Stretched {
        self.lying.stretched(self.cell(at), at)
    }

    /// How wide the slits stand open on the sheet, mm, least and most over all places where film lies on
    /// both sides; negative where the sides would lie over each other.
    pub(super) fn open_mm(&self, shape: &Shape) -> (f64, f64) {
        let Some((from, to)) = self.parting.strip_mm else { return (0.0, 0.0) };
        let mut open = (f64::INFINITY, f64::NEG_INFINITY);
        for (column, slit) in self.parting.slits.iter().enumerate() {
            for (top, bottom) in down(shape, *slit) {
                for step in 0..=8 {
                    let along_mm = top + (bottom - top) * f64::from(step) / 8.0;
                    if (from..=to).contains(&along_mm) {
                        continue;
                    }
                    let at = SurfacePoint { around: *slit, along_mm };
                    let row = if along_mm < from { 0 } else { 2 };
                    let left = self.lying.on_sheet(3 * column + row, at);
                    let right = self.lying.on_sheet(3 * (column + 1) + row, at);
                    let aside = SurfacePoint { around: slit - 1e-4, along_mm };
                    let way = left - self.lying.on_sheet(3 * column + row, aside);
                    let gap = (right - left).dot(way.normalize_or_zero());
                    open = (open.0.min(gap), open.1.max(gap));
                }
            }
        }
        if open.0 > open.1 { (0.0, 0.0) } else { open }
    }
}

/// Places of film on a line across, and the length that each stands for.
fn across(
    shape: &Shape,
    surface: &Surface,
    (left, right): (f64, f64),
    along_mm: f64,
) -> Vec<(SurfacePoint, f64)> {
    let step = (right - left) / JOINT_PLACES as f64;
    let places = (0..JOINT_PLACES).map(|n| left + (n as f64 + 0.5) * step);
    let scale = surface.around_scale_mm(along_mm);
    places
        .filter(|around| down(shape, *around).iter().any(|(a, b)| (*a..=*b).contains(&along_mm)))
        .map(|around| (SurfacePoint { around, along_mm }, step * scale))
        .collect()
}

/// Places of film on a line down, and the length that each stands for.
fn along(shape: &Shape, around: f64, (from, to): (f64, f64)) -> Vec<(SurfacePoint, f64)> {
    let step = (to - from) / JOINT_PLACES as f64;
    let film = down(shape, around);
    (0..JOINT_PLACES)
        .map(|n| from + (n as f64 + 0.5) * step)
        .filter(|along_mm| film.iter().any(|(a, b)| (*a..=*b).contains(along_mm)))
        .map(|along_mm| (SurfacePoint { around, along_mm }, step))
        .collect()
}
