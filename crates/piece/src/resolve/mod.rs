//! From the file's form to the resolved form: names followed, units ours, sense checked.
//!
//! Every check runs even when an earlier one failed, so that a maker sees all errors at once; what
//! could not be resolved stands in as something harmless, and the result is not handed out.

mod art;
mod bounds;
mod colours;
mod film;
mod handles;
mod hours;
mod motif;
mod order;
mod parts;
mod places;
mod readings;
mod sellers;
mod settings;
mod stock;
mod stones;
mod strengths;
mod wares;
mod zones;

pub(crate) use hours::hours;
pub(crate) use order::order;
pub(crate) use places::per_cent;
pub(crate) use sellers::sellers;
pub(crate) use settings::settings;
pub(crate) use stock::stock;

use crate::file::piece::{DrinksFile, PieceFile};
use crate::nearest::nearest;
use crate::read::Art;
use crate::units::{or_list, shorten};
use crate::{Diagnostic, Drinks, FieldPath, Piece};
use colours::Palette;
use std::collections::BTreeMap;

/// The thinnest coat of resin, mm: no squeegee leaves less (our choice).
const LEAST_COAT_MM: f64 = 0.01;

/// What all checks share: the complaints so far, and the files beside the piece file.
pub(crate) struct Bench<'a> {
    pub diagnostics: Vec<Diagnostic>,
    pub art: &'a dyn Art,
}

impl Bench<'_> {
    fn error(&mut self, path: &FieldPath, message: impl Into<String>) {
        self.diagnostics.push(Diagnostic::error(path.clone(), message));
    }

    fn error_hint(
        &mut self,
        path: &FieldPath,
        message: impl Into<String>,
        hint: impl Into<String>,
    ) {
        self.diagnostics.push(Diagnostic::error(path.clone(), message).hint(hint));
    }

    /// `value`, complained about unless it is above 0 and at most `most`.
    fn size_mm(&mut self, path: &FieldPath, what: &str, value_mm: f64, most_mm: f64) -> f64 {
        if value_mm <= 0.0 {
            self.error(path, format!("{what} is {}; it must be more than 0 mm", mm(value_mm)));
        } else if value_mm > most_mm {
            self.too_much(path, what, value_mm, most_mm);
        }
        value_mm
    }

    /// The film of a coat of resin, complained about unless it is one that can be poured.
    fn coat_mm(&mut self, path: &FieldPath, film_mm: f64) -> f64 {
        if film_mm > 0.0 && film_mm < LEAST_COAT_MM {
            let message = format!("no coat of resin is thinner than {}", mm(LEAST_COAT_MM));
            self.error_hint(path, message, "check its unit; a usual coat leaves 0.15 to 0.2 mm");
            return film_mm;
        }
        self.size_mm(path, "the film", film_mm, 10.0)
    }

    fn too_much(&mut self, path: &FieldPath, what: &str, value_mm: f64, most_mm: f64) {
        let (is, most) = (mm(value_mm), mm(most_mm));
        self.error_hint(
            path,
            format!("{what} is {is}; more than {most} is not expected"),
            format!("check its unit; it can be {most} at most"),
        );
    }

    /// `value`, complained about unless it is from 0 to `most`.
    fn margin_mm(&mut self, path: &FieldPath, what: &str, value_mm: f64, most_mm: f64) -> f64 {
        if value_mm < 0.0 {
            self.error(path, format!("{what} is {}; it cannot be negative", mm(value_mm)));
        } else if value_mm > most_mm {
            self.too_much(path, what, value_mm, most_mm);
        }
        value_mm
    }

    /// A length in either direction, complained about beyond `most`.
    fn reach_mm(&mut self, path: &FieldPath, what: &str, value_mm: f64, most_mm: f64) -> f64 {
        if value_mm.abs() > most_mm {
            self.too_much(path, what, value_mm, most_mm);
        }
        value_mm
    }

    /// Index of the thing called `name`, or a complaint that names the nearest.
    fn find(&mut self, path: &FieldPath, what: &str, name: &str, known: &[&str]) -> Option<usize> {
        if let Some(index) = known.iter().position(|known| *known == name) {
            return Some(index);
        }
        let message = format!("there is no {what} called `{}`", shorten(name));
        let diagnostic = Diagnostic::error(path.clone(), message);
        let diagnostic = match nearest(name, known) {
            Some(meant) => diagnostic.hint(format!("did you mean \"{meant}\"?")),
            None if known.is_empty() => {
                diagnostic.hint(format!("the file describes no {what} yet"))
            }
            None => diagnostic
                .hint(format!("this file has {}", or_list(known).replace(" or ", " and "))),
        };
        self.diagnostics.push(diagnostic);
        None
    }

    /// Complaints about names that stand twice; `list` is the list's key.
    fn unique(&mut self, list: &str, what: &str, names: &[&str]) {
        let mut first: BTreeMap<&str, usize> = BTreeMap::new();
        for (index, name) in names.iter().enumerate() {
            if let Some(earlier) = first.get(name) {
                let path = FieldPath::root().key(list).index(index).key("name");
                let message = format!(
                    "two {what}s are called `{name}`: number {} and number {}",
                    earlier + 1,
                    index + 1
                );
                self.error_hint(&path, message, format!("give each {what} a name of its own"));
            } else {
                first.insert(name, index);
            }
        }
    }

    /// Complaints about a chain that comes back to where it began; `next[i]` lists what `i` leads to.
    fn no_rings(
        &mut self,
        next: &[Vec<usize>],
        path: impl Fn(usize) -> FieldPath,
        message: impl Fn(&[usize]) -> String,
        hint: &str,
    ) {
        // 0 not seen, 1 on the way, 2 done; an explicit stack, since a chain can be as long as the list.
        let mut state = vec![0_u8; next.len()];
        for start in 0..next.len() {
            let mut way: Vec<(usize, usize)> = Vec::new();
            if state[start] == 0 {
                state[start] = 1;
                way.push((start, 0));
            }
            while let Some((at, taken)) = way.last_mut() {
                let (here, Some(&to)) = (*at, next[*at].get(*taken)) else {
                    state[*at] = 2;
                    way.pop();
                    continue;
                };
                *taken += 1;
                match state[to] {
                    0 => {
                        state[to] = 1;
                        way.push((to, 0));
                    }
                    1 => {
                        let from = way.iter().position(|(on_way, _)| *on_way == to).unwrap_or(0);
                        let ring: Vec<usize> =
                            way[from..].iter().map(|(on_way, _)| *on_way).collect();
                        self.error_hint(&path(here), message(&ring), hint);
                    }
                    _ => {}
                }
            }
        }
    }
}

