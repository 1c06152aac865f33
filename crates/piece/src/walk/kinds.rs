//! Values of the wrong kind, and what kinds are called.

use super::{Walk, and_list};
use crate::file::scalars::{noun_of, quantity_of};
use crate::units::{Quantity, or_list, shorten};
use crate::{Diagnostic, FieldPath};
use serde_json::Value;
use toml::Spanned;
use toml::de::DeValue;

impl<'s> Walk<'s> {
    pub(super) fn describe_range(&self, schema: &Value) -> String {
        let noun = if schema.get("type").is_some_and(|kind| kind == "integer") {
            "a whole number"
        } else {
            "a number"
        };
        let limit = |name: &str| schema.get(name).and_then(Value::as_f64);
        if let Some(only) = limit("const") {
            return format!("the number {only}");
        }
        match (limit("minimum"), limit("maximum")) {
            (Some(least), Some(most)) => format!("{noun} from {least} to {most}"),
            (Some(least), None) => format!("{noun} of {least} or more"),
            (None, Some(most)) => format!("{noun} of {most} or less"),
            (None, None) => noun.to_owned(),
        }
    }

    /// The wrong kind of value altogether: a number where text belongs, a list where a table belongs.
    pub(super) fn wrong_kind(
        &mut self,
        schema: &'s Value,
        value: &Spanned<DeValue<'_>>,
        path: &FieldPath,
    ) {
        let expected = self.noun(schema);
        let (found, span) = (found(value.get_ref()), value.span());
        let message = format!("expected {expected} for `{path}`, found {found}");
        let diagnostic = Diagnostic::error(path.clone(), message);
        let schema_kind = schema.get("type").and_then(Value::as_str);
        let diagnostic = match (value.get_ref(), self.first_quantity(schema)) {
            (DeValue::Integer(_) | DeValue::Float(_), Some(quantity)) => {
                let typed = match value.get_ref() {
                    DeValue::Integer(integer) => integer.as_str(),
                    DeValue::Float(float) => float.as_str(),
                    _ => "",
                };
                if quantity.parse(&format!("{typed} {}", quantity.units[0].name)).is_ok() {
                    diagnostic.hint(quantity.with_unit(typed))
                } else {
                    diagnostic.hint(quantity.such_as())
                }
            }
            (DeValue::Integer(_) | DeValue::Float(_), None) if schema_kind == Some("string") => {
                diagnostic.hint("put it between double quotes")
            }
            (DeValue::String(text), _) if matches!(schema_kind, Some("integer" | "number")) && text.parse::<f64>().is_ok() => {
                diagnostic.hint("write it without quotes")
            }
            (DeValue::String(text), _) if schema_kind == Some("boolean") && matches!(text.as_ref(), "true" | "false") => {
                diagnostic.hint("write it without quotes")
            }
            (DeValue::Table(_), _) if schema_kind == Some("array") && path.parent().is_some_and(|up| up.0.is_empty()) => {
                diagnostic.hint(format!("write its heading with double brackets: [[{path}]]"))
            }
            (DeValue::Table(_), _) if schema_kind == Some("array") => {
                diagnostic.hint("put square brackets round it, even if it is only one: [ { … } ]")
            }
            (DeValue::Array(_), _) if schema_kind == Some("object") => {
                diagnostic.hint("write one table, without square brackets round it or double brackets in its heading")
            }
            (DeValue::String(text), _) if schema_kind == Some("object") && only_needed(schema).is_some() => {
                let key = only_needed(schema).unwrap_or_default();
                let name = path.0.rsplit('.').next().filter(|name| !name.ends_with(']'));
                let name = name.map_or(String::new(), |name| format!("{name} = "));
                diagnostic.hint(format!("write {name}{{ {key} = \"{text}\" }}"))
            }
            (_, _) if schema_kind == Some("object") => self.such_a_table(diagnostic, schema, path),
            (_, _) if schema_kind.is_none() => match self.only_table(schema) {
                Some(table) => self.such_a_table(diagnostic, table, path),
                None => diagnostic,
            },
            _ => diagnostic,
        };
        self.mendable(diagnostic, span, super::values::example_of(schema));
    }

