//! What stays bare below the rim of a body where the piece file says nothing of it.

use crate::lengths::show;
use crate::{
    BandEdges, Diagnostic, Edge, FieldPath, Finish, Form, PartRole, Piece, Settings, Wave, Zone,
};

/// Height of what standards on lead and cadmium call the lip and rim area, mm (ASTM C927 and ISO 6486,
/// from memory; check the current text).
pub const LIP_AND_RIM_MM: f64 = 20.0;

/// How far below the rim a finish begins if nothing is said: the studio's own margin, and for all that
/// may hold pigment or glass also the lip and rim area of the standards. Clear resin holds neither.
pub fn bare_mm(finish: &Finish, settings: &Settings) -> f64 {
    match finish {
        Finish::Resin { .. } => settings.lip_mm,
        Finish::Paint { .. }
        | Finish::Glitter { .. }
        | Finish::Vinyl { .. }
        | Finish::Stones(_) => settings.lip_mm.max(LIP_AND_RIM_MM),
    }
}

/// The piece with zones on bodies that do not say where they begin beginning below the lip. A `band`
/// with `from`, an `inset`, and art, which has a place of its own, say so.
///
/// # Errors
/// Zones of which nothing would be left.
pub fn below_lip(mut piece: Piece, settings: &Settings) -> Result<Piece, Vec<Diagnostic>> {
    let mut wrong = Vec::new();
    for (index, zone) in piece.zones.iter_mut().enumerate() {
        let part = &piece.parts[zone.part];
        let Form::Revolved(measures) = &part.form else { continue };
        let wall_mm = measures.last().map_or(0.0, |measure| measure.along_mm);
        let bare_mm = bare_mm(&zone.finish, settings);
        if part.role != PartRole::Body || said(zone) || bare_mm <= 0.0 {
            continue;
        }
        let to = zone.region.band.as_ref().map_or_else(|| level(wall_mm), |band| band.to);
        if bare_mm >= to.along_mm - to.amplitude_mm {
            let path = FieldPath::root().key("zone").index(index);
            let length = |mm| show(mm, settings.lengths);
            let message = format!(
                "zone `{}` ends {} below the rim, within the {} that are kept bare for lips",
                zone.name,
                length(to.along_mm - to.amplitude_mm),
                length(bare_mm)
            );
            wrong.push(Diagnostic::error(path, message).hint(
                "Say where it begins, `band = { from = …, to = … }`, if it is to lie there all the same.",
            ));
            continue;
        }
        zone.region.band = Some(BandEdges { from: level(bare_mm), to });
        zone.region.from_left_out = false;
    }
    if wrong.is_empty() { Ok(piece) } else { Err(wrong) }
}

/// Whether a zone says how near to the rim it comes.
fn said(zone: &Zone) -> bool {
    let region = &zone.region;
    let edge = region.band.is_some() && !region.from_left_out;
    edge || region.inset_mm > 0.0 || region.art.is_some()
}

fn level(along_mm: f64) -> Edge {
    Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
}
