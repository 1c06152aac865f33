//! From TOML text to a tree whose every value knows its place; syntax errors all at once.

use crate::source::{Places, Source};
use crate::units::shorten;
use crate::{Diagnostic, FieldPath};
use serde_json::{Map, Number, Value};
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// Reads the text; the tree holds what could be read in spite of the errors.
pub(crate) fn parse(source: &Source) -> (Spanned<DeTable<'_>>, Vec<Diagnostic>) {
    let (tree, errors) = DeTable::parse_recoverable(&source.text);
    let mut diagnostics: Vec<Diagnostic> = Vec::new();
    let mut before: Option<usize> = None;
    for error in errors {
        let span = error.span().map(|span| visible(source, span));
        let start = span.as_ref().map(|span| span.start);
        let between = before.zip(start).and_then(|(before, start)| source.text.get(before..start));
        before = start.or(before);
        // One slip often breaks the rest of its line in several ways; the first is the slip itself.
        if between.is_some_and(|between| !between.contains('\n')) {
            continue;
        }
        diagnostics.push(syntax(source, error.message(), span));
    }
    (tree, diagnostics)
}

/// What the parser says of a slip, in words for someone who does not write programs.
fn syntax(source: &Source, said: &str, span: Option<Range<usize>>) -> Diagnostic {
    let at = span.clone().and_then(|span| source.text.get(span)).map(shorten).unwrap_or_default();
    let said = said.lines().collect::<Vec<_>>().join(", ");
    let (message, hint) = if said.contains("duplicate key") {
        (format!("`{at}` is given a second time"), "keep one of the two and remove the other")
    } else if matches!(at.as_str(), "yes" | "no" | "on" | "off") {
        (
            format!("`{at}` stands here without quotes"),
            "for a choice between yes and no, write true or false",
        )
    } else if said.contains("recursion") {
        (
            "brackets lie too deep in each other here".to_owned(),
            "close each bracket before the line ends",
        )
    } else if said.contains("must be quoted") {
        (
            format!("`{at}` stands here without quotes"),
            "put text, and numbers with a unit, between double quotes, such as \"70 mm\"",
        )
    } else {
        let hint = if said.contains("string") {
            "text starts and ends with a double quote, on one line"
        } else {
            "compare this line with the examples: name = value, texts in double quotes"
        };
        (format!("this line cannot be read as TOML: {said}"), hint)
    };
    Diagnostic { span, ..Diagnostic::error(FieldPath::root(), message) }.hint(hint)
}

/// The span at whole characters.
fn visible(source: &Source, span: Range<usize>) -> Range<usize> {
    let start = source.char_start(span.start);
    start..source.char_start(span.end).max(start)
}

/// The table at `key`, with places for it and everything in it.
pub(crate) fn note_places(table: &DeTable<'_>, path: &FieldPath, places: &mut Places) {
    for (key, value) in in_order(table) {
        let path = path.key(key.get_ref());
        note_value(value, key.span(), &path, places);
    }
}

fn note_value(
    value: &Spanned<DeValue<'_>>,
    key: Range<usize>,
    path: &FieldPath,
    places: &mut Places,
) {
    match value.get_ref() {
        DeValue::Table(table) => {
            places.put(path.clone(), key);
            note_places(table, path, places);
        }
        DeValue::Array(array) => {
            places.put(path.clone(), key);
            for (index, item) in array.iter().enumerate() {
                note_value(item, item.span(), &path.index(index), places);
            }
        }
        _ => places.put(path.clone(), value.span()),
    }
}

/// Keys in the order of the file.
pub(crate) fn in_order<'t, 'i>(
    table: &'t DeTable<'i>,
) -> Vec<(&'t Spanned<toml::de::DeString<'i>>, &'t Spanned<DeValue<'i>>)> {
    let mut entries: Vec<_> = table.iter().collect();
    entries.sort_by_key(|(key, _)| key.span().start);
    entries
}

/// The same tree as JSON, for serde; numbers that no number of ours can hold become null.
pub(crate) fn json_table(table: &DeTable<'_>) -> Value {
    let mut map = Map::new();
    for (key, value) in in_order(table) {
        map.insert(key.get_ref().to_string(), json(value.get_ref()));
    }
    Value::Object(map)
}

fn json(value: &DeValue<'_>) -> Value {
    match value {
        DeValue::String(text) => Value::String(text.to_string()),
        DeValue::Integer(integer) => {
            let (text, radix) = (integer.as_str(), integer.radix());
            if let Ok(number) = u64::from_str_radix(text, radix) {
                Value::from(number)
            } else {
                i64::from_str_radix(text, radix).map_or(Value::Null, Value::from)
            }
        }
        DeValue::Float(float) => float
            .as_str()
            .parse()
            .ok()
            .and_then(Number::from_f64)
            .map_or(Value::Null, Value::Number),
        DeValue::Boolean(boolean) => Value::Bool(*boolean),
        DeValue::Datetime(datetime) => Value::String(datetime.to_string()),
        DeValue::Array(array) => {
            Value::Array(array.iter().map(|item| json(item.get_ref())).collect())
        }
        DeValue::Table(table) => json_table(table),
    }
}
