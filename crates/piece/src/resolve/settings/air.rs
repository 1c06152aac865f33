//! Solvents and limits, checked and brought into our units.

use crate::FieldPath;
use crate::file::settings::{
    AirFile, SolventFile, SolventShareFile, SolventStepFile, SolventUseFile,
};
use crate::resolve::Bench;
use crate::resolve::bounds::Desk;
use crate::settings::{OwnLimit, Solvent, SolventStep, SolventUse};

fn solvent(file: SolventFile) -> Solvent {
    match file {
        SolventFile::Acetone => Solvent::Acetone,
        SolventFile::Ethanol => Solvent::Ethanol,
        SolventFile::Isopropanol => Solvent::Isopropanol,
        SolventFile::ButylAcetate => Solvent::ButylAcetate,
        SolventFile::Xylenes => Solvent::Xylenes,
        SolventFile::Toluene => Solvent::Toluene,
    }
}

/// Complains about a solvent that stands twice in a list.
fn once(bench: &mut Bench<'_>, path: &FieldPath, names: impl Iterator<Item = Solvent>) {
    let mut seen: Vec<Solvent> = Vec::new();
    for (index, one) in names.enumerate() {
        if seen.contains(&one) {
            let message = format!("{} is listed twice", one.name());
            bench.error_hint(&path.index(index).key("name"), message, "keep the one that holds");
        }
        seen.push(one);
    }
}

pub(super) fn solvents(
    file: &[SolventUseFile],
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> Vec<SolventUse> {
    let one = |(index, file): (usize, &SolventUseFile)| {
        let path = path.index(index);
        let solvent = solvent(file.name);
        let mass_g = file.mass.map_or(0.0, |mass| on.mass(&path.key("mass"), mass));
        let ml = file.volume.map_or(0.0, |volume| on.volume(&path.key("volume"), volume));
        SolventUse {
            solvent,
            mass_g: mass_g + ml * solvent.g_per_ml(),
            step: match file.step {
                SolventStepFile::Wipe => SolventStep::Wipe,
                SolventStepFile::Paint => SolventStep::Paint,
                SolventStepFile::Glue => SolventStep::Glue,
                SolventStepFile::Clean => SolventStep::Clean,
            },
            lasts_min: file.lasts.map_or(0.0, |lasts| on.hands_on(&path.key("lasts"), lasts, 0.0)),
        }
    };
    file.iter().enumerate().map(one).collect()
}

/// Shares of solvents in a product, together at most all of it.
pub(super) fn shares(
    file: &[SolventShareFile],
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> Vec<(Solvent, f64)> {
    let mut shares: Vec<(Solvent, f64)> = Vec::new();
    for (index, one) in file.iter().enumerate() {
        let share = on.share(&path.index(index).key("share"), one.share, 1.0);
        shares.push((solvent(one.name), share));
    }
    once(on.bench, path, shares.iter().map(|(solvent, _)| *solvent));
    let sum: f64 = shares.iter().map(|(_, share)| share).sum();
    if sum > 1.0 + 1e-9 {
        let message = format!("the shares sum to {} %", (sum * 1000.0).round() / 10.0);
        on.bench.error_hint(path, message, "they are shares of the whole paint, by mass");
    }
    shares
}

pub(super) fn limits(file: &AirFile, path: &FieldPath, bench: &mut Bench<'_>) -> Vec<OwnLimit> {
    let limits: Vec<OwnLimit> = file
        .limits
        .iter()
        .map(|one| OwnLimit { solvent: solvent(one.name), ppm: one.ppm })
        .collect();
    once(bench, &path.key("limits"), limits.iter().map(|one| one.solvent));
    limits
}
