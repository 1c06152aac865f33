//! Walks a file's tree along the JSON Schema of its types and gathers everything that does not fit.

mod keys;
mod kinds;
mod values;

use crate::file::scalars::complaint_about;
use crate::tree::in_order;
use crate::units::Complaint;
use crate::{Diagnostic, FieldPath};
use kinds::words;
use serde_json::Value;
use std::ops::Range;
use toml::Spanned;
use toml::de::{DeTable, DeValue};

/// So many misfits are told in full.
const ENOUGH: usize = 1000;

/// What does not fit.
#[derive(Debug)]
pub(crate) struct Misfit {
    /// To be shown.
    pub diagnostic: Diagnostic,
    /// Something is missing: no news in a file whose text could not be read whole.
    pub missing: bool,
    /// What can stand in for the value so that the rest can be looked at; null to leave it out.
    pub stand_in: Option<Value>,
}

/// Everything in `tree` that does not fit `schema`.
pub(crate) fn walk(schema: &Value, tree: &DeTable<'_>) -> Vec<Misfit> {
    let mut walk = Walk { schema, misfits: Vec::new() };
    walk.table(schema, tree, &FieldPath::root(), 0..0);
    walk.misfits
}

struct Walk<'s> {
    schema: &'s Value,
    misfits: Vec<Misfit>,
}

