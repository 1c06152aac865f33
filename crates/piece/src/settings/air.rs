//! Solvents: what is used of them, and what one keeps to.

/// A solvent whose limits are known here.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Solvent {
    /// Acetone.
    Acetone,
    /// Ethanol.
    Ethanol,
    /// Isopropanol.
    Isopropanol,
    /// n-Butyl acetate.
    ButylAcetate,
    /// Xylenes, all three together.
    Xylenes,
    /// Toluene.
    Toluene,
}

impl Solvent {
    /// All of them.
    pub const ALL: [Self; 6] = [
        Self::Acetone,
        Self::Ethanol,
        Self::Isopropanol,
        Self::ButylAcetate,
        Self::Xylenes,
        Self::Toluene,
    ];

    /// As it is called on sheets.
    pub fn name(self) -> &'static str {
        match self {
            Self::Acetone => "acetone",
            Self::Ethanol => "ethanol",
            Self::Isopropanol => "isopropanol",
            Self::ButylAcetate => "butyl acetate",
            Self::Xylenes => "xylenes",
            Self::Toluene => "toluene",
        }
    }

    /// Density of the liquid at 20 °C, g/ml (handbook values, from memory).
    pub fn g_per_ml(self) -> f64 {
        match self {
            Self::Acetone => 0.790,
            Self::Ethanol => 0.789,
            Self::Isopropanol => 0.785,
            Self::ButylAcetate => 0.882,
            Self::Xylenes => 0.865,
            Self::Toluene => 0.867,
        }
    }
}

/// What a solvent is used for.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum SolventStep {
    /// Wiping a part before paint or resin.
    Wipe,
    /// A coat of paint.
    Paint,
    /// Gluing stones.
    Glue,
    /// Cleaning tools.
    Clean,
}

/// A solvent that is used up, each time for one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolventUse {
    /// Which.
    pub solvent: Solvent,
    /// How much each time, g.
    pub mass_g: f64,
    /// What for.
    pub step: SolventStep,
    /// How long it takes to evaporate, min; 0 is at once.
    pub lasts_min: f64,
}

/// A limit that one keeps to beside the federal ones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OwnLimit {
    /// Which solvent.
    pub solvent: Solvent,
    /// Mean of eight hours, parts per million by volume.
    pub ppm: f64,
}
