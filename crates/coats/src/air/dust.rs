//! Dust of sanding in the air.

use super::limits::{DUST_RESPIRABLE_MG_M3, DUST_TOTAL_MG_M3};
use super::{NEAR_FIELD_M3_PER_MIN, Release, RoomAir};
use piece::{Diagnostic, FieldPath};

/// Density of cured clear epoxy, g/cm³ (from memory: 1.1 to 1.2).
const CURED_G_PER_CM3: f64 = 1.15;
/// Share of what is sanded off that floats, dry and wet, and what of it reaches the lungs (choices, no
/// source: measure, or sand wet).
const FLOATS_DRY: f64 = 0.1;
const FLOATS_WET: f64 = 0.01;
const RESPIRABLE: f64 = 0.3;

/// One bout of sanding.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sanding {
    /// Area sanded, mm².
    pub area_mm2: f64,
    /// Thickness taken off, mm.
    pub depth_mm: f64,
    /// How long it takes, min.
    pub lasts_min: f64,
    /// With water.
    pub wet: bool,
}

/// Dust in the air by the end of the sanding.
#[derive(Debug, Clone, PartialEq)]
pub struct SandingDust {
    /// What is sanded off, g.
    pub off_g: f64,
    /// At the work itself, all of it and what reaches the lungs, mg/m³.
    pub near_mg_m3: (f64, f64),
    /// In the room, the same two.
    pub room_mg_m3: (f64, f64),
    /// What to do.
    pub notes: Vec<Diagnostic>,
}

/// Dust of one bout of sanding in `room`; none is taken to settle.
pub fn sanding_dust(sanding: &Sanding, room: RoomAir) -> SandingDust {
    let off_g = sanding.area_mm2 * sanding.depth_mm * CURED_G_PER_CM3 / 1000.0;
    let floats = if sanding.wet { FLOATS_WET } else { FLOATS_DRY };
    let lasts_min = sanding.lasts_min.max(1.0);
    let release = Release { solvent: None, mass_g: off_g * floats, at_min: 0.0, lasts_min };
    let room_mg_m3 = room.mg_m3(&release, lasts_min);
    let near_mg_m3 = room_mg_m3 + off_g * floats * 1000.0 / lasts_min / NEAR_FIELD_M3_PER_MIN;
    let over = near_mg_m3 > DUST_TOTAL_MG_M3 || near_mg_m3 * RESPIRABLE > DUST_RESPIRABLE_MG_M3;
    let mut notes = Vec::new();
    if over {
        notes.push(
            Diagnostic::caution(
                FieldPath::root().key("room"),
                format!("sanding raises about {near_mg_m3:.0} mg/m³ of dust where you breathe: more than the {DUST_TOTAL_MG_M3:.0} mg/m³ that are the limit of eight hours for any dust"),
            )
            .hint("Sand wet, with a close-fitting particle mask, and wipe up before it dries")
            .hint("Never sand resin that is still soft: its dust makes allergic whatever the limit for dust says; follow its safety data sheet"),
        );
    }
    SandingDust {
        off_g,
        near_mg_m3: (near_mg_m3, near_mg_m3 * RESPIRABLE),
        room_mg_m3: (room_mg_m3, room_mg_m3 * RESPIRABLE),
        notes,
    }
}
