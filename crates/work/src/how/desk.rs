//! How an order is settled, approved, finished and packed.

use super::How;
use super::spot::the;
use crate::words::{count, length, list, span};
use piece::{Drinks, Finish, Part, PartRole};
use std::collections::BTreeSet;

impl How<'_> {
    /// Words that are lettered, in the order of the zones, each in quotation marks.
    fn words_on_it(&self) -> Vec<String> {
        self.piece
            .zones
            .iter()
            .filter_map(|zone| Some(format!("\"{}\"", zone.region.text()?)))
            .collect()
    }

    fn has_stones(&self) -> bool {
        self.piece.zones.iter().any(|zone| matches!(zone.finish, Finish::Stones(_)))
    }

    fn has_body(&self) -> bool {
        self.piece.parts.iter().any(|part| part.role == PartRole::Body)
    }

    /// Before anything begins.
    pub fn order(&self) -> Vec<String> {
        let piece = self.piece;
        let parts: Vec<String> = piece.parts.iter().map(|part| part.name.clone()).collect();
        let mut how = vec![format!(
            "Settle in writing: {} of \"{}\" ({}){}{}.",
            piece.quantity,
            piece.title,
            list(&parts),
            match (self.has_body(), piece.drinks) {
                (false, _) => "",
                (true, Drinks::Cold) => ", for cold drinks",
                (true, Drinks::Hot) => ", for hot drinks",
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
            let due = due.strftime("%a %-d %b %Y");
            how.push(format!("It must be with the customer by {due}; say so now if the timetable does not reach it."));
        }
        how.push("Measure each blank with a tape and compare it with the measurements this plan was made from.".to_owned());
        how.push("Buy what the bill lists and is not in the drawer.".to_owned());
        match self.settings.times.delivery_days {
            0 => {}
            1 => how.push("A day is allowed for it to arrive.".to_owned()),
            days => how.push(format!("{days} days are allowed for it to arrive.")),
        }
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
            if (0..self.piece.parts.len()).all(|part| self.is_flat(part)) {
                "Photograph the plate straight from above and from either side in daylight and send the pictures.".to_owned()
            } else {
                "Photograph front, back and both sides in daylight and send the pictures."
                    .to_owned()
            }
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
        let ends: BTreeSet<&str> =
            (0..self.piece.parts.len()).map(|part| self.ends(part)).collect();
        let ends: Vec<String> = ends.into_iter().map(str::to_owned).collect();
        let mut how = vec![format!("Look for drips {}, for dust and for bubbles.", list(&ends))];
        if self.has_body() {
            how.push("The cup must stand without rocking.".to_owned());
        }
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
        how.push(if (0..self.piece.parts.len()).all(|part| self.is_flat(part)) {
            "Clean it and photograph it straight from above and aslant.".to_owned()
        } else {
            "Clean it and photograph it from the front, the back and above.".to_owned()
        });
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
            span(self.coats.waits.full_cure_min)
        )];
        if !self.coats.coats.iter().any(|coat| matches!(coat.matter, coats::Matter::Resin(_))) {
            how.clear();
        }
        how.push("Put the care card in".to_owned() + if self.has_stones() {
            ", with a repair kit: a few spare stones of each size and colour and a little glue."
        } else {
            "."
        });
        how.push(format!(
            "Wrap in tissue, then padding of {} on all sides{}.",
            length(self.settings, 38.1),
            if self.piece.parts.len() > 1 { ", each part by itself" } else { "" }
        ));
        if self.has_stones() {
            how.push("Use two boxes, one inside the other.".to_owned());
        }
        how.push("Close each end with three strips of tape.".to_owned());
        how
    }
}

fn seated(part: &Part, below: &str, full_min: f64) -> String {
    let below = the(below);
    match part.role {
        PartRole::Topper => format!(
            "Glue {} on {below}, both scuffed and wiped with alcohol, and leave it {} untouched.",
            the(&part.name),
            span(full_min)
        ),
        PartRole::Body | PartRole::Lid => {
            format!(
                "Put {} on {below} and check that it seats and comes off freely.",
                the(&part.name)
            )
        }
    }
}

fn colours_of(zone: &piece::Zone) -> Vec<usize> {
    match &zone.finish {
        Finish::Paint { colour, .. }
        | Finish::Glitter { colour, .. }
        | Finish::Vinyl { colour, .. } => {
            vec![*colour]
        }
        Finish::Resin { .. } => Vec::new(),
        Finish::Stones(stones) => stones.colours(),
    }
}
