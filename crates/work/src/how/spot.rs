//! Where on a part something is, in words.

use super::How;
use super::pattern::pattern;
use crate::words::{length, list};
use piece::{Edge, Form, Part, PlacedArt, Wave, Zone};
use std::f64::consts::{FRAC_PI_2, PI, TAU};

impl How<'_> {
    /// Where a zone lies, from the rim down: `from 13 mm to 165 mm from the rim, all round`.
    pub fn region(&self, zone: &Zone) -> String {
        let part = &self.piece.parts[zone.part];
        let flat = matches!(part.form, Form::Flat(_));
        let mut words = Vec::new();
        words.extend(zone.region.motif.as_ref().map(pattern));
        if let Some(art) = &zone.region.art {
            words.push(self.art_spot(part, art));
        } else if let Some(band) = &zone.region.band {
            words.push(format!(
                "from {} to {} from {}",
                self.edge(part, &band.from),
                self.edge(part, &band.to),
                origin(part)
            ));
        } else if zone.region.inset_mm > 0.0 {
            let inset = length(self.settings, zone.region.inset_mm);
            words.push(if flat {
                format!("over the whole plate except for {inset} along its edge")
            } else {
                format!("over the whole wall except for {inset} at either end")
            });
        } else {
            words.push(if flat {
                "over the whole plate".to_owned()
            } else {
                "over the whole wall".to_owned()
            });
        }
        match zone.region.window_rad {
            Some((from, to)) => words.push(format!("between {} and {}", turn(from), turn(to))),
            None if !flat && zone.region.art.is_none() => words.push("all round".to_owned()),
            None => {}
        }
        let left_out: Vec<String> = zone
            .region
            .leave_out
            .iter()
            .map(|(other, margin_mm)| {
                format!(
                    "{} and {} round it",
                    self.piece.zones[*other].name,
                    length(self.settings, *margin_mm)
                )
            })
            .collect();
        if !left_out.is_empty() {
            words.push(format!("leaving out {}", list(&left_out)));
        }
        words.join(", ")
    }

    fn edge(&self, part: &Part, edge: &Edge) -> String {
        let at = length(self.settings, edge.along_mm);
        let shape = match edge.wave {
            Wave::Level => return at,
            Wave::Sine => "wave",
            Wave::Zigzag => "zigzag",
            Wave::Scallop => "scallop",
        };
        let up = edge.along_mm - edge.amplitude_mm.abs();
        let round_mm = TAU * radius_mm(part, up);
        // The crest nearest to the front; of two as near, the one on the right.
        let step = TAU / f64::from(edge.count.max(1));
        let nearest = edge.crest_rad - step * (edge.crest_rad / step - 0.5 - 1e-9).ceil();
        let first = match nearest.abs() * radius_mm(part, up) {
            arc_mm if arc_mm < 0.5 => "first crest at the front".to_owned(),
            arc_mm => format!(
                "first crest {}, {} round",
                turn(nearest).trim_start_matches("the "),
                length(self.settings, arc_mm)
            ),
        };
        let crests = match edge.count {
            0 | 1 => "1 crest".to_owned(),
            many => format!(
                "{many} crests, {} apart",
                length(self.settings, round_mm / f64::from(many))
            ),
        };
        format!(
            "a {shape} about {at} (up and down by {}; {first}; {crests})",
            length(self.settings, edge.amplitude_mm)
        )
    }

    /// How to bring a waved edge or a motif onto the part: the wrap as a template. Nothing for level edges.
    pub fn template(&self, zone: &Zone) -> Option<String> {
        if zone.region.motif.is_some() {
            return Some(format!(
                "Cut each pattern out of masking film with the wrap of {} as the template, and lay it with its front mark at the front.",
                the(&self.piece.parts[zone.part].name)
            ));
        }
        let band = zone.region.band.as_ref()?;
        let waved = |edge: &Edge| edge.wave != Wave::Level;
        (waved(&band.from) || waved(&band.to)).then(|| {
            format!(
                "Use the wrap of {} as a template for the wave: print it at true size, cut along the line, lay it on with its front mark at the front, and trace.",
                the(&self.piece.parts[zone.part].name)
            )
        })
    }

    /// Where the middle of art lies.
    pub fn art_spot(&self, part: &Part, art: &PlacedArt) -> String {
        let settings = self.settings;
        let Form::Revolved(_) = part.form else {
            if art.along_mm.abs() < 0.05 && art.around.abs() < 0.05 {
                return "in the middle of the plate".to_owned();
            }
            return format!(
                "with its middle {} {} and {} {} of the plate's centre",
                length(settings, art.along_mm.abs()),
                if art.along_mm < 0.0 { "above" } else { "below" },
                length(settings, art.around.abs()),
                if art.around < 0.0 { "left" } else { "right" },
            );
        };
        let mut words = format!(
            "with its middle {} from {}, at {}",
            length(settings, art.along_mm),
            origin(part),
            turn(art.around)
        );
        let arc_mm = art.around.abs() * radius_mm(part, art.along_mm);
        if arc_mm > 0.5 {
            words += &format!(" (about {} round the bare wall)", length(settings, arc_mm));
        }
        if art.repeat > 1 {
            words += &format!(
                ", {} copies {} spread evenly round",
                art.repeat,
                if art.rows.count > 1 { "a row" } else { "in all" }
            );
        }
        if art.rows.count > 1 {
            words += &format!(
                ", in {} rows {} apart down the wall{}",
                art.rows.count,
                length(settings, art.rows.apart_mm),
                if art.rows.half_drop { ", every other shifted by half a step" } else { "" }
            );
        }
        words
    }

    /// Nearest to and farthest from the start that any of these zones comes, mm along the wall.
    pub fn reach_mm(&self, part: usize, zones: &[usize]) -> Option<(f64, f64)> {
        let Form::Revolved(measures) = &self.piece.parts[part].form else { return None };
        let wall_mm = measures.last()?.along_mm;
        let ends = zones.iter().map(|&zone| {
            let region = &self.piece.zones[zone].region;
            let (mut from, mut to) = (region.inset_mm, wall_mm - region.inset_mm);
            if let Some(band) = &region.band {
                from = from.max(band.from.along_mm - band.from.amplitude_mm);
                to = to.min(band.to.along_mm + band.to.amplitude_mm);
            }
            (from, to)
        });
        ends.reduce(|a, b| (a.0.min(b.0), a.1.max(b.1)))
    }

    /// Length of the bare wall, mm; `None` on a flat part.
    pub fn wall_mm(&self, part: usize) -> Option<f64> {
        match &self.piece.parts[part].form {
            Form::Revolved(measures) => measures.last().map(|measure| measure.along_mm),
            Form::Flat(_) => None,
        }
    }
}

