//! Planning with the stones at hand: no more of a size and colour than the studio's drawer holds.

use crate::Stone;
use crate::asked::Asked;
use crate::fill::Spot;
use piece::{Diagnostic, FieldPath, Layout, Piece, Settings, StoneMaterial};
use std::collections::{BTreeMap, BTreeSet};

/// A kind of stone: material, name of the size, name of the colour.
type Kind = (StoneMaterial, String, String);

/// What is left in the drawer for one piece.
#[derive(Debug, Clone)]
pub struct Drawer<'a> {
    piece: &'a Piece,
    left: BTreeMap<Kind, usize>,
    /// Whether the studio file lists no stones at all.
    is_empty: bool,
}

impl<'a> Drawer<'a> {
    /// The studio's drawer, shared evenly among the pieces of the order.
    pub fn new(piece: &'a Piece, settings: &Settings) -> Self {
        let each = |count: u32| (count / piece.quantity.max(1)) as usize;
        let kind = settings.drawer.iter().map(|held| {
            ((held.material, held.size.clone(), held.colour.clone()), each(held.count))
        });
        Self { piece, left: kind.collect(), is_empty: settings.drawer.is_empty() }
    }

    fn left(&self, asked: &Asked<'_>, size: usize, colour: usize) -> usize {
        let size = &asked.finish.sizes[asked.layer.sizes[size].0];
        let colour = &self.piece.colours[asked.layer.colours[colour].0];
        let kind = (asked.finish.material, size.name.clone(), colour.name.clone());
        self.left.get(&kind).copied().unwrap_or(0)
    }

    /// Whether a finish is bound to what the drawer holds. One that lists nothing binds none.
    fn binds(&self, asked: &Asked<'_>) -> bool {
        asked.finish.rules.from_drawer && !self.is_empty
    }

    /// Most stones of each size of a layer, in all its colours; empty if it may have any number. Zones
    /// that are joined ask together, with the same sizes.
    pub fn most(&self, zones: &[Asked<'_>]) -> Vec<Option<usize>> {
        let Some(first) = zones.first().filter(|asked| self.binds(asked)) else {
            return Vec::new();
        };
        let of_size = |size: usize| {
            let mut seen = BTreeSet::new();
            let kinds = zones.iter().flat_map(|asked| {
                (0..asked.layer.colours.len()).map(move |colour| (asked, colour))
            });
            // A colour that several zones have is there only once.
            kinds
                .filter(|(asked, colour)| seen.insert(asked.layer.colours[*colour].0))
                .map(|(asked, colour)| self.left(asked, size, colour))
                .sum()
        };
        (0..first.layer.sizes.len()).map(|size| Some(of_size(size))).collect()
    }

    /// A warning where the drawer lists nothing at all, an error where it holds nothing of what is asked
    /// for. Pockets may stay empty.
    pub fn lacking(&self, zones: &[Asked<'_>], path: &FieldPath, zone: &str) -> Option<Diagnostic> {
        let asked = zones.first().filter(|asked| asked.finish.rules.from_drawer)?;
        let hint = "List the stones that you have as [[drawer]] in the studio file, or set from_drawer = false.";
        if self.is_empty {
            let text = format!(
                "zone \"{zone}\" is to be set from the drawer, but the studio file lists no stones in \
                 it; it is planned as if there were enough"
            );
            return Some(Diagnostic::warning(path.clone(), text).hint(hint));
        }
        let needed = asked.layer.layout != Layout::Pockets;
        (needed && self.most(zones).iter().all(|most| *most == Some(0))).then(|| {
            let sizes: Vec<&str> =
                asked.sizes().iter().map(|(size, _)| size.name.as_str()).collect();
            let text = format!(
                "zone \"{zone}\" is to be set from the drawer, which holds no stone of {} left in its \
                 colours",
                sizes.join(", ")
            );
            Diagnostic::error(path.clone(), text).hint(hint)
        })
    }

    /// Leaves out stones beyond what there is, from the end; a warning says of what there is too
    /// little, and which share of the zone the stones that are kept leave `bare`, if any.
    pub fn kept(
        &self,
        asked: &Asked<'_>,
        spots: &mut Vec<Spot>,
        path: &FieldPath,
        zone: &str,
        bare: &dyn Fn(&[Spot]) -> Option<f64>,
    ) -> Option<Diagnostic> {
        let most = self.most(std::slice::from_ref(asked));
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
                let planned = match most {
                    0 => "it holds none".to_owned(),
                    1 => "the only one that it holds is planned".to_owned(),
                    most => format!("all {most} that it holds are planned"),
                };
                Some(format!("{} ({planned}{wanted})", size.name))
            })
            .collect();
        (!short.is_empty()).then(|| {
            let bare = bare(spots).map_or(String::new(), |share| {
                format!("; about {:.0} % of the zone stays bare", 100.0 * share)
            });
            let short = short.join(", of ");
            let text = format!("the drawer is short for zone \"{zone}\" of {short}{bare}");
            Diagnostic::warning(path.clone(), text)
                .hint("Buy more and add them to the drawer, or set from_drawer = false.")
        })
    }

    /// Gives stones whose size the drawer does not hold in their colour another colour that it does
    /// hold, the one with most left first. `colours` are indices into the piece's. Gives how many stones
    /// of each size and colour had to change.
    pub fn recolour(
        &self,
        asked: &Asked<'_>,
        spots: &[Spot],
        colours: &mut [usize],
    ) -> BTreeMap<(usize, usize), usize> {
        let mut changed = BTreeMap::new();
        if !self.binds(asked) {
            return changed;
        }
        let (sizes, kinds) = (asked.layer.sizes.len(), asked.layer.colours.len());
        let mut left: Vec<Vec<usize>> = (0..sizes)
            .map(|size| (0..kinds).map(|colour| self.left(asked, size, colour)).collect())
            .collect();
        let of_layer = |colour: usize| asked.layer.colours.iter().position(|own| own.0 == colour);
        let mut without = Vec::new();
        for (index, spot) in spots.iter().enumerate() {
            match of_layer(colours[index]).map(|own| &mut left[spot.size][own]) {
                Some(some) if *some > 0 => *some -= 1,
                _ => without.push(index),
            }
        }
        for index in without {
            let left = &mut left[spots[index].size];
            // Of two alike the first.
            let most = (0..kinds).rev().max_by_key(|colour| left[*colour]);
            if let Some(colour) = most.filter(|colour| left[*colour] > 0) {
                left[colour] -= 1;
                *changed.entry((spots[index].size, colours[index])).or_default() += 1;
                colours[index] = asked.layer.colours[colour].0;
            }
        }
        changed
    }

    /// A warning of stones that had to change their colour.
    pub fn recoloured(
        &self,
        asked: &Asked<'_>,
        changed: &BTreeMap<(usize, usize), usize>,
        path: &FieldPath,
        zone: &str,
    ) -> Option<Diagnostic> {
        let sizes = asked.sizes();
        let lacks: Vec<String> = changed
            .iter()
            .map(|((size, colour), count)| {
                let colour = &self.piece.colours[*colour].name;
                format!("{count} of {} in {colour}", sizes[*size].0.name)
            })
            .collect();
        (!lacks.is_empty()).then(|| {
            let text = format!(
                "the drawer lacks {} for zone \"{zone}\": stones of its other colours take their places",
                lacks.join(", ")
            );
            Diagnostic::warning(path.key("colours"), text).hint(
                "Buy more and add them to the drawer, ask for less of that colour, or set from_drawer = false.",
            )
        })
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
