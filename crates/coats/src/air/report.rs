//! What is in the air over a day's work, against the limits.

use super::limits::kept;
use super::{NEAR_FIELD_M3_PER_MIN, Release, RoomAir};
use piece::settings::{OwnLimit, Solvent};

/// A shift, as the limits have it, min.
const SHIFT_MIN: f64 = 480.0;
/// A short peak is the mean of so long, min (as short-term limits have it).
const SHORT_MIN: f64 = 15.0;
/// The worst shift is looked for at this distance, min.
const LOOK_MIN: f64 = 5.0;

/// One solvent in the air.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct SolventAir {
    /// Which.
    pub solvent: Solvent,
    /// Highest value in the room, mg/m³.
    pub peak_mg_m3: f64,
    /// The worst mean of 15 min at the work itself, mg/m³.
    pub near_mg_m3: f64,
    /// The worst mean of eight hours in the room, mg/m³.
    pub shift_mg_m3: f64,
    /// The limit that is kept to for eight hours, mg/m³.
    pub limit_mg_m3: f64,
}

/// The air of a day.
#[derive(Debug, Clone, PartialEq)]
pub struct AirReport {
    /// Solvents with limits, in the order of [`Solvent::ALL`].
    pub solvents: Vec<SolventAir>,
    /// Highest Σ C/L in the room, and when, min. The limits are of eight hours: above 1 it is a short
    /// excess, not yet one of the shift.
    pub peak: (f64, f64),
    /// The worst Σ C/L of 15 min at the work itself.
    pub near: f64,
    /// Σ C/L of the worst eight hours: 29 CFR 1910.1000(d)(1) and (2).
    pub shift: f64,
    /// Highest toluene over its ceiling in the room; 0 without any.
    pub ceiling: f64,
    /// Highest share of the lower explosive limit in the room (Le Chatelier's rule for mixtures); keep
    /// below 0.1.
    pub explosive: f64,
    /// Highest vapour without a known limit, mg/m³.
    pub unlisted_mg_m3: f64,
    /// From the last release until the air holds a hundredth, min; `None` without fresh air.
    pub clear_after_min: Option<f64>,
}

/// The air of `room` while `releases` go on.
pub fn report(room: RoomAir, releases: &[Release], own: &[OwnLimit]) -> AirReport {
    // Between its beginning and end the balance of each release runs to a steady state without turning,
    // and so does their sum between any two of these moments: peaks lie at one of them.
    let mut moments: Vec<f64> =
        releases.iter().flat_map(|one| [one.at_min, one.end_min()]).collect();
    moments.sort_by(f64::total_cmp);
    moments.dedup();
    let of = |solvent: Option<Solvent>| releases.iter().filter(move |one| one.solvent == solvent);
    let now = |solvent, min: f64| -> f64 { of(solvent).map(|one| room.mg_m3(one, min)).sum() };
    let mean = |solvent, from: f64, to: f64| -> f64 {
        of(solvent).map(|one| room.mean_mg_m3(one, from, to)).sum()
    };
    let near = |solvent, from: f64| -> f64 {
        let to = from + SHORT_MIN;
        let mass_mg: f64 = of(solvent).map(|one| one.mass_between_mg(from, to)).sum();
        mean(solvent, from, to) + mass_mg / SHORT_MIN / NEAR_FIELD_M3_PER_MIN
    };
    let short: Vec<f64> = moments.iter().flat_map(|min| [*min, min - SHORT_MIN]).collect();
    let (first, last) =
        (moments.first().copied().unwrap_or(0.0), moments.last().copied().unwrap_or(0.0));
    // A shift that holds the first release whole begins there at the latest; the last begins with the last.
    let steps = ((last - first) / LOOK_MIN).ceil() as u32;
    let shifts: Vec<f64> =
        (0..=steps).map(|step| (first + f64::from(step) * LOOK_MIN).min(last)).collect();
    let highest = |from: &[f64], value: &dyn Fn(f64) -> f64| {
        from.iter()
            .map(|min| (value(*min), *min))
            .fold((0.0, first), |best, one| if one.0 > best.0 { one } else { best })
    };
    let present: Vec<Solvent> =
        Solvent::ALL.into_iter().filter(|one| of(Some(*one)).next().is_some()).collect();
    let limit = |solvent| {
        let limit = kept(solvent, own);
        limit.mg_m3(limit.shift_ppm)
    };
    let sum = |value: &dyn Fn(Solvent) -> f64| -> f64 {
        present.iter().map(|solvent| value(*solvent)).sum()
    };
    let solvents = present.iter().map(|&solvent| SolventAir {
        solvent,
        peak_mg_m3: highest(&moments, &|min| now(Some(solvent), min)).0,
        near_mg_m3: highest(&short, &|min| near(Some(solvent), min)).0,
        shift_mg_m3: highest(&shifts, &|min| mean(Some(solvent), min, min + SHIFT_MIN)).0,
        limit_mg_m3: limit(solvent),
    });
    let toluene = kept(Solvent::Toluene, own);
    let ceiling_mg_m3 = toluene.ceiling_ppm.map_or(f64::INFINITY, |ppm| toluene.mg_m3(ppm));
    AirReport {
        solvents: solvents.collect(),
        peak: highest(&moments, &|min| sum(&|one| now(Some(one), min) / limit(one))),
        near: highest(&short, &|min| sum(&|one| near(Some(one), min) / limit(one))).0,
        shift: highest(&shifts, &|min| {
            sum(&|one| mean(Some(one), min, min + SHIFT_MIN) / limit(one))
        })
        .0,
        ceiling: highest(&moments, &|min| now(Some(Solvent::Toluene), min) / ceiling_mg_m3).0,
        explosive: highest(&moments, &|min| {
            sum(&|one| now(Some(one), min) / kept(one, own).lower_explosive_mg_m3())
        })
        .0,
        unlisted_mg_m3: highest(&moments, &|min| now(None, min)).0,
        clear_after_min: room.thins_to_min(0.01),
    }
}
