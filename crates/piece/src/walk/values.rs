//! Single values: words, texts, numbers, lengths of lists.

use super::Walk;
use crate::file::scalars::complaint_about;
use crate::nearest::nearest;
use crate::units::{or_list, shorten};
use crate::{Diagnostic, FieldPath};
use serde_json::Value;
use std::ops::Range;
use toml::Spanned;
use toml::de::DeValue;

impl<'s> Walk<'s> {
    pub(super) fn word(
        &mut self,
        schema: &'s Value,
        words: &[&str],
        value: &Spanned<DeValue<'_>>,
        path: &FieldPath,
    ) {
        let DeValue::String(text) = value.get_ref() else {
            self.wrong_kind(schema, value, path);
            return;
        };
        if words.contains(&text.as_ref()) {
            return;
        }
        let message = format!("`{}` is not known here; expected {}", shorten(text), or_list(words));
        let diagnostic = Diagnostic::error(path.clone(), message);
        let diagnostic = match nearest(text, words) {
            Some(meant) => diagnostic.hint(format!("did you mean \"{meant}\"?")),
            None => diagnostic,
        };
        let stand_in = words.first().map(|word| Value::from(*word));
        self.mendable(diagnostic, value.span(), stand_in);
    }

    pub(super) fn text(
        &mut self,
        schema: &'s Value,
        text: &str,
        path: &FieldPath,
        span: Range<usize>,
    ) {
        if let Some(complaint) = schema
            .get("format")
            .and_then(Value::as_str)
            .and_then(|format| complaint_about(format, text))
        {
            self.complain(path, complaint, span, example_of(schema));
        } else {
            self.length(schema, text.chars().count(), "character", "characters", path, span);
        }
    }

    /// `minItems`, `maxItems` of a list; `minLength`, `maxLength` of a text.
    pub(super) fn length(
        &mut self,
        schema: &'s Value,
        found: usize,
        one: &str,
        many: &str,
        path: &FieldPath,
        span: Range<usize>,
    ) {
        let limit = |items: &str, chars: &str| {
            schema
                .get(items)
                .or_else(|| schema.get(chars))
                .and_then(Value::as_u64)
                .map(|limit| limit as usize)
        };
        let count = |n: usize| format!("{n} {}", if n == 1 { one } else { many });
        if let Some(least) = limit("minItems", "minLength").filter(|least| found < *least) {
            let message =
                format!("`{path}` has {}; expected at least {}", count(found), count(least));
            self.misfit(Diagnostic::error(path.clone(), message), span);
        } else if let Some(most) = limit("maxItems", "maxLength").filter(|most| found > *most) {
            let message = format!("`{path}` has {}; at most {most} are read", count(found));
            self.misfit(Diagnostic::error(path.clone(), message), span);
        }
    }

    pub(super) fn number(
        &mut self,
        schema: &'s Value,
        number: f64,
        typed: &str,
        path: &FieldPath,
        span: Range<usize>,
    ) {
        let limit = |name: &str| schema.get(name).and_then(Value::as_f64);
        let (least, most) = (limit("minimum"), limit("maximum"));
        let stand_in =
            || ["const", "minimum", "maximum"].iter().find_map(|name| schema.get(*name)).cloned();
        if let Some(only) = limit("const") {
            if number != only {
                self.mendable(
                    Diagnostic::error(
                        path.clone(),
                        format!("`{path}` is {typed}; expected {only}"),
                    ),
                    span,
                    stand_in(),
                );
            }
        } else if number.is_nan()
            || number.is_infinite() && !typed.bytes().any(|byte| byte.is_ascii_digit())
        {
            let message = format!(
                "`{path}` is no number that can be used; expected {}",
                self.describe_range(schema)
            );
            self.mendable(Diagnostic::error(path.clone(), message), span, stand_in());
        } else if least.is_some_and(|least| number < least)
            || most.is_some_and(|most| number > most)
            || number.is_infinite()
        {
            let message =
                format!("`{path}` is {}; expected {}", shorten(typed), self.describe_range(schema));
            self.mendable(Diagnostic::error(path.clone(), message), span, stand_in());
        }
    }
}

/// The first example of a form of text.
pub(super) fn example_of(schema: &Value) -> Option<Value> {
    schema.get("examples")?.as_array()?.first().cloned()
}
