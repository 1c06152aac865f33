//! Relief cuts: slits and cuts down the wall that let a film lie within what it bears.
//!
//! Where the wall bulges (a ball) slits from the upper and the lower edge run to a strip across that
//! holds the film together; on the sheet each opens to a wedge, which is cut out. Where the wall is
//! waisted the sides of a slit would lie over each other on the sheet, so the film is cut right through.
//! A strip of width w on a wall of curvature K strains by |K| w² / 8 from its middle to its edge
//! (strain K x² / 2 at the distance x, less its mean), which says how many cuts to begin with.

use super::grid::{Parted, Parting, Shape, extent};
use super::outline::slit;
use super::samples::down;
use super::{Strain, strain};
use crate::revolved::Revolved;
use crate::sheet::Cone;
use crate::{Surface, SurfacePoint};

/// Most cuts in one shape; a film that needs more is better cut in pieces by its maker.
const MOST_CUTS: usize = 60;
/// How many cuts more than the strip's formula says are tried.
const MORE_CUTS: usize = 6;
/// Heights of the strip that are tried, as shares of what the formula says.
const STRIPS: [f64; 4] = [1.0, 0.85, 0.7, 0.5];
/// Sides of a slit may lie over each other by this much, mm, which is less than a blade is wide.
const OVER_MM: f64 = 0.1;
/// How far a cut may be moved from its even place to where it is hidden, as a share of their distance.
const ASIDE: f64 = 0.15;
/// Places looked at to either side.
const TRIED: i32 = 6;

/// A shape with relief cuts.
pub(super) struct Relieved {
    /// What is left of it, each with the slits that it is parted by.
    shapes: Vec<Shape>,
    parting: Parting,
    cones: Vec<Cone>,
    /// Cut right through, so that each piece is placed by itself.
    pub(super) through: bool,
    /// How many cuts meet film.
    pub(super) cuts: usize,
    /// Widest wedge, mm.
    pub(super) wedge_mm: f64,
    pub(super) strain: Strain,
}

/// One film of a shape that was cut: it lies as a whole.
pub(super) struct Piece<'a> {
    pub(super) film: Parted<'a>,
    pub(super) shapes: Vec<Shape>,
}

impl Relieved {
    /// Its films.
    pub(super) fn pieces<'a>(&'a self, surface: &'a Surface) -> Vec<Piece<'a>> {
        if !self.through {
            let all: Shape = self.shapes.iter().flatten().cloned().collect();
            let film = Parted::slit(surface, &self.cones[0], &all, self.parting.clone());
            return vec![Piece { film, shapes: self.shapes.clone() }];
        }
        let whole = |(shape, cone): (&Shape, &'a Cone)| Piece {
            film: Parted::whole(surface, cone, shape),
            shapes: vec![shape.clone()],
        };
        self.shapes.iter().zip(&self.cones).map(whole).collect()
    }
}

/// A shape with the fewest cuts found that keep it below a limit when laid taut; `None` if none do.
pub(super) fn relieved(
    revolved: &Revolved,
    surface: &Surface,
    band: usize,
    shape: &Shape,
    limit: f64,
) -> Option<Relieved> {
    let job = Job::new(revolved, surface, band, shape, limit);
    let fewest = (job.width_mm / (1.1 * job.strip_mm)).ceil().max(2.0) as usize - 1;
    for through in [false, true] {
        for count in fewest..=(fewest + MORE_CUTS).min(MOST_CUTS) {
            match if through { job.through(count) } else { job.slit(count) } {
                Tried::Within(relieved) => return Some(*relieved),
                Tried::Over => {}
                Tried::Overlaps => break,
            }
        }
    }
    None
}

/// What came of some cuts.
enum Tried {
    /// The film lies within the limit.
    Within(Box<Relieved>),
    /// It still strains too much.
    Over,
    /// It cannot be cut from one sheet.
    Overlaps,
}

struct Job<'a> {
    revolved: &'a Revolved,
    surface: &'a Surface,
    band: usize,
    shape: &'a Shape,
    limit: f64,
    low: SurfacePoint,
    high: SurfacePoint,
    /// Of its widest parallel.
    width_mm: f64,
    /// Width of a strip that strains as much as the limit.
    strip_mm: f64,
    /// Height that the film's middle lies at.
    middle_mm: f64,
}

impl<'a> Job<'a> {
    fn new(
        revolved: &'a Revolved,
        surface: &'a Surface,
        band: usize,
        shape: &'a Shape,
        limit: f64,
    ) -> Self {
        let (low, high) = extent(shape);
        let steps = 64;
        let step = (high.along_mm - low.along_mm) / f64::from(steps);
        let places = (0..steps).map(|n| low.along_mm + (f64::from(n) + 0.5) * step);
        let (mut widest, mut curvature) = (0.0_f64, 0.0_f64);
        for along_mm in places {
            let radius = surface.around_scale_mm(along_mm).max(1e-3);
            let slope = |along_mm: f64| surface.normal(SurfacePoint { around: 0.0, along_mm }).z;
            let bend = slope(along_mm + 0.5 * step) - slope(along_mm - 0.5 * step);
            let bend = bend / (step * surface.along_scale(along_mm));
            widest = widest.max(radius);
            // Of a surface of revolution: -r'' / r by the length of its meridian.
            curvature = curvature.max((bend / radius).abs());
        }
        Self {
            revolved,
            surface,
            band,
            shape,
            limit,
            low,
            high,
            width_mm: (high.around - low.around) * widest,
            strip_mm: (8.0 * limit / curvature.max(1e-12)).sqrt(),
            middle_mm: middle_mm(shape, (low, high)),
        }
    }