    /// The one table among the branches of a choice.
    fn only_table(&self, schema: &'s Value) -> Option<&'s Value> {
        let branches = schema.get("anyOf")?.as_array()?.iter().map(|branch| self.follow(branch));
        let mut tables = branches.filter(|branch| branch.get("properties").is_some());
        tables.next().filter(|_| tables.next().is_none())
    }

    /// What the table that belongs here looks like.
    pub(super) fn such_a_table(
        &self,
        diagnostic: Diagnostic,
        schema: &'s Value,
        path: &FieldPath,
    ) -> Diagnostic {
        let key = path.0.rsplit('.').next().unwrap_or_default();
        match schema.get("properties").and_then(Value::as_object) {
            Some(known) => {
                let known: Vec<&str> = known.keys().map(String::as_str).collect();
                diagnostic
                    .hint(format!("write {key} = {{ … }} with keys from {}", and_list(&known)))
            }
            None => diagnostic.hint(format!("write {key} = {{ … }} with names of your own")),
        }
    }

    pub(super) fn first_quantity(&self, schema: &'s Value) -> Option<&'static Quantity> {
        let of = |schema: &'s Value| {
            self.follow(schema).get("format").and_then(Value::as_str).and_then(quantity_of)
        };
        of(schema).or_else(|| schema.get("anyOf")?.as_array()?.iter().find_map(of))
    }

    /// What a value of this schema is called, with its article.
    pub(super) fn noun(&self, schema: &'s Value) -> String {
        let schema = self.follow(schema);
        if let Some(branches) = schema.get("anyOf").and_then(Value::as_array) {
            let mut nouns: Vec<String> = branches.iter().map(|branch| self.noun(branch)).collect();
            nouns.dedup();
            return nouns.join(" or ");
        }
        if let Some(words) = words(schema) {
            return format!("one of {}", or_list(&words));
        }
        if let Some(noun) = schema.get("format").and_then(Value::as_str).and_then(noun_of) {
            return noun.to_owned();
        }
        match schema.get("type").and_then(Value::as_str) {
            Some("string") => "text in quotes".to_owned(),
            Some("integer" | "number") => self.describe_range(schema),
            Some("boolean") => "true or false".to_owned(),
            Some("array") => "a list".to_owned(),
            _ => "a table".to_owned(),
        }
    }

    /// A property's description, or what kind of value it is.
    pub(super) fn describe(&self, property: &'s Value) -> String {
        let text = property.get("description").or_else(|| self.follow(property).get("description"));
        let text = text.and_then(Value::as_str).unwrap_or("").trim_end_matches('.');
        let noun = self.noun(property);
        let mut letters = text.chars();
        match letters.next() {
            None => noun,
            Some(first) => {
                format!("{noun} ({}{})", first.to_lowercase(), letters.as_str().replace('\n', " "))
            }
        }
    }
}

/// The words of an enumeration.
pub(super) fn words(schema: &Value) -> Option<Vec<&str>> {
    if let Some(words) = schema.get("enum").and_then(Value::as_array) {
        return Some(words.iter().filter_map(Value::as_str).collect());
    }
    let branches = schema.get("oneOf").and_then(Value::as_array)?;
    branches.iter().map(|branch| branch.get("const").and_then(Value::as_str)).collect()
}

/// What was found, with its article.
pub(super) fn found(value: &DeValue<'_>) -> String {
    match value {
        DeValue::String(text) => format!("the text \"{}\"", shorten(text)),
        DeValue::Integer(integer) => format!("the number {}", shorten(integer.as_str())),
        DeValue::Float(float) => format!("the number {}", shorten(float.as_str())),
        DeValue::Boolean(boolean) => format!("{boolean}"),
        DeValue::Datetime(datetime) => format!("the date or time {datetime}"),
        DeValue::Array(_) => "a list".to_owned(),
        DeValue::Table(_) => "a table".to_owned(),
    }
}

/// The only key that a table must have.
fn only_needed(schema: &Value) -> Option<&str> {
    match schema.get("required")?.as_array()?.as_slice() {
        [only] => only.as_str(),
        _ => None,
    }
}
