//! Layers of a drawing: what is seen of one colour or one group.

use crate::art::Filled;
use crate::boolean::{Plane, Region};
use piece::nearest::nearest;
use piece::{Diagnostic, FieldPath};
use std::rc::Rc;

/// Most times that a drawing may change between what belongs to a layer and what does not: each time
/// what is seen of it is cut anew.
const MOST_TURNS: usize = 2000;

/// Most layers that are listed where one is not found.
const MOST_LISTED: usize = 20;

/// What tells to which layers a path belongs, and of a letter which it is.
#[derive(Debug, Clone, Default)]
pub(crate) struct Mark {
    /// Its colour; `None` for gradients and patterns.
    pub(crate) srgb: Option<[u8; 3]>,
    /// Its own name and those of the groups around it; of a letter, the character it begins with.
    pub(crate) names: Vec<Rc<str>>,
}

/// One layer, as it was asked for.
pub(crate) enum Layer {
    /// All that is painted in this colour.
    Colour([u8; 3]),
    /// All in the groups and paths of this name.
    Named(String),
}

impl Layer {
    /// The layer that is called `typed`.
    ///
    /// # Errors
    /// There is none in the drawing.
    pub(crate) fn find(
        typed: &str,
        filled: &[Filled],
        file: &str,
        at: &FieldPath,
    ) -> Result<Self, Diagnostic> {
        let named = Self::Named(typed.to_owned());
        let layer = if filled.iter().any(|one| named.holds(one)) {
            named
        } else {
            colour(typed).map_or(named, Self::Colour)
        };
        if filled.iter().any(|one| layer.holds(one)) {
            return Ok(layer);
        }
        let known = layers(filled);
        let known: Vec<&str> = known.iter().map(String::as_str).collect();
        let mut wrong = Diagnostic::error(at.clone(), format!("`{file}` has no layer `{typed}`"));
        if let Some(meant) = nearest(typed, &known).filter(|_| colour(typed).is_none()) {
            wrong = wrong.hint(format!("Did you mean `{meant}`?"));
        }
        let more = known.len().saturating_sub(MOST_LISTED);
        let listed = known[..known.len() - more].join(", ");
        Err(wrong.hint(if known.is_empty() {
            "It has neither plain colours nor named groups; leave `layer` out.".to_owned()
        } else if more > 0 {
            format!("It has {listed} and {more} more.")
        } else {
            format!("It has {listed}.")
        }))
    }

    pub(crate) fn holds(&self, one: &Filled) -> bool {
        match self {
            Self::Colour(srgb) => one.mark.srgb == Some(*srgb),
            Self::Named(name) => one.mark.names.iter().any(|own| **own == **name),
        }
    }
}

/// A colour as typed: `#rrggbb` or `#rgb`.
fn colour(typed: &str) -> Option<[u8; 3]> {
    let digits =
        typed.strip_prefix('#').filter(|rest| rest.chars().all(|c| c.is_ascii_hexdigit()))?;
    let number = u32::from_str_radix(digits, 16).ok()?;
    let channel = |shift: u32, bits: u32| ((number >> shift) & ((1 << bits) - 1)) as u8;
    match digits.len() {
        6 => Some([channel(16, 8), channel(8, 8), channel(0, 8)]),
        3 => Some([channel(8, 4) * 17, channel(4, 4) * 17, channel(0, 4) * 17]),
        _ => None,
    }
}

/// Colours, then names, in the order in which the drawing paints them.
fn layers(filled: &[Filled]) -> Vec<String> {
    let mut all: Vec<String> = Vec::new();
    let mut names: Vec<String> = Vec::new();
    for one in filled {
        if let Some([red, green, blue]) = one.mark.srgb {
            all.push(format!("#{red:02x}{green:02x}{blue:02x}"));
        }
        names.extend(one.mark.names.iter().map(|name| (**name).to_owned()));
    }
    all.extend(names);
    let mut seen = std::collections::BTreeSet::new();
    all.retain(|one| seen.insert(one.clone()));
    all
}

/// What is seen of a layer. `painted` are the regions of a drawing in the order in which it paints
/// them, with whether each belongs to the layer: a later one hides what it covers of those before,
/// whether it lets light through or not. `None` where layers take turns too often.
pub(crate) fn seen(paper: &Plane, painted: &[(Region, bool)]) -> Option<Region> {
    let mut seen = Region::default();
    for (turn, run) in painted.chunk_by(|a, b| a.1 == b.1).enumerate() {
        if turn > MOST_TURNS {
            return None;
        }
        let loops = run.iter().flat_map(|(region, _)| region.loops.iter().cloned());
        if run[0].1 {
            let both: Vec<_> = seen.loops.iter().cloned().chain(loops).collect();
            seen = Region::filled(paper, &both);
        } else if !seen.is_empty() {
            let over = Region::filled(paper, &loops.collect::<Vec<_>>());
            seen = seen.without(paper, &over);
        }
    }
    Some(seen)
}