/// A length for a message, in mm, without needless zeros.
pub(crate) fn mm(value_mm: f64) -> String {
    // Adding 0 takes the sign off a zero.
    let rounded = (value_mm * 100.0).round() / 100.0 + 0.0;
    format!("{rounded} mm")
}

/// The resolved piece, which only counts if `bench` holds no errors afterwards.
pub(crate) fn piece(file: &PieceFile, bench: &mut Bench<'_>) -> Piece {
    let root = FieldPath::root();
    if file.title.trim().is_empty() {
        bench.error(&root.key("title"), "the title is blank");
    }
    let mut palette = Palette::new(&file.colours, bench);
    let zone_names: Vec<&str> = file.zone.iter().map(|zone| zone.name.0.as_str()).collect();
    let parts = parts::parts(&file.part, &zone_names, &mut palette, bench);
    let zones = zones::zones(&file.zone, &file.part, &parts, &mut palette, bench);
    let strengths = strengths::strengths(&file.strength, &zones, bench);
    let mut piece = Piece {
        title: file.title.clone(),
        notes: file.notes.clone(),
        quantity: file.quantity,
        due: file.due.as_ref().map(|day| day.0),
        drinks: match file.drinks {
            DrinksFile::Cold => Drinks::Cold,
            DrinksFile::Hot => Drinks::Hot,
        },
        for_child: file.for_child,
        seed: file.seed,
        parts,
        zones,
        colours: Vec::new(),
        strengths,
    };
    palette.hand_over(&mut piece, bench);
    piece
}
