//! The text of a piece file as another option of the same design: with fewer stones, or with stones of
//! another size. Everything else stays as it was typed, so that an option can be planned, kept and made
//! like any other piece.
//!
//! Which zone keeps how much is not decided here.

use crate::{Edge, StoneSize, Wave};
use toml_edit::{DocumentMut, InlineTable, Item, TableLike, Value, value};

/// What becomes of a zone of stones.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Keep {
    /// It leaves the piece; what was left out for it, and ran beneath it, closes.
    Bare,
    /// It ends at this edge already.
    Upper {
        /// Its edge farther from the rim.
        to: Edge,
    },
    /// Its one layout becomes a sprinkle of single stones.
    Sprinkle {
        /// Stones on a square centimetre.
        per_cm2: f64,
        /// Least distance between two centres, mm.
        apart_mm: f64,
    },
}

/// Keys of a layout that a sprinkle of the same stones keeps.
const OF_ANY_LAYOUT: [&str; 7] =
    ["size", "sizes", "colour", "colours", "gradient", "picture", "material"];

/// The text with these zones (by index) kept so, and without strengths of its own.
///
/// # Errors
/// In words: the text is no piece file, or a zone of it cannot be kept so.
pub fn with_kept(old: &str, kept: &[(usize, Keep)]) -> Result<String, String> {
    let mut document = read(old)?;
    document.remove("strength");
    let mut bare = Vec::new();
    for &(index, keep) in kept {
        let zone = zone_mut(&mut document, index).ok_or("it has no such zone")?;
        match keep {
            Keep::Bare => bare.push(index),
            Keep::Upper { to } => ends_at(zone, to),
            Keep::Sprinkle { per_cm2, apart_mm } => sprinkle(zone, per_cm2, apart_mm)?,
        }
    }
    bare.sort_unstable();
    for index in bare.into_iter().rev() {
        let name = zone_mut(&mut document, index)
            .and_then(|zone| zone.get("name")?.as_str().map(str::to_owned))
            .ok_or("it has a zone without a name")?;
        remove(&mut document, index);
        forget(&mut document, &name);
    }
    Ok(write(&document, old))
}

/// The text with every layout of one size in this size instead, pockets left as they are, and without
/// strengths of its own; `None` if it has no such layout.
///
/// # Errors
/// In words: the text is no piece file.
pub fn with_size(old: &str, size: &StoneSize) -> Result<Option<String>, String> {
    let mut document = read(old)?;
    document.remove("strength");
    let mut found = false;
    let mut index = 0;
    while let Some(zone) = zone_mut(&mut document, index) {
        index += 1;
        for layer in layers_mut(zone) {
            let pockets = layer.get("layout").and_then(Item::as_str) == Some("pockets");
            if let Some(old) =
                layer.get_mut("size").and_then(Item::as_value_mut).filter(|_| !pockets)
            {
                let decor = old.decor().clone();
                *old = Value::from(size.name.as_str());
                *old.decor_mut() = decor;
                found = true;
            }
        }
    }
    Ok(found.then(|| write(&document, old)))
}

fn read(text: &str) -> Result<DocumentMut, String> {
    text.parse().map_err(|error: toml_edit::TomlError| {
        format!("it cannot be read as TOML: {}", error.message())
    })
}

/// The text, lines ending as they did before.
fn write(document: &DocumentMut, old: &str) -> String {
    let text = document.to_string();
    if old.contains("\r\n") { text.replace("\r\n", "\n").replace('\n', "\r\n") } else { text }
}

/// A zone in a document, headed `[[zone]]` or written as a table in a list.
fn zone_mut(document: &mut DocumentMut, index: usize) -> Option<&mut dyn TableLike> {
    match document.get_mut("zone")? {
        Item::ArrayOfTables(zones) => zones.get_mut(index).map(|zone| zone as &mut dyn TableLike),
        Item::Value(Value::Array(zones)) => {
            zones.get_mut(index)?.as_inline_table_mut().map(|zone| zone as &mut dyn TableLike)
        }
        _ => None,
    }
}

