//! How much clear resin buries what stands out, in how many coats and with which waits.

use super::Sprinkled;
use super::flake::{Coarseness, coarseness};

/// What stands out of a surface.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Relief {
    /// Height of what stands highest, mm.
    pub peak_mm: f64,
    /// What of it is solid, as a mean thickness, mm.
    pub solid_mm: f64,
}

impl Relief {
    /// A smooth surface; marker, which leaves no film that can be felt, counts as one.
    pub const SMOOTH: Self = Self { peak_mm: 0.0, solid_mm: 0.0 };

    /// Glitter.
    pub fn glitter(glitter: &Sprinkled) -> Self {
        Self { peak_mm: glitter.peak_mm(), solid_mm: glitter.solid_mm() }
    }

    /// An edge of film or paint: a step of its thickness, which covers this share of the surface; 0 is
    /// the worst, small shapes far apart.
    pub fn edge(step_mm: f64, share: f64) -> Self {
        Self { peak_mm: step_mm, solid_mm: step_mm * share.clamp(0.0, 1.0) }
    }
}

/// Clear coats over a relief.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Burial {
    /// Clear resin needed, as a mean thickness, mm.
    pub needed_mm: f64,
    /// How many coats that is.
    pub coats: u32,
    /// Thickness of those coats, mm.
    pub total_mm: f64,
    /// Resin over what stands highest after them, before sanding, mm; at least cover and sanding.
    pub over_peaks_mm: f64,
}

/// What a mix of `mixed_ml` adds to `area_m2`, mm: V (1 − w)(1 − S) / A with the share `lost` on glove
/// and brush and the `shrinkage` of the cure.
pub fn coat_added_mm(mixed_ml: f64, area_m2: f64, lost: f64, shrinkage: f64) -> f64 {
    mixed_ml * (1.0 - lost) * (1.0 - shrinkage) / area_m2 / 1000.0
}

/// How many coats of `film_mm` each leave `cover_mm` over the highest places once `sanding_mm` are sanded
/// off. A balance of volumes: ripples as wide as a flake level in under a second, so that resin fills
/// the valleys first and lies flat (Orchard, Appl. Sci. Res. A 11, 451 (1962), from memory).
pub fn bury(relief: Relief, film_mm: f64, sanding_mm: f64, cover_mm: f64) -> Burial {
    let needed_mm = (relief.peak_mm + cover_mm + sanding_mm - relief.solid_mm).max(0.0);
    // A coat that would be needed for a rounding error is none.
    let coats = ((needed_mm / film_mm) - 1e-9).ceil().max(0.0) as u32;
    let total_mm = f64::from(coats) * film_mm;
    Burial {
        needed_mm,
        coats,
        total_mm,
        over_peaks_mm: total_mm + relief.solid_mm - relief.peak_mm,
    }
}

/// What a coat is for.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum BuryKind {
    /// The wet coat that the glitter is sprinkled on.
    Bed,
    /// A thin quick sealer that holds coarse flakes.
    Seal,
    /// A full clear coat.
    Clear,
}

impl BuryKind {
    /// What it is for, in a few words.
    pub fn name(self) -> &'static str {
        match self {
            Self::Bed => "bed, glitter shaken in",
            Self::Seal => "quick brushed sealer",
            Self::Clear => "clear coat",
        }
    }
}

/// One coat of the plan.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct BuryCoat {
    /// What it is for.
    pub kind: BuryKind,
    /// Thickness, mm; of the bed it is not counted as cover.
    pub film_mm: f64,
    /// From when to when after it the next coat goes on, min.
    pub wait_min: (f64, f64),
}

/// All coats until it can be sanded, in order.
#[derive(Debug, Clone, PartialEq)]
pub struct BuryPlan {
    /// The coats.
    pub coats: Vec<BuryCoat>,
    /// Clear resin over the highest flakes before sanding, mm.
    pub over_peaks_mm: f64,
}

impl BuryPlan {
    /// How many full clear coats there are.
    pub fn clear(&self) -> usize {
        self.coats.iter().filter(|coat| coat.kind == BuryKind::Clear).count()
    }
}

/// Glitter on a wet bed slides under a coat before this, min (a maker tried 2 h and it slid, 6 h held).
const BED_MIN: f64 = 360.0;
/// A quick sealer over chunky flakes, min (common practice, no source).
const SEAL_MIN: (f64, f64) = (30.0, 60.0);
/// What a brushed sealer leaves, mm (a choice, no source).
const SEAL_MM: f64 = 0.1;
/// Clear coats over chunky flakes follow after this, min (common practice, no source).
const CHUNKY_MIN: (f64, f64) = (360.0, 480.0);

/// The coats over `glitter`, or over a smooth surface, until sanding: a bed with its wait, a sealer over
/// chunky flakes, and clear coats of `film_mm` with the resin's window to recoat, `recoat_min` after a
/// pour; over chunky flakes within six to eight hours where that window allows it.
pub fn bury_plan(
    glitter: Option<&Sprinkled>,
    film_mm: f64,
    recoat_min: (f64, f64),
    sanding_mm: f64,
    cover_mm: f64,
) -> BuryPlan {
    let mut coats = Vec::new();
    let mut relief = Relief::SMOOTH;
    let mut wait_min = recoat_min;
    if let Some(glitter) = glitter {
        relief = Relief::glitter(glitter);
        let from_min = BED_MIN.max(recoat_min.0);
        for _ in 0..glitter.layers {
            let wait_min = (from_min, from_min.max(recoat_min.1));
            coats.push(BuryCoat { kind: BuryKind::Bed, film_mm, wait_min });
        }
        if coarseness(glitter.width_mm) == Coarseness::Chunky {
            coats.push(BuryCoat { kind: BuryKind::Seal, film_mm: SEAL_MM, wait_min: SEAL_MIN });
            relief.solid_mm += SEAL_MM;
            if recoat_min.1 >= CHUNKY_MIN.0 {
                let from_min = CHUNKY_MIN.0.max(recoat_min.0);
                wait_min = (from_min, from_min.max(CHUNKY_MIN.1.min(recoat_min.1)));
            }
        }
    }
    let burial = bury(relief, film_mm, sanding_mm, cover_mm);
    let clear = BuryCoat { kind: BuryKind::Clear, film_mm, wait_min };
    coats.extend((0..burial.coats).map(|_| clear));
    BuryPlan { coats, over_peaks_mm: burial.over_peaks_mm }
}