impl<'s> Walk<'s> {
    /// The schema that a `$ref` leads to.
    fn follow(&self, mut schema: &'s Value) -> &'s Value {
        while let Some(name) = schema.get("$ref").and_then(Value::as_str) {
            match name.strip_prefix('#').and_then(|pointer| self.schema.pointer(pointer)) {
                Some(next) => schema = next,
                None => return schema,
            }
        }
        schema
    }

    fn misfit(&mut self, diagnostic: Diagnostic, span: Range<usize>) {
        let place = (span.end > 0).then_some(span);
        self.misfits.push(Misfit {
            diagnostic: Diagnostic { span: place, ..diagnostic },
            missing: false,
            stand_in: None,
        });
    }

    /// A misfit that something harmless can stand in for.
    fn mendable(&mut self, diagnostic: Diagnostic, span: Range<usize>, stand_in: Option<Value>) {
        self.misfit(diagnostic, span);
        if let Some(last) = self.misfits.last_mut() {
            last.stand_in = stand_in;
        }
    }

    fn missing(&mut self, diagnostic: Diagnostic, span: Range<usize>) {
        self.misfit(diagnostic, span);
        if let Some(last) = self.misfits.last_mut() {
            last.missing = true;
        }
    }

    fn complain(
        &mut self,
        path: &FieldPath,
        complaint: Complaint,
        span: Range<usize>,
        stand_in: Option<Value>,
    ) {
        let diagnostic = Diagnostic::error(path.clone(), complaint.message);
        let diagnostic = complaint.hints.into_iter().fold(diagnostic, Diagnostic::hint);
        self.mendable(diagnostic, span, stand_in);
    }

    /// `head` is where to point for a table or list as a whole: its key.
    fn value(
        &mut self,
        schema: &'s Value,
        value: &Spanned<DeValue<'_>>,
        path: &FieldPath,
        head: Range<usize>,
    ) {
        let schema = self.follow(schema);
        if let Some(branches) = schema.get("anyOf").and_then(Value::as_array) {
            match self.branch(branches, value.get_ref()) {
                Some(branch) => self.value(branch, value, path, head),
                None => self.wrong_kind(schema, value, path),
            }
            return;
        }
        if let Some(words) = words(schema) {
            self.word(schema, &words, value, path);
            return;
        }
        let kind = schema.get("type").and_then(Value::as_str).unwrap_or("object");
        match (kind, value.get_ref()) {
            ("object", DeValue::Table(table)) => self.table(schema, table, path, head),
            ("array", DeValue::Array(items)) => {
                self.length(schema, items.len(), "entry", "entries", path, head);
                let each = schema.get("items").unwrap_or(&Value::Null);
                for (index, item) in items.iter().enumerate() {
                    self.value(each, item, &path.index(index), item.span());
                }
            }
            ("string", DeValue::String(text)) => self.text(schema, text, path, value.span()),
            ("string", DeValue::Datetime(moment)) if may_be_bare(schema) => {
                self.text(schema, &moment.to_string(), path, value.span());
            }
            ("boolean", DeValue::Boolean(_)) => {}
            ("integer" | "number", DeValue::Integer(integer)) => {
                let number = i64::from_str_radix(integer.as_str(), integer.radix())
                    .map(|number| number as f64);
                self.number(
                    schema,
                    number.unwrap_or(f64::INFINITY),
                    integer.as_str(),
                    path,
                    value.span(),
                );
            }
            ("number", DeValue::Float(float)) => {
                let number = float.as_str().parse().unwrap_or(f64::NAN);
                self.number(schema, number, float.as_str(), path, value.span());
            }
            _ => self.wrong_kind(schema, value, path),
        }
    }

    /// The branch of a choice that the value was meant for.
    fn branch(&self, branches: &'s [Value], value: &DeValue<'_>) -> Option<&'s Value> {
        let kind = |branch: &'s Value| self.follow(branch).get("type").and_then(Value::as_str);
        match value {
            DeValue::Table(table) => {
                let fitting = |branch: &'s Value| -> i64 {
                    let known = self.follow(branch).get("properties").and_then(Value::as_object);
                    let known = |key: &str| known.is_some_and(|known| known.contains_key(key));
                    table.keys().map(|key| if known(key.get_ref()) { 1 } else { -1 }).sum()
                };
                let objects = branches.iter().filter(|branch| kind(branch) == Some("object"));
                // The first of equals: `max_by_key` gives the last, so count from the end.
                objects.rev().max_by_key(|branch| fitting(branch))
            }
            DeValue::String(text) => {
                let texts = || branches.iter().filter(|branch| kind(branch) == Some("string"));
                let fits = |branch: &&Value| {
                    let format = self.follow(branch).get("format").and_then(Value::as_str);
                    format.is_none_or(|format| complaint_about(format, text).is_none())
                };
                texts().find(fits).or_else(|| texts().next())
            }
            DeValue::Array(_) => branches.iter().find(|branch| kind(branch) == Some("array")),
            _ => None,
        }
    }

    fn table(
        &mut self,
        schema: &'s Value,
        table: &DeTable<'_>,
        path: &FieldPath,
        head: Range<usize>,
    ) {
        let Some(properties) = schema.get("properties").and_then(Value::as_object) else {
            // A table whose keys are the maker's own.
            let most = schema.get("maxProperties").and_then(Value::as_u64);
            if most.is_some_and(|most| table.len() as u64 > most) {
                let message = format!(
                    "`{path}` has {} entries; at most {} are read",
                    table.len(),
                    most.unwrap_or(0)
                );
                self.misfit(Diagnostic::error(path.clone(), message), head);
                return;
            }
            let each = schema.get("additionalProperties").unwrap_or(&Value::Null);
            for (key, value) in in_order(table) {
                self.value(each, value, &path.key(key.get_ref()), key.span());
            }
            return;
        };
        let known: Vec<&str> = properties.keys().map(String::as_str).collect();
        let here = |name: &str| table.contains_key(name);
        for (key, value) in in_order(table) {
            let name = key.get_ref().as_ref();
            match properties.get(name) {
                Some(property) => self.value(property, value, &path.key(name), key.span()),
                None => self.unknown_key(name, &known, &here, path, key.span()),
            }
        }
        for name in schema
            .get("required")
            .and_then(Value::as_array)
            .into_iter()
            .flatten()
            .filter_map(Value::as_str)
        {
            if !here(name) {
                let what = properties
                    .get(name)
                    .map(|property| self.describe(property))
                    .unwrap_or_default();
                let message = format!("`{name}` is missing{}", in_table(path));
                self.missing(
                    Diagnostic::error(path.clone(), message).hint(format!("add `{name}`, {what}")),
                    head.clone(),
                );
            }
        }
        let all = schema.get("allOf").and_then(Value::as_array).into_iter().flatten();
        for rule in std::iter::once(schema).chain(all) {
            self.choice(rule, table, path, head.clone());
        }
    }
}

/// Whether TOML writes a value of this schema without quotes, as a day or a moment.
fn may_be_bare(schema: &Value) -> bool {
    let format = schema.get("format").and_then(Value::as_str);
    format.is_some_and(|format| matches!(format, "date" | "days" | "moment"))
}

/// ` in `zone[2].stones``, or nothing for the whole file.
fn in_table(path: &FieldPath) -> String {
    if path.0.is_empty() { String::new() } else { format!(" in `{path}`") }
}

/// `a`, `b` and `c`.
fn and_list(words: &[&str]) -> String {
    let quoted: Vec<_> = words.iter().map(|word| format!("`{word}`")).collect();
    match quoted.split_last() {
        None => "none".to_owned(),
        Some((last, [])) => last.clone(),
        Some((last, rest)) => format!("{} and {last}", rest.join(", ")),
    }
}
