//! How a part is prepared, masked, sanded, lettered and set with stones.

use super::How;
use super::spot::{origin, the};
use crate::StepKind;
use crate::words::{count, fine, length, list, percent, span, tenths};
use coats::{Film, FilmPiece};
use piece::{Edge, Finish, Follow, Form, Layout, PartRole, StoneFinish, Taper, Wave, Zone};
use std::collections::{BTreeMap, BTreeSet};

impl How<'_> {
    /// Washing and scuffing one part.
    pub fn prepare(&self, part: usize) -> Vec<String> {
        let told = &self.piece.parts[part];
        let bare = match told.role {
            PartRole::Body => format!("Take everything off {}", the(&told.name)),
            PartRole::Lid => format!("Take {} apart", the(&told.name)),
            PartRole::Topper => format!("Trim {}", the(&told.name)),
        };
        let mut how = vec![format!(
            "{bare}, wash it with degreaser or dish soap, rinse and dry{}; get labels and their glue off.",
            self.each()
        )];
        let raw_steel = told.role == PartRole::Body && told.blank_colour.is_none();
        how.push(if raw_steel {
            "Scuff the raw steel with 180 to 220 grit until all shine is gone.".to_owned()
        } else {
            "Scuff with 220 to 400 grit until evenly dull; no acetone on plastic or on a coloured coat, only alcohol.".to_owned()
        });
        if told.role == PartRole::Lid {
            how.push("Keep gasket, vent, thread and slider bare; a millimetre or more on the skirt can stop the lid from seating.".to_owned());
        }
        how.push("Wipe with isopropyl alcohol of 70 to 91 % or stronger before and after scuffing, with a lint-free cloth, and touch it only with gloves from now on.".to_owned());
        if raw_steel {
            how.push("Spray the upright wall with water from a forearm's length: an unbroken sheet is clean, beads or breaks mean wash again; then let it dry.".to_owned());
        }
        how
    }

    /// Taping one part.
    pub fn mask(&self, part: usize, coated: &[usize]) -> Vec<String> {
        let told = &self.piece.parts[part];
        let settings = self.settings;
        let mut how = Vec::new();
        if let (Some((from, to)), Some(wall_mm)) = (self.reach_mm(part, coated), self.wall_mm(part))
        {
            if from > 0.05 {
                how.push(format!(
                    "Tape a level line {} from {}; everything nearer to that stays bare.",
                    length(settings, from),
                    origin(told)
                ));
            }
            if to < wall_mm - 0.05 {
                how.push(format!(
                    "Tape a second line {} from {}, that is {} from the other end; everything beyond it stays bare.",
                    length(settings, to),
                    origin(told),
                    length(settings, wall_mm - to)
                ));
            }
        } else {
            how.push("Tape the back, and the edge wherever it stays bare.".to_owned());
        }
        if told.role == PartRole::Body {
            how.push(format!(
                "The lip stays bare: nothing in the first {} from the rim.",
                length(settings, settings.lip_mm)
            ));
        }
        let mut template = None;
        for &zone in coated {
            let zone = &self.piece.zones[zone];
            if self.needs_own_tape(zone, self.reach_mm(part, coated)) {
                let mask = match zone.region.motif {
                    Some(_) => "mask all but it",
                    None => "tape along its edges",
                };
                how.push(format!("Before {} goes on, {mask}: {}.", zone.name, self.region(zone)));
                template = template.or(self.template(zone));
            }
        }
        how.extend(template);
        how.push("Press the edges of the tape down with a fingernail.".to_owned());
        how
    }

    /// Whether a coat ends anywhere but at the level lines that are taped anyway.
    fn needs_own_tape(&self, zone: &Zone, taped_mm: Option<(f64, f64)>) -> bool {
        let region = &zone.region;
        if region.window_rad.is_some()
            || region.art.is_some()
            || region.motif.is_some()
            || !region.leave_out.is_empty()
        {
            return true;
        }
        let (Some(band), Some((from, to))) = (&region.band, taped_mm) else { return false };
        let ends_at =
            |edge: &Edge, at: f64| edge.wave == Wave::Level && (edge.along_mm - at).abs() < 0.05;
        !ends_at(&band.from, from) || !ends_at(&band.to, to)
    }

    /// Sanding between coats, before film or before stones.
    pub fn sand(&self, part: usize, next: StepKind) -> Vec<String> {
        let mut how = vec![
            format!(
                "Wait until a thumbnail leaves no dent, at least {} after the pour.",
                span(self.coats.waits.sandable_min)
            ),
            "Wash it with plain warm water and a pad first, which takes off any waxy film, and dry it.".to_owned(),
        ];
        how.push(match next {
            StepKind::Pour => "The hours of work miss the time in which the next coat bonds by itself, so it needs a key: dull all of it with 320 to 400 grit, wet, without cutting through.".to_owned(),
            StepKind::Set => "Scuff with 320 to 400 grit, wet, only where stones will sit; clear resin left shiny round them needs no polish.".to_owned(),
            StepKind::Film => "Level high spots with 150 to 220 grit, wet, then key the ground of the film with 320 to 400.".to_owned(),
            _ => "Level high spots with 150 to 220 grit, wet, then key all of it with 320 to 400.".to_owned(),
        });
        let glittered = self
            .piece
            .zones
            .iter()
            .any(|zone| zone.part == part && matches!(zone.finish, Finish::Glitter { .. }));
        if glittered {
            how.push(
                "Stop as soon as glitter shows on the pad: sanded glitter has lost its colour."
                    .to_owned(),
            );
        }
        how.push("Rinse, dry, wipe with alcohol and let it dry off.".to_owned());
        how
    }

    /// How many pieces of film a zone is cut in, and how large.
    fn film_pieces(&self, film: &Film) -> String {
        let size = |piece: &FilmPiece| {
            let (width, height) = piece.size_mm;
            format!("{} by {}", length(self.settings, width), length(self.settings, height))
        };
        let area = |piece: &&FilmPiece| piece.size_mm.0 * piece.size_mm.1;
        let largest = film.pieces.iter().max_by(|a, b| area(a).total_cmp(&area(b)));
        let largest = largest.map(size).unwrap_or_default();
        let pieces = count(film.pieces.len(), "piece");
        if film.pieces.iter().all(|piece| size(piece) == largest) {
            format!("{pieces} of {largest} with the margin")
        } else {
            format!("{pieces}, the largest {largest} with the margin")
        }
    }

    /// Cutting and laying film.
    pub fn film(&self, film: &Film) -> Vec<String> {
        let settings = self.settings;
        let zone = &self.piece.zones[film.zone];
        let part = &self.piece.parts[film.part];
        let file = piece::file_name::cut_files(self.piece);
        let file = file.get(&film.colour).map_or("the cut file of its colour", String::as_str);
        let mut how = vec![format!(
            "Cut {} from {} film with {file}: {}{}.",
            zone.name,
            self.colour(film.colour),
            self.film_pieces(film),
            self.each()
        )];
        if film.mirrored {
            how.push("That film is cut from its back: the file is mirrored already, so do not mirror it again.".to_owned());
        }
        let vinyl = &settings.vinyl;
        let plan = self.coats.cutting.of_colour.get(&film.colour);
        how.extend(plan.map(|cutting| format!(
            "All film of this colour{} lies on {} of {} by {}{}. In all it takes {} of a roll as wide, and {} of that is waste.",
            match self.piece.quantity {
                1 => String::new(),
                quantity => format!(", for all {quantity},"),
            },
            count(cutting.count() as usize, "sheet"),
            length(settings, vinyl.sheet_width_mm),
            length(settings, vinyl.sheet_height_mm),
            match cutting.sheets.iter().any(|sheet| sheet.times > 1) {
                true => "; of those that are alike the file shows one and how often to cut it",
                false => "",
            },
            length(settings, cutting.length_mm()),
            percent(cutting.waste()),
        )));
        if let Some(text) = zone.region.text() {
            how.push(format!(
                "It reads \"{text}\": check every letter against the order before cutting."
            ));
        }
        how.push(format!(
            "Weed it ({}), mask it with transfer tape and trim it.",
            count(film.shapes, "separate shape")
        ));
        if film.pieces.iter().any(|piece| !piece.registration.is_empty()) {
            how.push("Leave its three crosses on the tape: lay them on those of the other films of this art, and lift them off once the art lies.".to_owned());
        }
        how.push(format!(
            "Lay it {}; the wrap of {} shows the spot.",
            self.region(zone),
            the(&part.name)
        ));
        how.push(match part.form {
            Form::Revolved(_) => "Find the level with a tape ring or a laser line, hinge the middle with tape, press from the middle outwards.".to_owned(),
            Form::Flat(_) => "Hinge one edge with tape and press from the middle outwards.".to_owned(),
        });
        how.extend(film.lie.and_then(|lie| self.lying(&lie)));
        how.push("Burnish for 30 to 60 s, peel the tape back flat, burnish again.".to_owned());
        how.push(format!(
            "Let it rest {} before resin goes over it.",
            span(settings.times.vinyl_rest_min)
        ));
        how
    }

    /// Setting the stones of one zone.
    pub fn set(&self, zone: usize, finish: &StoneFinish, glue_ml: f64) -> Vec<String> {
        let settings = self.settings;
        let told = &self.piece.zones[zone];
        let mut counts: BTreeMap<(usize, usize), usize> = BTreeMap::new();
        let mut patches = Vec::new();
        for stone in self.stones.stones.iter().filter(|stone| stone.zone == zone) {
            *counts.entry((stone.size, stone.colour)).or_default() += 1;
            if patches.last() != Some(&stone.patch) {
                patches.push(stone.patch);
            }
        }
        let number: usize = counts.values().sum();
        let items: Vec<String> = counts
            .iter()
            .map(|((size, colour), number)| {
                format!("{number} {} {}", finish.sizes[*size].name, self.colour(*colour))
            })
            .collect();
        let mut how = vec![
            format!("Lay out {} in all: {}{}.", count(number, "stone"), list(&items), self.each()),
            format!(
                "Set them {}, keeping {} between stones.",
                self.region(told),
                fine(settings, finish.least_gap_mm())
            ),
        ];
        if let (Some(first), Some(last)) = (patches.iter().min(), patches.iter().max()) {
            let turn = if self.is_flat(told.part) {
                "tilt or move the plate".to_owned()
            } else {
                format!("turn {}", self.thing(told.part))
            };
            how.push(format!(
                "Work by the placement pages of {}, patch {first} to patch {last}; {turn} only as the setting order there says.",
                told.name
            ));
            how.extend(self.turning(zone, (*first, *last)));
        }
        let ways: BTreeSet<&str> =
            finish.layers.iter().map(|layer| way_of_setting(layer.layout)).collect();
        how.extend(ways.into_iter().map(str::to_owned));
        how.extend(self.template(told));
        how.push("Wipe the ground with alcohol and try a few stones first: they must not peel off when the glue is hard.".to_owned());
        how.push(format!(
            "Put down a dot of glue of about two thirds of a stone's width and press the stone until the glue covers {:.0} % of it: about {} ml of glue for all.",
            settings.glue.dot_share * 100.0,
            tenths(glue_ml)
        ));
        how.push(format!(
            "The glue stays open {}: put down no more dots than you can cover in that time.",
            span(settings.glue.open_min)
        ));
        how.push(format!("The glue has its full strength after {}.", span(settings.glue.full_min)));
        how
    }
}