fn remove(document: &mut DocumentMut, index: usize) {
    match document.get_mut("zone") {
        Some(Item::ArrayOfTables(zones)) => drop(zones.remove(index)),
        Some(Item::Value(Value::Array(zones))) => drop(zones.remove(index)),
        _ => {}
    }
}

/// The layouts of a zone of stones.
fn layers_mut(zone: &mut dyn TableLike) -> Vec<&mut dyn TableLike> {
    match zone.get_mut("stones") {
        Some(Item::ArrayOfTables(layers)) => {
            layers.iter_mut().map(|layer| layer as &mut dyn TableLike).collect()
        }
        Some(Item::Value(Value::Array(layers))) => layers
            .iter_mut()
            .filter_map(|layer| layer.as_inline_table_mut())
            .map(|layer| layer as &mut dyn TableLike)
            .collect(),
        Some(one) => one.as_table_like_mut().into_iter().collect(),
        None => Vec::new(),
    }
}

/// Takes a zone that is gone out of what others leave out and of what runs beneath handles.
fn forget(document: &mut DocumentMut, name: &str) {
    let of_it = |entry: &dyn TableLike| entry.get("zone").and_then(Item::as_str) == Some(name);
    let mut index = 0;
    while let Some(zone) = zone_mut(document, index) {
        index += 1;
        match zone.get_mut("leave_out") {
            Some(Item::Value(Value::Array(list))) => {
                list.retain(|one| !one.as_inline_table().is_some_and(|one| of_it(one)));
            }
            Some(Item::ArrayOfTables(list)) => list.retain(|one| !of_it(one)),
            _ => {}
        }
    }
    let Some(parts) = document.get_mut("part") else { return };
    let mut index = 0;
    while let Some(part) = parts.get_mut(index) {
        index += 1;
        let handle = part.get_mut("handle").and_then(Item::as_table_like_mut);
        let beneath = handle.and_then(|handle| handle.get_mut("beneath")?.as_array_mut());
        if let Some(beneath) = beneath {
            beneath.retain(|one| one.as_str() != Some(name));
        }
    }
}

/// Lets the band of a zone end at another edge.
fn ends_at(zone: &mut dyn TableLike, to: Edge) {
    let to = edge(to);
    match zone.get_mut("band").and_then(Item::as_table_like_mut) {
        Some(band) => drop(band.insert("to", value(to))),
        None => {
            let mut band = InlineTable::new();
            band.insert("to", to);
            zone.insert("band", value(band));
        }
    }
}

fn edge(edge: Edge) -> Value {
    let wave = match edge.wave {
        Wave::Level => return Value::from(mm(edge.along_mm)),
        Wave::Sine => "sine",
        Wave::Zigzag => "zigzag",
        Wave::Scallop => "scallop",
    };
    let mut table = InlineTable::new();
    table.insert("along", mm(edge.along_mm).into());
    table.insert("wave", wave.into());
    table.insert("amplitude", mm(edge.amplitude_mm).into());
    table.insert("count", i64::from(edge.count).into());
    table.insert("crest", format!("{} deg", short(edge.crest_rad.to_degrees())).into());
    Value::InlineTable(table)
}

fn sprinkle(zone: &mut dyn TableLike, per_cm2: f64, apart_mm: f64) -> Result<(), String> {
    // A headed list of one layout becomes one that is not headed, and so on: written anew.
    let mut layers = layers_mut(zone);
    let [layer] = layers.as_mut_slice() else {
        return Err("a zone with several layouts cannot become a sprinkle".to_owned());
    };
    let keys: Vec<String> = layer.iter().map(|(key, _)| key.to_owned()).collect();
    for key in keys.iter().filter(|key| !OF_ANY_LAYOUT.contains(&key.as_str()) && *key != "layout")
    {
        layer.remove(key);
    }
    layer.insert("layout", value("sparse"));
    layer.insert("apart", value(mm(apart_mm)));
    layer.insert("density", value(format!("{} per cm2", short(per_cm2))));
    Ok(())
}

fn mm(length_mm: f64) -> String {
    format!("{} mm", short(length_mm))
}

/// A number to three decimals, without needless zeros.
fn short(number: f64) -> String {
    let text = format!("{number:.3}");
    text.trim_end_matches('0').trim_end_matches('.').to_owned()
}

#[cfg(test)]
mod tests;
