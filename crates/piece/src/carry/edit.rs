//! New measurements written into the text of a piece file; everything else stays as it was typed.

use crate::blanks::Blank;
use std::collections::BTreeSet;
use toml_edit::{Array, ArrayOfTables, DocumentMut, InlineTable, Item, Key, Table, Value};

/// The keys of a part that say what it measures. All others are the design's.
const MEASURED: [&str; 7] = ["revolved", "flat", "blank", "wall", "capacity", "read_to", "handle"];

/// What a part becomes.
#[derive(Debug, Clone, Copy)]
pub enum Onto<'a> {
    /// A generic blank.
    Blank(&'a Blank),
    /// The part with this index of the piece file with this text.
    Part(&'a str, usize),
}

/// The text with new measurements for the parts with these indices. A handle keeps what ran on beneath
/// the old one; a seat takes how far it sinks from the other file, if both say it.
///
/// # Errors
/// In words: a text is no piece file.
pub fn text(old: &str, moves: &[(usize, Onto<'_>)]) -> Result<String, String> {
    let mut document: DocumentMut = old.parse().map_err(not_toml)?;
    let zones = names(&document, "zone");
    for (index, onto) in moves {
        let new = match onto {
            Onto::Blank(blank) => of_blank(blank),
            Onto::Part(text, index) => of_part(text, *index)?,
        };
        let part = part_mut(&mut document, *index).ok_or("it has no such part")?;
        part.take(new, &zones);
    }
    let text = document.to_string();
    // Lines end as they did before.
    Ok(if old.contains("\r\n") { text.replace("\r\n", "\n").replace('\n', "\r\n") } else { text })
}

fn not_toml(error: toml_edit::TomlError) -> String {
    format!("it cannot be read as TOML: {}", error.message())
}

/// Measurements on their way into a file.
struct Measured {
    /// Keys with the comments before them, and values.
    entries: Vec<(Key, Value)>,
    /// How far the part sinks into the one that it sits on.
    sink: Option<Value>,
}

fn of_blank(blank: &Blank) -> Measured {
    let mut entries = vec![(Key::new("blank"), Value::from(blank.name))];
    if let Some(handle) = &blank.handle {
        // What a handle of the file would say; it is left out again unless something runs beneath it.
        let mut table = InlineTable::new();
        let (from_mm, to_mm) = handle.along_mm;
        for (key, length_mm) in [("from", from_mm), ("to", to_mm), ("width", handle.width_mm)] {
            table.insert(key, Value::from(format!("{length_mm} mm")));
        }
        entries.push((Key::new("handle"), Value::InlineTable(table)));
    }
    Measured { entries, sink: None }
}

fn of_part(text: &str, index: usize) -> Result<Measured, String> {
    let mut document: DocumentMut = text.parse().map_err(not_toml)?;
    let part = part_mut(&mut document, index).ok_or("the other file has no such part")?;
    let sink = part.seat().and_then(|mut seat| seat.remove("sink"));
    Ok(Measured { entries: part.measured(), sink })
}

/// A part in a document, headed `[[part]]` or written as a table in a list.
enum PartMut<'d> {
    Headed(&'d mut Table),
    Inline(&'d mut InlineTable),
}

fn part_mut(document: &mut DocumentMut, index: usize) -> Option<PartMut<'_>> {
    match document.get_mut("part")? {
        Item::ArrayOfTables(parts) => parts.get_mut(index).map(PartMut::Headed),
        Item::Value(Value::Array(parts)) => {
            parts.get_mut(index)?.as_inline_table_mut().map(PartMut::Inline)
        }
        _ => None,
    }
}

/// Names of all entries of a list of tables.
fn names(document: &DocumentMut, list: &str) -> BTreeSet<String> {
    let name = |item: &Item| Some(item.get("name")?.as_str()?.to_owned());
    let Some(item) = document.get(list) else { return BTreeSet::new() };
    (0..).map_while(|index: usize| item.get(index)).filter_map(name).collect()
}

impl PartMut<'_> {
    fn keys(&self) -> Vec<String> {
        match self {
            Self::Headed(table) => table.iter().map(|(key, _)| key.to_owned()).collect(),
            Self::Inline(table) => table.iter().map(|(key, _)| key.to_owned()).collect(),
        }
    }

    fn remove(&mut self, key: &str) -> Option<(Key, Item)> {
        match self {
            Self::Headed(table) => table.remove_entry(key),
            Self::Inline(table) => {
                table.remove_entry(key).map(|(key, value)| (key, Item::Value(value)))
            }
        }
    }

    fn insert(&mut self, key: &Key, value: Value) {
        match self {
            Self::Headed(table) => drop(table.insert_formatted(key, Item::Value(value))),
            Self::Inline(table) => drop(table.insert_formatted(key, value)),
        }
    }

    fn sort(&mut self, order: &[String]) {
        let rank = |key: &Key| order.iter().position(|known| known == key.get());
        match self {
            Self::Headed(table) => table.sort_values_by(|a, _, b, _| rank(a).cmp(&rank(b))),
            Self::Inline(table) => table.sort_values_by(|a, _, b, _| rank(a).cmp(&rank(b))),
        }
    }

    /// A copy of where it sits.
    fn seat(&self) -> Option<InlineTable> {
        let seat = match self {
            Self::Headed(table) => table.get("sits_on")?.clone(),
            Self::Inline(table) => Item::Value(table.get("sits_on")?.clone()),
        };
        plain(seat).and_then(|seat| seat.as_inline_table().cloned())
    }

    /// Takes its measurements out, in the order of the file.
    fn measured(self) -> Vec<(Key, Value)> {
        let (mut part, inline) = match self {
            Self::Headed(_) => (self, false),
            Self::Inline(_) => (self, true),
        };
        let keys = part.keys().into_iter().filter(|key| MEASURED.contains(&key.as_str()));
        let taken: Vec<(Key, Item)> =
            keys.collect::<Vec<_>>().iter().filter_map(|key| part.remove(key)).collect();
        let headed = |item: &Item| !item.is_value();
        taken
            .into_iter()
            .filter_map(|(mut key, item)| {
                if inline || headed(&item) {
                    key = Key::new(key.get());
                }
                Some((key, plain(item)?))
            })
            .collect()
    }

    /// Puts other measurements in the place of its own.
    fn take(mut self, new: Measured, zones: &BTreeSet<String>) {
        let keys = self.keys();
        let first = keys.iter().position(|key| MEASURED.contains(&key.as_str()));
        let before = first.unwrap_or(keys.len());
        let mut order: Vec<String> = keys[..before].to_vec();
        let mut entries = new.entries;
        let old_handle = keys.iter().any(|key| key == "handle");
        let mut beneath = None;
        for key in MEASURED {
            let removed = self.remove(key);
            if key == "handle" {
                beneath = removed
                    .and_then(|(_, item)| plain(item)?.as_inline_table_mut()?.remove("beneath"));
            }
        }
        let of_blank = entries.iter().any(|(key, _)| key.get() == "blank");
        entries.retain_mut(|(key, value)| {
            if key.get() != "handle" {
                return true;
            }
            runs_beneath(value, beneath.take(), old_handle, zones) || !of_blank
        });
        for (key, value) in entries {
            let (key, value) = match self {
                Self::Headed(_) => (key, value),
                Self::Inline(_) => (Key::new(key.get()), bare(value)),
            };
            order.push(key.get().to_owned());
            self.insert(&key, value);
        }
        order
            .extend(keys[before..].iter().filter(|key| !MEASURED.contains(&key.as_str())).cloned());
        self.sort(&order);
        if let Some(sink) = new.sink {
            self.sinks(sink);
        }
    }

    /// Replaces how far it sinks, if it says so.
    fn sinks(&mut self, sink: Value) {
        let seat = match self {
            Self::Headed(table) => table.get_mut("sits_on").and_then(Item::as_table_like_mut),
            Self::Inline(table) => table
                .get_mut("sits_on")
                .and_then(Value::as_inline_table_mut)
                .map(|table| table as &mut dyn toml_edit::TableLike),
        };
        if let Some(old) = seat.and_then(|seat| seat.get_mut("sink")).and_then(Item::as_value_mut) {
            let decor = old.decor().clone();
            *old = sink;
            *old.decor_mut() = decor;
        }
    }
}

/// Gives a handle what runs on beneath it: what ran beneath the old one, or, if there was none, those of
/// its own that this piece has. Returns whether there is anything.
fn runs_beneath(
    handle: &mut Value,
    old: Option<Value>,
    had_handle: bool,
    zones: &BTreeSet<String>,
) -> bool {
    let Some(table) = handle.as_inline_table_mut() else { return false };
    let own = table.remove("beneath");
    let beneath = if had_handle {
        old
    } else {
        own.and_then(|own| {
            let known = |name: &&Value| name.as_str().is_some_and(|name| zones.contains(name));
            let known: Array = own.as_array()?.iter().filter(known).cloned().map(bare).collect();
            (!known.is_empty()).then_some(Value::Array(known))
        })
    };
    let any = beneath.as_ref().and_then(Value::as_array).is_some_and(|names| !names.is_empty());
    if let Some(beneath) = beneath {
        table.insert("beneath", bare(beneath));
        table.fmt();
    }
    any
}

/// A value without the comments and spaces about it.
fn bare(mut value: Value) -> Value {
    value.decor_mut().clear();
    value
}

/// An entry as one value, whether it was headed or not; readings that were headed stand one on a line.
fn plain(item: Item) -> Option<Value> {
    match item {
        Item::Value(value) => Some(value),
        Item::Table(table) => Some(bare(Value::InlineTable(inline(table)))),
        Item::ArrayOfTables(tables) => Some(one_on_a_line(tables)),
        Item::None => None,
    }
}

fn inline(table: Table) -> InlineTable {
    let mut table = table.into_inline_table();
    table.fmt();
    table
}

fn one_on_a_line(tables: ArrayOfTables) -> Value {
    let mut array = Array::new();
    for table in tables {
        let mut value = Value::InlineTable(inline(table));
        value.decor_mut().set_prefix("\n  ");
        array.push_formatted(value);
    }
    array.set_trailing("\n");
    array.set_trailing_comma(true);
    Value::Array(array)
}
