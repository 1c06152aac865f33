//! What a motif is, in a maker's words.

use piece::{BandPart, Motif, MotifKind};

/// What of its band a motif takes.
pub fn pattern(motif: &Motif) -> String {
    let made = match &motif.kind {
        MotifKind::Drips { .. } => "drips".to_owned(),
        MotifKind::Reeds { .. } => "reeds".to_owned(),
        MotifKind::Rain { .. } => "drops of rain".to_owned(),
        MotifKind::Stars { .. } => "stars".to_owned(),
        MotifKind::Petals { .. } => "flowers".to_owned(),
        MotifKind::Confetti { .. } => "confetti".to_owned(),
        MotifKind::Scales { .. } => "scales".to_owned(),
        MotifKind::Checks { .. } => "checks".to_owned(),
        MotifKind::Stripes { .. } => "stripes".to_owned(),
        MotifKind::Honeycomb { .. } => "the cells of a honeycomb".to_owned(),
        MotifKind::NameBand(band) => match band.only {
            Some(BandPart::Border) => "the lines of a name band".to_owned(),
            Some(BandPart::Ornaments) => "the ornaments of a name band".to_owned(),
            Some(BandPart::Text) | None => format!("a name band reading \"{}\"", band.text),
        },
    };
    if motif.inverse { format!("all but {made}") } else { format!("as {made}") }
}
