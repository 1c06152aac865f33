//! Motifs: sizes in order, and what only a part that goes round can have.

use super::art::Ground;
use super::{Bench, art, mm};
use crate::file::motif::{
    BandPartWord, ConfettoWord, HeightsFile, MotifFile, NameBandFile, OrnamentWord, SpanFile,
};
use crate::file::places::Reach;
use crate::file::scalars::{Angle, Length, Share};
use crate::{BandPart, Confetto, FieldPath, Motif, MotifKind, NameBand, Ornament, Pitch, Strewn};

/// Largest single shape, mm.
const LARGEST_MM: f64 = 500.0;
/// Depth of the strip that drips run from unless said otherwise, mm.
const SOLID_MM: f64 = 4.0;
/// Width of a blade at its foot unless said otherwise, mm.
const BLADE_MM: f64 = 3.0;
/// Width of a drop of rain unless said otherwise, mm.
const DROP_MM: f64 = 1.2;
/// Bare line between scales unless said otherwise, mm.
const SCALE_GAP_MM: f64 = 0.8;
/// Bars of a honeycomb unless said otherwise, mm.
const BAR_MM: f64 = 1.0;
/// Farthest that blades, drops and stars lean, deg.
const MOST_LEAN_DEG: f64 = 60.0;
/// Most that stripes twist, deg: ten times round.
const MOST_TWIST_DEG: f64 = 3600.0;

pub(super) fn motif(
    file: &MotifFile,
    ground: Ground,
    path: &FieldPath,
    bench: &mut Bench<'_>,
) -> Motif {
    let kind = kind(file, &mut Drawer { flat: ground.wall.is_flat(), ground, bench }, path);
    // Which one is missing was told when the file was read; a stand-in, then.
    let kind = kind.unwrap_or(MotifKind::Checks { pitch: Pitch::Round(2) });
    Motif { kind, seed: file.seed, inverse: file.inverse }
}

fn kind(file: &MotifFile, on: &mut Drawer<'_, '_>, zone: &FieldPath) -> Option<MotifKind> {
    let path = |key: &str| zone.key(key);
    if let Some(one) = &file.drips {
        let at = path("drips");
        let solid_at = at.key("solid");
        let solid_mm = on.height(one.solid.unwrap_or(Reach::Mm(SOLID_MM)), &solid_at);
        return Some(MotifKind::Drips {
            count: one.count,
            width_mm: on.span(&at, "width", one.width),
            length_mm: on.heights(&at, "length", one.length),
            solid_mm: on.bench.margin_mm(&solid_at, "the solid strip", solid_mm, LARGEST_MM),
        });
    }
    if let Some(one) = &file.reeds {
        let at = path("reeds");
        return Some(MotifKind::Reeds {
            count: one.count,
            height_mm: on.heights(&at, "height", one.height),
            width_mm: on.size(&at, "width", one.width, BLADE_MM),
            lean_rad: on.lean(&at, "lean", one.lean, 15.0),
            heads: on.share(&at, "heads", one.heads, 0.0, (0.0, 1.0)),
        });
    }
    if let Some(one) = &file.rain {
        let at = path("rain");
        return Some(MotifKind::Rain {
            length_mm: on.span(&at, "length", one.length),
            width_mm: on.size(&at, "width", one.width, DROP_MM),
            slant_rad: on.lean(&at, "slant", one.slant, 12.0),
            strewn: on.strewn(&at, one.apart, one.count),
        });
    }
    if let Some(one) = &file.stars {
        let at = path("stars");
        return Some(MotifKind::Stars {
            points: one.points.unwrap_or(5),
            size_mm: on.span(&at, "size", one.size),
            inner: on.share(&at, "inner", one.inner, 0.4, (0.1, 0.95)),
            tilt_rad: on.lean(&at, "tilt", one.tilt, 15.0),
            strewn: on.strewn(&at, one.apart, one.count),
        });
    }
    if let Some(one) = &file.petals {
        let at = path("petals");
        return Some(MotifKind::Petals {
            petals: one.petals.unwrap_or(6),
            size_mm: on.span(&at, "size", one.size),
            heart: on.share(&at, "heart", one.heart, 0.3, (0.1, 0.7)),
            strewn: on.strewn(&at, one.apart, one.count),
        });
    }
    if let Some(one) = &file.confetti {
        let at = path("confetti");
        let all =
            [ConfettoWord::Disc, ConfettoWord::Square, ConfettoWord::Triangle, ConfettoWord::Strip];
        let shape = |word: &ConfettoWord| match word {
            ConfettoWord::Disc => Confetto::Disc,
            ConfettoWord::Square => Confetto::Square,
            ConfettoWord::Triangle => Confetto::Triangle,
            ConfettoWord::Strip => Confetto::Strip,
        };
        return Some(MotifKind::Confetti {
            shapes: one.shapes.as_deref().unwrap_or(&all).iter().map(shape).collect(),
            size_mm: on.span(&at, "size", one.size),
            strewn: on.strewn(&at, one.apart, one.count),
        });
    }
    pattern(file, on, zone)
}