/// What a hand does to keep a layout in order.
fn way_of_setting(layout: Layout) -> &'static str {
    match layout {
        Layout::Rows { follow: Follow::Level, taper: Taper::Wedge, .. } => {
            "Rule the front line from rim to foot, set each row from it to both sides, and fill the wedge at the back with the small stones last."
        }
        Layout::Rows { follow: Follow::Level, .. } => {
            "Rule a level line to start from and check the rows against it every 5 to 10 rows."
        }
        Layout::Rows { follow: Follow::Edge, .. } => {
            "Draw the edge to start from and check the rows against it every 5 to 10 rows."
        }
        Layout::Rows { follow: Follow::Spiral, .. } => {
            "Rule the rising line for the first turn; every turn after rests on the one before."
        }
        Layout::Scatter { .. } => {
            "Set the large stones of a patch first and the small ones into the pockets between them."
        }
        Layout::Outline { .. } => {
            "Set a stone in each sharp corner first, then the edges from corner to corner."
        }
        Layout::Line => {
            "Mark the strokes through the placement page, set a stone on each end, corner and junction first, then each stroke between them at even gaps."
        }
        Layout::Rings => "Set the ring at the edge first and work inward, ring by ring.",
        Layout::Sparse { .. } => {
            "Prick the places of the single stones through the placement page first."
        }
        Layout::Pockets => "Set the small stones into the pockets last, with a fine tip.",
    }
}
