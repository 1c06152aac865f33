//! Keys that are missing, too many, or not known.

use super::{ENOUGH, Walk, and_list, in_table};
use crate::nearest::nearest;
use crate::units::{or_list, shorten};
use crate::{Diagnostic, FieldPath};
use serde_json::Value;
use std::ops::Range;
use toml::de::DeTable;

impl<'s> Walk<'s> {
    /// `oneOf` of required keys: exactly one of them; `not` of required keys: not all of them.
    pub(super) fn choice(
        &mut self,
        rule: &'s Value,
        table: &DeTable<'_>,
        path: &FieldPath,
        head: Range<usize>,
    ) {
        let keys = |rule: &'s Value| -> Vec<&'s str> {
            rule.get("required")
                .and_then(Value::as_array)
                .into_iter()
                .flatten()
                .filter_map(Value::as_str)
                .collect()
        };
        let key_span = |name: &str| table.get_key_value(name).map(|(key, _)| key.span());
        if let Some(branches) = rule.get("oneOf").and_then(Value::as_array) {
            let choices: Vec<&str> = branches.iter().flat_map(keys).collect();
            let found: Vec<&str> =
                choices.iter().copied().filter(|name| key_span(name).is_some()).collect();
            let list = or_list(&choices);
            match found.as_slice() {
                [] => {
                    let message = format!("one of {list} is missing{}", in_table(path));
                    let hint = format!("add exactly one of them: {list}");
                    self.missing(Diagnostic::error(path.clone(), message).hint(hint), head);
                }
                [_] => {}
                [.., last] => {
                    let message = format!(
                        "only one of {list} can be given{}; found {}",
                        in_table(path),
                        and_list(&found)
                    );
                    let diagnostic = Diagnostic::error(path.key(last), message)
                        .hint("keep one and remove the others");
                    self.mendable(diagnostic, key_span(last).unwrap_or(head), Some(Value::Null));
                }
            }
        } else if let Some(rule) = rule.get("not") {
            let names = keys(rule);
            if let Some(last) = names.last()
                && names.iter().all(|name| key_span(name).is_some())
            {
                let message =
                    format!("{} cannot stand together{}", and_list(&names), in_table(path));
                let diagnostic = Diagnostic::error(path.key(last), message)
                    .hint("make two zones of it, one for each");
                self.misfit(diagnostic, key_span(last).unwrap_or(head));
            }
        }
    }

    pub(super) fn unknown_key(
        &mut self,
        name: &str,
        known: &[&str],
        here: &dyn Fn(&str) -> bool,
        path: &FieldPath,
        span: Range<usize>,
    ) {
        if self.misfits.len() > ENOUGH {
            // Far more than anyone is shown; looking for the nearest key would only cost time.
            self.misfit(Diagnostic::error(path.key(name), "this key is not known here"), span);
            return;
        }
        let free: Vec<&str> = known.iter().copied().filter(|known| !here(known)).collect();
        let diagnostic = Diagnostic::error(
            path.key(name),
            format!("`{}` is not a key that is known here", shorten(name)),
        );
        let diagnostic = match nearest(name, &free).or_else(|| nearest(name, known)) {
            Some(meant) if here(meant) => {
                diagnostic.hint(format!("`{meant}` is already given; remove this one"))
            }
            Some(meant) => diagnostic.hint(format!("did you mean `{meant}`?")),
            None => {
                diagnostic.hint(format!("known keys{} are {}", in_table(path), and_list(known)))
            }
        };
        self.mendable(diagnostic, span, Some(Value::Null));
    }
}