/// The kinds that repeat.
fn pattern(file: &MotifFile, on: &mut Drawer<'_, '_>, zone: &FieldPath) -> Option<MotifKind> {
    let path = |key: &str| zone.key(key);
    if let Some(one) = &file.scales {
        let at = path("scales");
        return Some(MotifKind::Scales {
            pitch: on.pitch(&at, one.round, one.pitch),
            gap_mm: on.size(&at, "gap", one.gap, SCALE_GAP_MM),
            whole: one.whole,
        });
    }
    if let Some(one) = &file.checks {
        let at = path("checks");
        if let Some(odd) = one.round.filter(|round| round % 2 == 1) {
            let message =
                format!("{odd} checks round a part do not close; it must be an even number");
            on.bench.error_hint(&at.key("round"), message, format!("write round = {}", odd + 1));
        }
        return Some(MotifKind::Checks { pitch: on.pitch(&at, one.round, one.pitch) });
    }
    if let Some(one) = &file.stripes {
        let at = path("stripes");
        let twist = one.twist.map_or(0.0, |twist| twist.0);
        if twist.abs() > MOST_TWIST_DEG {
            let message =
                format!("the twist is {twist} deg; at most {MOST_TWIST_DEG} deg is expected");
            on.bench.error(&at.key("twist"), message);
        } else if on.flat && twist != 0.0 {
            on.bench.error_hint(
                &at.key("twist"),
                "stripes twist round a part, and this part is flat",
                "leave `twist` out",
            );
        }
        return Some(MotifKind::Stripes {
            pitch: on.pitch(&at, one.round, one.pitch),
            share: on.share(&at, "share", one.share, 0.5, (0.01, 0.99)),
            twist_rad: twist.to_radians(),
        });
    }
    if let Some(one) = &file.honeycomb {
        let at = path("honeycomb");
        return Some(MotifKind::Honeycomb {
            pitch: on.pitch(&at, one.round, one.pitch),
            bar_mm: on.size(&at, "bar", one.bar, BAR_MM),
            whole: one.whole,
        });
    }
    let one = file.name_band.as_ref()?;
    Some(MotifKind::NameBand(on.name_band(one, &path("name_band"))))
}

/// Turns typed values into ours and complains about those that make no sense.
struct Drawer<'b, 'a> {
    flat: bool,
    ground: Ground,
    bench: &'b mut Bench<'a>,
}

impl Drawer<'_, '_> {
    fn size(&mut self, at: &FieldPath, key: &str, typed: Option<Length>, otherwise: f64) -> f64 {
        let value_mm = typed.map_or(otherwise, |typed| typed.0);
        self.bench.size_mm(&at.key(key), &format!("the {key}"), value_mm, LARGEST_MM)
    }

    fn height(&mut self, typed: Reach, at: &FieldPath) -> f64 {
        self.ground.heights.mm(typed, at, self.bench)
    }

    fn heights(&mut self, at: &FieldPath, key: &str, typed: HeightsFile) -> (f64, f64) {
        let path = at.key(key);
        let between = match typed {
            HeightsFile::One(one) => [self.height(one, &path); 2],
            HeightsFile::Between(two) => [0, 1].map(|end| self.height(two[end], &path.index(end))),
        };
        self.between(at, key, (between[0], between[1]))
    }

    fn span(&mut self, at: &FieldPath, key: &str, typed: SpanFile) -> (f64, f64) {
        let between = match typed {
            SpanFile::One(one) => (one.0, one.0),
            SpanFile::Between([least, most]) => (least.0, most.0),
        };
        self.between(at, key, between)
    }

