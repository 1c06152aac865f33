//! Relief cuts: slits and cuts down the wall that let a film lie within what it bears.
//!
//! Where the wall bulges (a ball) slits from the upper and the lower edge run to a strip across that
//! holds the film together; on the sheet each opens to a wedge, which is cut out. Where the wall is
//! waisted the sides of a slit would lie over each other on the sheet, so the film is cut right through.
//! A strip of width w on a wall of curvature K strains by |K| w² / 8 from its middle to its edge
//! (strain K x² / 2 at the distance x, less its mean), which says how many cuts to begin with.

use super::grid::{Parted, Parting, Shape, Slit, extent};
use super::outline::slit;
use super::samples::level;
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
    /// Whether it is cut right through, so that each piece is placed by itself.
    pub(super) fn through(&self) -> bool {
        self.parting.strip_mm.is_none()
    }

    /// Its films.
    pub(super) fn pieces<'a>(&'a self, surface: &'a Surface) -> Vec<Piece<'a>> {
        if !self.through() {
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
    /// Heights for the middle of a strip: that of the film's area, and where the film is widest.
    middles_mm: Vec<f64>,
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
        let (mut most_mm, mut widest_mm) = (0.0, low.along_mm);
        for along_mm in places {
            let radius = surface.around_scale_mm(along_mm).max(1e-3);
            let slope = |along_mm: f64| surface.normal(SurfacePoint { around: 0.0, along_mm }).z;
            let bend = slope(along_mm + 0.5 * step) - slope(along_mm - 0.5 * step);
            let bend = bend / (step * surface.along_scale(along_mm));
            widest = widest.max(radius);
            let film: f64 = level(shape, along_mm).iter().map(|(a, b)| b - a).sum();
            if film * radius > most_mm {
                (most_mm, widest_mm) = (film * radius, along_mm);
            }
            // Of a surface of revolution: -r'' / r by the length of its meridian.
            curvature = curvature.max((bend / radius).abs());
        }
        let mut middles_mm = vec![middle_mm(shape, (low, high)), widest_mm];
        middles_mm
            .dedup_by(|one, other| (*one - *other).abs() < 0.05 * (high.along_mm - low.along_mm));
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
            middles_mm,
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
            let slit = match strip_mm {
                Some(strip_mm) => Slit::to_strip(self.shape, around, strip_mm),
                None => Slit::through(self.shape, around),
            };
            slit.cut_mm.iter().map(|(from, to)| to - from).sum()
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
        let mut overlaps = true;
        for middle_mm in &self.middles_mm {
            for share in STRIPS {
                match self.slit_to(count, self.strip(*middle_mm, share)) {
                    Tried::Within(relieved) => return Tried::Within(relieved),
                    Tried::Over => overlaps = false,
                    Tried::Overlaps => break,
                }
            }
        }
        if overlaps { Tried::Overlaps } else { Tried::Over }
    }

    /// The strip about a height, of a share of what the formula says, within the film.
    fn strip(&self, middle_mm: f64, share: f64) -> (f64, f64) {
        let height = self.high.along_mm - self.low.along_mm;
        let half = 0.5 * (share * self.strip_mm).min(0.9 * height);
        let room = half + 0.02 * height;
        let middle = middle_mm.clamp(self.low.along_mm + room, self.high.along_mm - room);
        (middle - half, middle + half)
    }

    fn slit_to(&self, count: usize, strip_mm: (f64, f64)) -> Tried {
        let places = self.places(count, Some(strip_mm)).into_iter();
        let slits: Vec<Slit> =
            places.map(|around| Slit::to_strip(self.shape, around, strip_mm)).collect();
        let parting = Parting { slits, strip_mm: Some(strip_mm) };
        let shapes = slit(self.shape, &parting, self.scale_mm());
        // Slits that sever film leave pieces that nothing holds in their places.
        let [only] = shapes.as_slice() else { return Tried::Over };
        let cone = self.cone(only);
        let film = Parted::slit(self.surface, &cone, only, parting.clone());
        let (least_mm, wedge_mm) = film.open_mm();
        if wedge_mm < OVER_MM && least_mm < -OVER_MM {
            return Tried::Overlaps;
        }
        match strain(&film, only) {
            Some(strain) if strain.taut() <= self.limit && least_mm >= -OVER_MM => {
                Tried::Within(Box::new(Relieved {
                    cuts: parting.cuts(),
                    shapes,
                    parting,
                    cones: vec![cone],
                    wedge_mm,
                    strain,
                }))
            }
            _ => Tried::Over,
        }
    }

    fn through(&self, count: usize) -> Tried {
        let places = self.places(count, None).into_iter();
        let slits = places.map(|around| Slit::through(self.shape, around)).collect();
        let parting = Parting { slits, strip_mm: None };
        let shapes = slit(self.shape, &parting, self.scale_mm());
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
        Tried::Within(Box::new(Relieved {
            cuts: parting.cuts(),
            shapes,
            parting,
            cones,
            wedge_mm: 0.0,
            strain,
        }))
    }

    fn scale_mm(&self) -> f64 {
        self.surface.around_scale_mm(self.middles_mm[0]).max(1.0)
    }
}

/// Height of the middle of a shape's area on the plane of angles and lengths.
fn middle_mm(shape: &Shape, window: (SurfacePoint, SurfacePoint)) -> f64 {
    let samples = super::samples::samples(shape, window, 24);
    let weight: f64 = samples.iter().map(|one| one.weight).sum();
    let moment: f64 = samples.iter().map(|one| one.weight * one.at.along_mm).sum();
    if weight > 0.0 { moment / weight } else { f64::midpoint(window.0.along_mm, window.1.along_mm) }
}
