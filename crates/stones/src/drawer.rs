//! Planning with the stones at hand: no more of a size and colour than the studio's drawer holds.

use crate::Stone;
use crate::asked::Asked;
use crate::fill::Spot;
use piece::{Diagnostic, FieldPath, Piece, Settings, StoneMaterial};
use std::collections::BTreeMap;

/// A kind of stone: material, name of the size, name of the colour.
type Kind = (StoneMaterial, String, String);

/// What is left in the drawer for one piece.
#[derive(Debug, Clone)]
pub struct Drawer<'a> {
    piece: &'a Piece,
    left: BTreeMap<Kind, usize>,
}

impl<'a> Drawer<'a> {
    /// The studio's drawer, shared evenly among the pieces of the order.
    pub fn new(piece: &'a Piece, settings: &Settings) -> Self {
        let each = |count: u32| (count / piece.quantity.max(1)) as usize;
        let kind = settings.drawer.iter().map(|held| {
            ((held.material, held.size.clone(), held.colour.clone()), each(held.count))
        });
        Self { piece, left: kind.collect() }
    }

    fn left(&self, asked: &Asked<'_>, size: usize, colour: usize) -> usize {
        let size = &asked.finish.sizes[asked.layer.sizes[size].0];
        let colour = &self.piece.colours[asked.layer.colours[colour].0];
        let kind = (asked.finish.material, size.name.clone(), colour.name.clone());
        self.left.get(&kind).copied().unwrap_or(0)
    }

    /// Most stones of each size of a layer, in all its colours; empty if it may have any number.
    pub fn most(&self, asked: &Asked<'_>) -> Vec<Option<usize>> {
        if !asked.finish.rules.from_drawer {
            return Vec::new();
        }
        let of_size = |size| (0..asked.layer.colours.len()).map(move |k| self.left(asked, size, k));
        (0..asked.layer.sizes.len()).map(|size| Some(of_size(size).sum())).collect()
    }

    /// Leaves out stones beyond what there is, from the end; a warning says of what there is too
    /// little.
    pub fn kept(
        &self,
        asked: &Asked<'_>,
        spots: &mut Vec<Spot>,
        path: &FieldPath,
        zone: &str,
    ) -> Option<Diagnostic> {
        let most = self.most(asked);
        if most.is_empty() {
            return None;
        }
        let mut laid = vec![0; most.len()];
        spots.retain(|spot| {
            laid[spot.size] += 1;
            most[spot.size].is_none_or(|most| laid[spot.size] <= most)
        });
        let short: Vec<String> = asked
            .sizes()
            .iter()
            .zip(laid.iter().zip(&most))
            .filter_map(|((size, _), (laid, most))| {
                let most = most.filter(|most| laid >= most)?;
                let wanted = if *laid > most {
                    format!(", and {} more were wanted", laid - most)
                } else {
                    String::new()
                };
                Some(format!("{} (all {most} that it holds are planned{wanted})", size.name))
            })
            .collect();
        (!short.is_empty()).then(|| {
            let text =
                format!("the drawer is short for zone \"{zone}\" of {}", short.join(", of "));
            Diagnostic::warning(path.clone(), text)
                .hint("Buy more and add them to the drawer, or set from_drawer = false.")
        })
    }

    /// Gives stones whose size the drawer does not hold in their colour another colour that it does
    /// hold, the one with most left first. `colours` are indices into the layer's.
    pub fn recolour(&self, asked: &Asked<'_>, spots: &[Spot], colours: &mut [usize]) {
        if !asked.finish.rules.from_drawer {
            return;
        }
        let (sizes, kinds) = (asked.layer.sizes.len(), asked.layer.colours.len());
        let mut left: Vec<Vec<usize>> = (0..sizes)
            .map(|size| (0..kinds).map(|colour| self.left(asked, size, colour)).collect())
            .collect();
        let mut without = Vec::new();
        for (index, spot) in spots.iter().enumerate() {
            match &mut left[spot.size][colours[index]] {
                0 => without.push(index),
                some => *some -= 1,
            }
        }
        for index in without {
            let left = &mut left[spots[index].size];
            // Of two alike the first.
            let most = (0..kinds).rev().max_by_key(|colour| left[*colour]);
            if let Some(colour) = most.filter(|colour| left[*colour] > 0) {
                left[colour] -= 1;
                colours[index] = colour;
            }
        }
    }

    /// Takes the stones of a layer out.
    pub fn take(&mut self, asked: &Asked<'_>, stones: &[Stone]) {
        for stone in stones {
            let size = asked.finish.sizes[stone.size].name.clone();
            let colour = self.piece.colours[stone.colour].name.clone();
            if let Some(left) = self.left.get_mut(&(asked.finish.material, size, colour)) {
                *left = left.saturating_sub(1);
            }
        }
    }
}
