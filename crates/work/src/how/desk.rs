//! How an order is settled, approved, finished and packed.

use super::How;
use crate::words::{count, list, span};
use piece::{Art, Drinks, Finish, Part, PartRole};
use std::collections::BTreeSet;

impl How<'_> {
    /// Words that are lettered, in the order of the zones, each in quotation marks.
    fn words_on_it(&self) -> Vec<String> {
        self.piece
            .zones
            .iter()
            .filter_map(|zone| match &zone.region.art.as_ref()?.art {
                Art::Lettering { text, .. } => Some(format!("\"{text}\"")),
                Art::Path(_) | Art::Svg { .. } => None,
            })
            .collect()
    }

    fn has_stones(&self) -> bool {
        self.piece.zones.iter().any(|zone| matches!(zone.finish, Finish::Stones(_)))
    }

    /// Before anything begins.
    pub fn order(&self) -> Vec<String> {
        let piece = self.piece;
        let parts: Vec<String> = piece.parts.iter().map(|part| part.name.clone()).collect();
        let mut how = vec![format!(
            "Settle in writing: {} of {}, made of {}, for {} drinks{}.",
            piece.quantity,
            piece.title,
            list(&parts),
            match piece.drinks {
                Drinks::Cold => "cold",
                Drinks::Hot => "hot",
            },
            if piece.for_child { ", for a child" } else { "" }
        )];
        let words = self.words_on_it();
        if !words.is_empty() {
            how.push(format!("Have the exact spelling confirmed: {}.", list(&words)));
        }
        let used: BTreeSet<usize> = piece.zones.iter().flat_map(colours_of).collect();
        let colours: Vec<String> =
            used.into_iter().map(|colour| self.colour(colour).to_owned()).collect();
        if !colours.is_empty() {
            how.push(format!(
                "Show the colours from stock, not from a screen: {}.",
                list(&colours)
            ));
        }
        if let Some(due) = piece.due {
            how.push(format!("It must be with the customer on {due}; say so now if the timetable does not reach it."));
        }
        how.push("Measure the blank with a tape and compare it with the measurements this plan was made from.".to_owned());
        how.push("Buy what the bill lists and is not in the drawer.".to_owned());
        if self.has_stones() {
            how.push(
                "Take all stones of one colour and size from one lot, and keep ten of each."
                    .to_owned(),
            );
        }
        how
    }

    /// Asking the customer.
    pub fn approve(&self, from_plan: bool) -> Vec<String> {
        let mut how = vec![if from_plan {
            "Send the picture of this plan with the colours as they lie in stock.".to_owned()
        } else {
            "Photograph front, back and both sides in daylight and send the pictures.".to_owned()
        }];
        let words = self.words_on_it();
        if !words.is_empty() {
            how.push(format!("Spell the words out again: {}.", list(&words)));
        }
        how.push("Ask for a yes in writing and say that nothing can change after it; a day is allowed for the answer.".to_owned());
        how
    }

    /// Checking and putting together.
    pub fn finish(&self) -> Vec<String> {
        let mut how = vec![
            "Look for drips at rim and foot, dust, and bubbles; the cup must stand without rocking.".to_owned(),
        ];
        if self.has_stones() {
            how.push(format!(
                "Go over all {} with a fingertip, replace loose and chipped ones, and wipe glue off with a damp cloth.",
                count(self.stones.stones.len(), "stone")
            ));
        }
        for part in &self.piece.parts {
            if let Some(seat) = &part.seat {
                let below = &self.piece.parts[seat.on_part].name;
                how.push(seated(part, below, self.settings.glue.full_min));
            }
        }
        how.push("Clean it and photograph it from the front, the back and above.".to_owned());
        how.push(
            "Note what was used and what is left: resin batch, stone lots, hours for each step."
                .to_owned(),
        );
        how
    }

    /// Packing.
    pub fn pack(&self) -> Vec<String> {
        let mut how = vec![format!(
            "Wait for full cure, {} after the last pour.",
            span(self.settings.resin.full_cure_min)
        )];
        if !self.coats.coats.iter().any(|coat| matches!(coat.matter, coats::Matter::Resin(_))) {
            how.clear();
        }
        how.push("Put the care card in".to_owned() + if self.has_stones() {
            ", with a repair kit: a few spare stones of each size and colour and a little glue."
        } else {
            "."
        });
        how.push(
            "Wrap in tissue, then padding of 25 to 50 mm on all sides, lid and toppers apart."
                .to_owned(),
        );
        if self.has_stones() {
            how.push("Use two boxes, one inside the other.".to_owned());
        }
        how.push("Close each end with three strips of tape.".to_owned());
        how
    }
}

fn seated(part: &Part, below: &str, full_min: f64) -> String {
    match part.role {
        PartRole::Topper => format!(
            "Glue {} on {below}, both scuffed and wiped with alcohol, and leave it {} untouched.",
            part.name,
            span(full_min)
        ),
        PartRole::Body | PartRole::Lid => {
            format!("Put {} on {below} and check that it seats and comes off freely.", part.name)
        }
    }
}

fn colours_of(zone: &piece::Zone) -> Vec<usize> {
    match &zone.finish {
        Finish::Paint { colour, .. }
        | Finish::Glitter { colour, .. }
        | Finish::Vinyl { colour } => {
            vec![*colour]
        }
        Finish::Resin { .. } => Vec::new(),
        Finish::Stones(stones) => stones.colours.iter().map(|(colour, _)| *colour).collect(),
    }
}
