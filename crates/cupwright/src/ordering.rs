//! From the orders of an hours file and piece files beside them to what is made in groups.

use crate::findings::Findings;
use crate::hours_file::HoursFile;
use crate::open::{Opened, open_piece};
use crate::road::{Halt, Laid, Laying, lay};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use jiff::civil::Date;
use piece::hours::When;
use piece::{Diagnostic, FieldPath, Piece};
use std::collections::BTreeMap;
use std::fs;
use std::path::{Path, PathBuf};
use work::together::{Group, Ordered, group_sizes};

/// One order before its piece is known.
struct Asked {
    name: String,
    /// Where it stands in the hours file; the root if it was named on the command line.
    path: FieldPath,
    file: PathBuf,
    due: Option<Date>,
    weight: u32,
    quantity: Option<u32>,
    begin: Option<When>,
    hand_over: bool,
}

/// A piece that was read and whose stones lie.
struct Ready {
    opened: Opened,
    laid: Laid,
}

/// What orders are read with.
pub struct Desk<'a> {
    pub studio: &'a Studio,
    pub hours: &'a HoursFile,
    pub begin: Option<When>,
    pub stop: &'a Stop,
    /// Told the share of the orders that is behind, 0 to 1, and what is being done.
    pub progress: &'a (dyn Fn(f64, &str) + Sync),
}