    /// The least and the most, complained about unless they are sizes in order.
    fn between(&mut self, at: &FieldPath, key: &str, (least, most): (f64, f64)) -> (f64, f64) {
        let at = at.key(key);
        if least > most {
            let message = format!("the {key} runs from {} down to {}", mm(least), mm(most));
            self.bench.error_hint(&at, message, "write the smaller one first");
        }
        self.bench.size_mm(&at, &format!("the {key}"), least, LARGEST_MM);
        if most != least {
            self.bench.size_mm(&at, &format!("the {key}"), most, LARGEST_MM);
        }
        (least, most)
    }

    fn lean(&mut self, at: &FieldPath, key: &str, typed: Option<Angle>, otherwise: f64) -> f64 {
        let lean = typed.map_or(otherwise, |typed| typed.0);
        if lean.abs() > MOST_LEAN_DEG {
            let message = format!(
                "the {key} is {lean} deg; expected -{MOST_LEAN_DEG} to {MOST_LEAN_DEG} deg"
            );
            self.bench.error(&at.key(key), message);
        }
        lean.to_radians()
    }

    fn share(
        &mut self,
        at: &FieldPath,
        key: &str,
        typed: Option<Share>,
        otherwise: f64,
        (least, most): (f64, f64),
    ) -> f64 {
        let share = typed.map_or(otherwise, |typed| typed.0);
        if !(least..=most).contains(&share) {
            let per_cent = |share: f64| (share * 1e6).round() / 1e4;
            let message = format!(
                "the share is {} %; it can be {} % to {} %",
                per_cent(share),
                per_cent(least),
                per_cent(most)
            );
            self.bench.error(&at.key(key), message);
        }
        share
    }

    fn strewn(&mut self, at: &FieldPath, apart: Length, count: Option<u32>) -> Strewn {
        let apart_mm =
            self.bench.margin_mm(&at.key("apart"), "the distance apart", apart.0, LARGEST_MM);
        Strewn { apart_mm, count }
    }

    fn name_band(&mut self, file: &NameBandFile, at: &FieldPath) -> NameBand {
        if self.flat {
            self.bench.error_hint(
                at,
                "a name band goes round a part, and this part is flat",
                "use `lettering` on a flat part",
            );
        }
        if file.only == Some(BandPartWord::Border) && file.border.is_none() {
            self.bench.error_hint(
                &at.key("only"),
                "this name band has no border that could stand alone",
                "add its width, such as border = \"1.2 mm\"",
            );
        }
        let ornament = match file.ornament {
            OrnamentWord::Dot => Some(Ornament::Dot),
            OrnamentWord::Diamond => Some(Ornament::Diamond),
            OrnamentWord::Star => Some(Ornament::Star),
            OrnamentWord::Wave => Some(Ornament::Wave),
            OrnamentWord::Reeds => Some(Ornament::Reeds),
            OrnamentWord::None => None,
        };
        if file.only == Some(BandPartWord::Ornaments) && ornament.is_none() {
            self.bench.error_hint(
                &at.key("only"),
                "this name band has no ornaments that could stand alone",
                "leave `ornament` out for a diamond, or choose another",
            );
        }
        NameBand {
            text: file.text.clone(),
            font: art::font(file.font.as_deref(), &at.key("font"), self.bench),
            ornament,
            round: file.round,
            border_mm: file.border.map_or(0.0, |border| self.size(at, "border", Some(border), 1.0)),
            only: file.only.map(|word| match word {
                BandPartWord::Text => BandPart::Text,
                BandPartWord::Ornaments => BandPart::Ornaments,
                BandPartWord::Border => BandPart::Border,
            }),
        }
    }

    fn pitch(&mut self, at: &FieldPath, round: Option<u32>, pitch: Option<Length>) -> Pitch {
        match (round, pitch) {
            (_, Some(pitch)) => Pitch::Mm(self.size(at, "pitch", Some(pitch), 1.0)),
            (Some(round), None) => {
                if self.flat {
                    self.bench.error_hint(
                        &at.key("round"),
                        "nothing goes round a flat part",
                        "write `pitch` instead, such as pitch = \"6 mm\"",
                    );
                }
                Pitch::Round(round)
            }
            (None, None) => Pitch::Round(2),
        }
    }
}