    fn cone(&self, shape: &Shape) -> Cone {
        let (low, high) = extent(shape);
        Cone::over(self.revolved, self.band, (low.along_mm, high.along_mm))
    }

    /// Cuts at even distances, each moved to where it cuts least film outside a strip and, where that is
    /// the same, nearer to the back.
    fn places(&self, count: usize, strip_mm: Option<(f64, f64)>) -> Vec<f64> {
        let apart = (self.high.around - self.low.around) / (count as f64 + 1.0);
        let cut_mm = |around: f64| -> f64 {
            let kept = |(from, to): (f64, f64)| {
                let held = strip_mm.map_or(0.0, |(a, b)| (to.min(b) - from.max(a)).max(0.0));
                to - from - held
            };
            down(self.shape, around).into_iter().map(kept).sum()
        };
        (1..=count)
            .map(|n| {
                let even = self.low.around + n as f64 * apart;
                let tried = (-TRIED..=TRIED)
                    .map(|aside| even + f64::from(aside) * apart * ASIDE / f64::from(TRIED));
                let rank = |around: f64| ((cut_mm(around) * 4.0).round(), -around.abs());
                tried
                    .min_by(|a, b| {
                        let (a, b) = (rank(*a), rank(*b));
                        a.0.total_cmp(&b.0).then(a.1.total_cmp(&b.1))
                    })
                    .unwrap_or(even)
            })
            .collect()
    }

    fn slit(&self, count: usize) -> Tried {
        let height = self.high.along_mm - self.low.along_mm;
        for share in STRIPS {
            let half = 0.5 * (share * self.strip_mm).min(0.9 * height);
            let middle = self.middle_mm.clamp(
                self.low.along_mm + half + 0.02 * height,
                self.high.along_mm - half - 0.02 * height,
            );
            let strip_mm = Some((middle - half, middle + half));
            let slits = self.places(count, strip_mm);
            let shapes = slit(self.shape, &slits, strip_mm, self.scale_mm());
            let all: Shape = shapes.iter().flatten().cloned().collect();
            let cone = self.cone(&all);
            let parting = Parting { slits, strip_mm };
            let film = Parted::slit(self.surface, &cone, &all, parting.clone());
            let (least_mm, wedge_mm) = film.open_mm(self.shape);
            if wedge_mm < OVER_MM && least_mm < -OVER_MM {
                return Tried::Overlaps;
            }
            let Some(strain) = strain(&film, &all) else { return Tried::Over };
            if strain.taut() <= self.limit && least_mm >= -OVER_MM {
                let cuts = self.cuts(&parting);
                return Tried::Within(Box::new(Relieved {
                    shapes,
                    parting,
                    cones: vec![cone],
                    through: false,
                    cuts,
                    wedge_mm,
                    strain,
                }));
            }
        }
        Tried::Over
    }

    fn through(&self, count: usize) -> Tried {
        let slits = self.places(count, None);
        let shapes = slit(self.shape, &slits, None, self.scale_mm());
        let cones: Vec<Cone> = shapes.iter().map(|shape| self.cone(shape)).collect();
        let mut worst: Option<Strain> = None;
        for (shape, cone) in shapes.iter().zip(&cones) {
            let film = Parted::whole(self.surface, cone, shape);
            let Some(found) = strain(&film, shape) else { return Tried::Over };
            if found.taut() > self.limit {
                return Tried::Over;
            }
            if worst.is_none_or(|worst| found.taut() > worst.taut()) {
                worst = Some(found);
            }
        }
        let Some(strain) = worst else { return Tried::Over };
        let parting = Parting { slits, strip_mm: None };
        let cuts = self.cuts(&parting);
        Tried::Within(Box::new(Relieved {
            shapes,
            parting,
            cones,
            through: true,
            cuts,
            wedge_mm: 0.0,
            strain,
        }))
    }

    /// How many cuts of a parting meet film: slits from above and from below count each.
    fn cuts(&self, parting: &Parting) -> usize {
        let met = |around: &f64| {
            let film = down(self.shape, *around);
            let (from, to) = parting.strip_mm.unwrap_or((f64::INFINITY, f64::INFINITY));
            let above = film.iter().any(|stretch| stretch.0 < from);
            let below = film.iter().any(|stretch| stretch.1 > to);
            usize::from(above) + usize::from(below)
        };
        parting.slits.iter().map(met).sum()
    }

    fn scale_mm(&self) -> f64 {
        self.surface.around_scale_mm(self.middle_mm).max(1.0)
    }
}

/// Height of the middle of a shape's area on the plane of angles and lengths.
fn middle_mm(shape: &Shape, window: (SurfacePoint, SurfacePoint)) -> f64 {
    let samples = super::samples::samples(shape, window, 24);
    let weight: f64 = samples.iter().map(|one| one.weight).sum();
    let moment: f64 = samples.iter().map(|one| one.weight * one.at.along_mm).sum();
    if weight > 0.0 { moment / weight } else { f64::midpoint(window.0.along_mm, window.1.along_mm) }
}
