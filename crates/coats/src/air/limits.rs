//! Limits of solvents and dust in the air that people breathe at work. Limits are no permission.

use piece::settings::{OwnLimit, Solvent};

/// What the federal limits are from (from memory: as they have stood since 1993).
pub const TEXT: &str =
    "29 CFR 1910.1000, tables Z-1 and Z-2, as they have stood since 1993; check the current text";

/// Litres of a mole of gas at 25 °C and 760 torr, as the tables have it (from the gas law, 24.465).
const MOLAR_L: f64 = 24.465;

/// Dust that no other limit is made for, mg/m³ (29 CFR 1910.1000, table Z-1, eight hours).
pub const DUST_TOTAL_MG_M3: f64 = 15.0;
/// The same, of what reaches the lungs.
pub const DUST_RESPIRABLE_MG_M3: f64 = 5.0;

/// What is known of a solvent in air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Limit {
    /// Mean of eight hours, ppm by volume (table Z-1; toluene table Z-2).
    pub shift_ppm: f64,
    /// Never to be exceeded but for the peak, ppm; `None` where the tables have none.
    pub ceiling_ppm: Option<f64>,
    /// Highest peak, ppm, and for how long once a shift, min.
    pub peak_ppm: Option<(f64, f64)>,
    /// Molar mass, g/mol.
    pub molar_g: f64,
    /// Lower explosive limit, % by volume (handbook values, from memory).
    pub lower_explosive_pct: f64,
}

impl Limit {
    /// mg/m³ of so many ppm at 25 °C and 760 torr.
    pub fn mg_m3(&self, ppm: f64) -> f64 {
        ppm * self.molar_g / MOLAR_L
    }

    /// ppm of so many mg/m³ at 25 °C and 760 torr.
    pub fn ppm(&self, mg_m3: f64) -> f64 {
        mg_m3 * MOLAR_L / self.molar_g
    }

    /// The lower explosive limit, mg/m³.
    pub fn lower_explosive_mg_m3(&self) -> f64 {
        self.mg_m3(self.lower_explosive_pct * 1e4)
    }
}

/// The federal limits (from memory; toluene 200 and xylenes 100 read in the tables).
pub fn federal(solvent: Solvent) -> Limit {
    let of = |shift_ppm, molar_g, lower_explosive_pct| Limit {
        shift_ppm,
        ceiling_ppm: None,
        peak_ppm: None,
        molar_g,
        lower_explosive_pct,
    };
    match solvent {
        Solvent::Acetone => of(1000.0, 58.08, 2.5),
        Solvent::Ethanol => of(1000.0, 46.07, 3.3),
        Solvent::Isopropanol => of(400.0, 60.10, 2.0),
        Solvent::ButylAcetate => of(150.0, 116.16, 1.7),
        Solvent::Xylenes => of(100.0, 106.17, 0.9),
        Solvent::Toluene => Limit {
            ceiling_ppm: Some(300.0),
            peak_ppm: Some((500.0, 10.0)),
            ..of(200.0, 92.14, 1.1)
        },
    }
}

/// The federal limits, or lower ones that the studio keeps to.
pub fn kept(solvent: Solvent, own: &[OwnLimit]) -> Limit {
    let limit = federal(solvent);
    let own = own.iter().filter(|own| own.solvent == solvent).map(|own| own.ppm);
    Limit { shift_ppm: own.fold(limit.shift_ppm, f64::min), ..limit }
}
