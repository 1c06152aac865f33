//! A well-mixed room with fresh air, and the air near the work.
//!
//! V dC/dt = G − Q C (mass balance, as in every handbook of ventilation), in closed form for each release;
//! releases add up, since the balance is linear. SI but for minutes and milligrams.

use piece::settings::{Room, Solvent};

/// Air that flows through the half-sphere about the work, m³/min: half its surface, 0.8 m in radius,
/// times a draught of 0.1 m/s (the two-zone model of industrial hygiene, from memory).
pub const NEAR_FIELD_M3_PER_MIN: f64 = std::f64::consts::PI * 0.8 * 0.8 * 0.1 * 60.0;

/// Something that gets into the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Release {
    /// Which solvent; `None` is vapour that no limit is known for here.
    pub solvent: Option<Solvent>,
    /// How much, g.
    pub mass_g: f64,
    /// When it begins, min.
    pub at_min: f64,
    /// How long it takes, evenly, min; 0 is at once.
    pub lasts_min: f64,
}

impl Release {
    /// When it ends, min.
    pub fn end_min(&self) -> f64 {
        self.at_min + self.lasts_min
    }

    /// How much of it gets into the air in a stretch of time, mg.
    pub(super) fn mass_between_mg(&self, from_min: f64, to_min: f64) -> f64 {
        let mass_mg = self.mass_g * 1000.0;
        if self.lasts_min <= 0.0 {
            let inside = (from_min..=to_min).contains(&self.at_min);
            return if inside { mass_mg } else { 0.0 };
        }
        let shared_min = to_min.min(self.end_min()) - from_min.max(self.at_min);
        mass_mg * shared_min.max(0.0) / self.lasts_min
    }
}

/// A well-mixed room.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RoomAir {
    /// Volume, m³.
    pub volume_m3: f64,
    /// Air changes in an hour.
    pub changes_per_h: f64,
}

impl From<&Room> for RoomAir {
    fn from(room: &Room) -> Self {
        Self { volume_m3: room.volume_m3, changes_per_h: room.air_changes_per_h }
    }
}

/// ∫₀ᵗ e^(−λs) ds.
fn once(rate: f64, time: f64) -> f64 {
    let turns = rate * time;
    // Where the two terms of the exact form all but cancel, its series is exact to the last digits.
    if turns < 1e-8 { time } else { -libm::expm1(-turns) / rate }
}

/// ∫₀ᵗ ∫₀ˢ e^(−λr) dr ds.
fn twice(rate: f64, time: f64) -> f64 {
    let turns = rate * time;
    if turns < 1e-3 {
        time * time * (0.5 - turns / 6.0 + turns * turns / 24.0 - turns * turns * turns / 120.0)
    } else {
        (time - once(rate, time)) / rate
    }
}

impl RoomAir {
    /// Share of the air that is replaced in a minute.
    fn rate(&self) -> f64 {
        self.changes_per_h / 60.0
    }

    /// What a release leaves in the air at `min`, mg/m³.
    pub fn mg_m3(&self, release: &Release, min: f64) -> f64 {
        let since_min = min - release.at_min;
        if since_min < 0.0 {
            return 0.0;
        }
        let whole_mg_m3 = release.mass_g * 1000.0 / self.volume_m3;
        if release.lasts_min <= 0.0 {
            return whole_mg_m3 * libm::exp(-self.rate() * since_min);
        }
        let running_min = since_min.min(release.lasts_min);
        whole_mg_m3 / release.lasts_min
            * once(self.rate(), running_min)
            * libm::exp(-self.rate() * (since_min - running_min))
    }

    /// Its mean over a stretch of time, mg/m³.
    pub fn mean_mg_m3(&self, release: &Release, from_min: f64, to_min: f64) -> f64 {
        let dose = self.dose(release, to_min) - self.dose(release, from_min);
        dose / (to_min - from_min)
    }

    /// Integral of the concentration from the beginning until `min`, mg/m³ · min.
    fn dose(&self, release: &Release, min: f64) -> f64 {
        let since_min = min - release.at_min;
        if since_min <= 0.0 {
            return 0.0;
        }
        let whole_mg_m3 = release.mass_g * 1000.0 / self.volume_m3;
        if release.lasts_min <= 0.0 {
            return whole_mg_m3 * once(self.rate(), since_min);
        }
        let running_min = since_min.min(release.lasts_min);
        let while_running = whole_mg_m3 / release.lasts_min * twice(self.rate(), running_min);
        let at_end = whole_mg_m3 / release.lasts_min * once(self.rate(), running_min);
        while_running + at_end * once(self.rate(), since_min - running_min)
    }

    /// Time until the air holds only `share` of what it held, min; without fresh air never.
    pub fn thins_to_min(&self, share: f64) -> Option<f64> {
        (self.rate() > 0.0).then(|| -libm::log(share) / self.rate())
    }
}
