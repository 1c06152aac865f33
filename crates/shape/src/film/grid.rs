//! A film in columns that slits part, each held by a strip across.

use super::basis::Basis;
use super::lying::{Cell, Joint, Lying};
use super::outline::clipped;
use super::samples::{down, level, samples};
use crate::sheet::Cone;
use crate::{Surface, SurfacePoint};
use glam::DVec2;

/// Lines of samples on a film that is not parted, on a small one, and on each cell of one that is.
pub(super) const WHOLE_LINES: usize = 24;
const SMALL_LINES: usize = 9;
const CELL_LINES: usize = 9;
/// Degree of the polynomials on such a cell.
const CELL_DEGREE: usize = 3;
/// Places at which cells hang together, for a joint that film fills, and the least for each stretch of film.
const JOINT_PLACES: f64 = 12.0;
const LEAST_PLACES: f64 = 3.0;

/// An outline and its holes.
pub(super) type Shape = Vec<Vec<SurfacePoint>>;

/// Where a film is parted.
#[derive(Debug, Clone, Default)]
pub(super) struct Parting {
    /// From left to right.
    pub(super) slits: Vec<Slit>,
    /// Between these two distances along the wall nothing is slit; only with slits.
    pub(super) strip_mm: Option<(f64, f64)>,
}

impl Parting {
    /// How many cuts there are: slits from above and from below count each, and so does a cut right
    /// through each stretch of film.
    pub(super) fn cuts(&self) -> usize {
        self.slits.iter().map(|slit| slit.cut_mm.len()).sum()
    }
}

/// Slits above each other.
#[derive(Debug, Clone)]
pub(super) struct Slit {
    pub(super) around: f64,
    /// Stretches of film from its edge to the strip, or right through it, mm along the wall.
    pub(super) cut_mm: Vec<(f64, f64)>,
}

impl Slit {
    /// Through whatever film reaches from the strip up or down. Film that does not meet the strip there
    /// stays whole: cut, nothing would hold it.
    pub(super) fn to_strip(shape: &Shape, around: f64, (from, to): (f64, f64)) -> Self {
        let mut cut_mm = Vec::new();
        for (top, bottom) in down(shape, around) {
            if top < from && bottom >= from {
                cut_mm.push((top, from));
            }
            if top <= to && bottom > to {
                cut_mm.push((to, bottom));
            }
        }
        Self { around, cut_mm }
    }

    /// Through all film there.
    pub(super) fn through(shape: &Shape, around: f64) -> Self {
        Self { around, cut_mm: down(shape, around) }
    }

    /// Stretches of film that are not cut.
    fn whole_mm(&self, shape: &Shape) -> Vec<(f64, f64)> {
        let mut whole = Vec::new();
        for (top, bottom) in down(shape, self.around) {
            let mut at = top;
            for (from, to) in &self.cut_mm {
                if (top..=bottom).contains(from) && (top..=bottom).contains(to) {
                    whole.push((at, *from));
                    at = *to;
                }
            }
            whole.push((at, bottom));
        }
        whole
    }
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

fn corner(at: SurfacePoint) -> (f64, f64) {
    (at.around, at.along_mm)
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
        columns.extend(parting.slits.iter().map(|slit| slit.around));
        columns.push(high.around);
        let rows = [low.along_mm, from, to, high.along_mm];
        let scale_mm = surface.around_scale_mm(f64::midpoint(from, to)).max(1.0);
        let (mut cells, mut joints) = (Vec::new(), Vec::new());
        for (column, sides) in columns.windows(2).enumerate() {
            for (row, ends) in rows.windows(2).enumerate() {
                let (low, high) = ((sides[0], ends[0]), (sides[1], ends[1]));
                let place = |(around, along_mm): (f64, f64)| SurfacePoint { around, along_mm };
                // Of a cell that film fills in part only that part counts: polynomials run wild beyond
                // what they are fitted to.
                let film = clipped(shape, (place(low), place(high)), scale_mm);
                let (low, high) =
                    if film.is_empty() { (place(low), place(high)) } else { extent(&film) };
                cells.push(Cell {
                    basis: Basis::new(corner(low), corner(high), CELL_DEGREE),
                    samples: samples(shape, (low, high), CELL_LINES),
                });
                let here = 3 * column + row;
                if row > 0 {
                    joints.push(Joint {
                        cells: (here - 1, here),
                        places: across(shape, surface, (sides[0], sides[1]), ends[0]),
                    });
                }
                if column > 0 {
                    let whole = parting.slits[column - 1].whole_mm(shape);
                    joints.push(Joint {
                        cells: (here - 3, here),
                        places: along(&whole, sides[0], (ends[0], ends[1])),
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
        let column = self.parting.slits.partition_point(|slit| slit.around <= at.around);
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

    /// How wide the slits stand open on the sheet, mm, least and most; negative where the sides would lie
    /// over each other.
    pub(super) fn open_mm(&self) -> (f64, f64) {
        let Some((from, _)) = self.parting.strip_mm else { return (0.0, 0.0) };
        let mut open = (f64::INFINITY, f64::NEG_INFINITY);
        for (column, slit) in self.parting.slits.iter().enumerate() {
            for (top, bottom) in &slit.cut_mm {
                let row = if *bottom <= from { 0 } else { 2 };
                let (left, right) = (3 * column + row, 3 * (column + 1) + row);
                // At the strip they are closed.
                let tip = if row == 0 { 8 } else { 0 };
                for step in (0..=8).filter(|step| *step != tip) {
                    let along_mm = top + (bottom - top) * f64::from(step) / 8.0;
                    let at = SurfacePoint { around: slit.around, along_mm };
                    let aside = SurfacePoint { around: slit.around - 1e-4, along_mm };
                    let side = self.lying.on_sheet(left, at);
                    let way = side - self.lying.on_sheet(left, aside);
                    let gap = (self.lying.on_sheet(right, at) - side).dot(way.normalize_or_zero());
                    open = (open.0.min(gap), open.1.max(gap));
                }
            }
        }
        if open.0 > open.1 { (0.0, 0.0) } else { open }
    }
}

/// Places of film on a line across between two angles, and the length that each stands for.
fn across(
    shape: &Shape,
    surface: &Surface,
    sides: (f64, f64),
    along_mm: f64,
) -> Vec<(SurfacePoint, f64)> {
    let scale = surface.around_scale_mm(along_mm);
    spread(&level(shape, along_mm), sides)
        .map(|(around, length)| (SurfacePoint { around, along_mm }, length * scale))
        .collect()
}

/// Places of stretches of film on a line down between two distances along the wall, and the length that
/// each stands for.
fn along(film: &[(f64, f64)], around: f64, ends: (f64, f64)) -> Vec<(SurfacePoint, f64)> {
    spread(film, ends)
        .map(|(along_mm, length)| (SurfacePoint { around, along_mm }, length))
        .collect()
}

/// Places spread over what of some stretches lies between two ends, however little that is, and the length
/// that each stands for.
fn spread(stretches: &[(f64, f64)], (from, to): (f64, f64)) -> impl Iterator<Item = (f64, f64)> {
    let within = stretches.iter().map(move |(a, b)| (a.max(from), b.min(to)));
    within.filter(|(a, b)| b > a).flat_map(move |(a, b)| {
        let share = ((b - a) / (to - from)).min(1.0);
        let places = (share * JOINT_PLACES).ceil().max(LEAST_PLACES);
        let step = (b - a) / places;
        (0..places as u32).map(move |n| (a + (f64::from(n) + 0.5) * step, step))
    })
}