impl Desk<'_> {
    /// All orders with their steps; `None` if something needs mending first, which is then among the
    /// findings.
    ///
    /// # Errors
    /// A file cannot be read, nothing is ordered, or someone asked to stop.
    pub fn orders(
        &self,
        pieces: &[PathBuf],
        findings: &mut Findings,
    ) -> Result<Option<Vec<Ordered>>, Trouble> {
        let asked = self.asked(pieces)?;
        let mut ready: BTreeMap<&Path, Option<Ready>> = BTreeMap::new();
        let mut orders = Vec::with_capacity(asked.len());
        for (index, one) in asked.iter().enumerate() {
            let share = index as f64 / asked.len() as f64;
            (self.progress)(share, &format!("reading {}", one.name));
            if !ready.contains_key(one.file.as_path()) {
                let made = self.ready(&one.file, findings)?;
                ready.insert(&one.file, made);
            }
            let made = ready.get(one.file.as_path()).and_then(Option::as_ref);
            orders.push(match made {
                Some(made) => self.ordered(one, (&made.opened, &made.laid), findings)?,
                None => None,
            });
        }
        Ok(orders.into_iter().collect())
    }

    /// A piece that is laid already as one order more, begun no earlier than a day; `None` if something needs
    /// mending first, which is then among the findings.
    ///
    /// # Errors
    /// Someone asked to stop.
    pub fn option(
        &self,
        name: &str,
        begins: Date,
        piece: (&Opened, &Laid),
        findings: &mut Findings,
    ) -> Result<Option<Ordered>, Trouble> {
        let asked = Asked {
            // No order of an hours file can be called so.
            name: format!("option {name}"),
            path: FieldPath::root(),
            file: PathBuf::new(),
            due: None,
            weight: 1,
            quantity: None,
            begin: Some(When::Day(begins)),
            hand_over: false,
        };
        self.ordered(&asked, piece, findings)
    }

    /// How many orders these pieces make with those of the hours file.
    ///
    /// # Errors
    /// Nothing is ordered, or two orders would be called alike.
    pub fn count(&self, pieces: &[PathBuf]) -> Result<usize, Trouble> {
        Ok(self.asked(pieces)?.len())
    }

    fn asked(&self, pieces: &[PathBuf]) -> Result<Vec<Asked>, Trouble> {
        let list = FieldPath::root().key("order");
        let of_hours = self.hours.hours.orders.iter().enumerate().map(|(index, order)| Asked {
            name: order.name.clone(),
            path: list.index(index),
            file: self.hours.beside(&order.file),
            due: order.due,
            weight: order.weight,
            quantity: order.quantity,
            begin: order.begin,
            hand_over: order.hand_over,
        });
        let mut asked: Vec<Asked> = of_hours.collect();
        let real = |path: &Path| fs::canonicalize(path).unwrap_or_else(|_| path.to_owned());
        for file in pieces {
            // A piece that the hours file orders too is that order.
            if asked.iter().any(|one| real(&one.file) == real(file)) {
                continue;
            }
            let name = shown(Path::new(file.file_stem().unwrap_or(file.as_os_str())));
            if asked.iter().any(|one| one.name == name) {
                return Err(Trouble::usage(format!("two orders would be called {name}"))
                    .hint("Order one of them in the hours file, with a `name` of its own."));
            }
            asked.push(Asked {
                name,
                path: FieldPath::root(),
                file: file.clone(),
                due: None,
                weight: 1,
                quantity: None,
                begin: None,
                hand_over: false,
            });
        }
        if asked.is_empty() {
            return Err(Trouble::usage("nothing is ordered")
                .hint("Name piece files, or add [[order]] tables to the hours file."));
        }
        Ok(asked)
    }

    fn ready(&self, file: &Path, findings: &mut Findings) -> Result<Option<Ready>, Trouble> {
        let Some(opened) = open_piece(file, self.stop, findings)? else { return Ok(None) };
        let laying = Laying {
            settings: &self.studio.settings,
            stop: self.stop,
            long_work: &|_| true,
            progress: &|_, _| {},
        };
        match lay(opened.piece.clone(), &laying) {
            Ok(laid) => {
                let mut notes = opened.notes.clone();
                notes.extend(laid.shape.notes.iter().cloned());
                notes.extend(laid.stones.notes.iter().cloned());
                opened.found(notes, self.studio, findings);
                Ok(Some(Ready { opened, laid }))
            }
            Err(Halt::Stopped) => Err(Trouble::stopped()),
            Err(Halt::Mend(errors)) => {
                opened.found(errors, self.studio, findings);
                Ok(None)
            }
        }
    }

    /// `None` if something needs mending first.
    fn ordered(
        &self,
        asked: &Asked,
        (opened, laid): (&Opened, &Laid),
        findings: &mut Findings,
    ) -> Result<Option<Ordered>, Trouble> {
        let settings = &self.studio.settings;
        let quantity = asked.quantity.unwrap_or(laid.piece.quantity);
        let piece = Piece { quantity, ..laid.piece.clone() };
        let planned = |piece: &Piece| coats::plan_coats(piece, &laid.shape, settings);
        let coats = match planned(&piece) {
            Ok(coats) => coats,
            Err(errors) => {
                opened.found(errors, self.studio, findings);
                return Ok(None);
            }
        };
        let whole = Group::of(&piece, settings, &coats, &laid.stones);
        let at = if asked.path == FieldPath::root() {
            asked.path.clone()
        } else {
            asked.path.key("file")
        };
        let sizes = group_sizes(&self.hours.hours, settings, &piece, &whole.steps, self.begin, &at);
        let sizes = match sizes {
            Ok(sizes) => sizes,
            Err(error) => {
                self.hours.found(vec![error], findings);
                return Ok(None);
            }
        };
        let mut by_size: BTreeMap<u32, Group> = BTreeMap::from([(quantity, whole)]);
        let mut groups = Vec::with_capacity(sizes.len());
        for size in sizes {
            if self.stop.asked() {
                return Err(Trouble::stopped());
            }
            if let Some(group) = by_size.get(&size) {
                groups.push(group.clone());
                continue;
            }
            // Their instructions speak of so many pieces, and their film is cut for so many.
            let piece = Piece { quantity: size, ..piece.clone() };
            let Ok(coats) = planned(&piece) else { continue };
            let group = Group::of(&piece, settings, &coats, &laid.stones);
            groups.push(group.clone());
            by_size.insert(size, group);
        }
        let notes: Vec<Diagnostic> = coats.notes.clone();
        opened.found(notes, self.studio, findings);
        Ok(Some(Ordered {
            name: asked.name.clone(),
            path: asked.path.clone(),
            due: asked.due.or(piece.due),
            weight: asked.weight,
            begin: asked.begin,
            hand_over: asked.hand_over,
            piece,
            coats,
            groups,
        }))
    }
}