/// A part's name with its article.
pub fn the(name: &str) -> String {
    if name.starts_with("the ") { name.to_owned() } else { format!("the {name}") }
}

/// What lengths along a part are counted from.
pub fn origin(part: &Part) -> &'static str {
    match part.role {
        piece::PartRole::Body => "the rim",
        piece::PartRole::Lid => "the inner edge of the lid",
        piece::PartRole::Topper if matches!(part.form, Form::Flat(_)) => "the plate's top edge",
        piece::PartRole::Topper => "its top edge",
    }
}

/// An angle from the front, as a maker turns the cup.
pub(super) fn turn(angle_rad: f64) -> String {
    const HAIR: f64 = 0.005;
    let degrees = angle_rad.to_degrees().abs().round();
    if angle_rad.abs() < HAIR {
        "the front".to_owned()
    } else if (angle_rad.abs() - PI).abs() < HAIR {
        "the back".to_owned()
    } else if (angle_rad.abs() - FRAC_PI_2).abs() < HAIR {
        format!("the {} side", if angle_rad > 0.0 { "right" } else { "left" })
    } else {
        format!("{degrees}° to the {} of the front", if angle_rad > 0.0 { "right" } else { "left" })
    }
}

/// Radius of the bare wall, straight between measurements: near enough to find a spot with the tape.
fn radius_mm(part: &Part, along_mm: f64) -> f64 {
    let Form::Revolved(measures) = &part.form else { return 0.0 };
    for pair in measures.windows(2) {
        if along_mm <= pair[1].along_mm {
            let share = (along_mm - pair[0].along_mm) / (pair[1].along_mm - pair[0].along_mm);
            return pair[0].radius_mm + share * (pair[1].radius_mm - pair[0].radius_mm);
        }
    }
    measures.last().map_or(0.0, |measure| measure.radius_mm)
}
