//! Diagnostics for people, with the line they are about, and for scripts.

use crate::{Diagnostic, Severity, Source};
use annotate_snippets::{AnnotationKind, Group, Level, Renderer, Snippet};
use serde_json::{Value, json};
use std::ops::Range;

/// The diagnostics as text for a terminal: each with file, line, column, the line itself and hints.
pub fn show(diagnostics: &[Diagnostic], source: &Source, colour: bool) -> String {
    let renderer = if colour { Renderer::styled() } else { Renderer::plain() };
    let mut text = String::new();
    for diagnostic in diagnostics {
        let report = group(diagnostic, source);
        text.push_str(&renderer.render(&[report]));
        text.push_str("\n\n");
    }
    text
}

/// The diagnostics for scripts: a list of objects with `severity`, `file`, `path`, `message`, `hints`,
/// and where the place is known `line`, `column` (from 1, in characters), `start`, `end` (bytes).
pub fn show_json(diagnostics: &[Diagnostic], source: &Source) -> Value {
    let one = |diagnostic: &Diagnostic| {
        let mut object = json!({
            "severity": word(diagnostic.severity),
            "file": source.name,
            "path": diagnostic.path.0,
            "message": diagnostic.message,
            "hints": diagnostic.hints,
        });
        if let Some(span) = &diagnostic.span {
            let (line, column) = source.line_and_column(span.start);
            object["line"] = line.into();
            object["column"] = column.into();
            object["start"] = span.start.into();
            object["end"] = span.end.into();
        }
        object
    };
    Value::Array(diagnostics.iter().map(one).collect())
}

fn word(severity: Severity) -> &'static str {
    match severity {
        Severity::Error => "error",
        Severity::Warning => "warning",
        Severity::Caution => "caution",
    }
}

fn group<'a>(diagnostic: &'a Diagnostic, source: &'a Source) -> Group<'a> {
    let level = match diagnostic.severity {
        Severity::Error => Level::ERROR,
        Severity::Warning => Level::WARNING,
        Severity::Caution => Level::INFO.with_name("caution"),
    };
    let title = level.primary_title(diagnostic.message.as_str());
    let group = match &diagnostic.span {
        Some(span) => {
            let (lines, first_line, inside) = excerpt(source, span);
            title.element(
                Snippet::source(lines)
                    .path(source.name.as_str())
                    .line_start(first_line)
                    .annotation(AnnotationKind::Primary.span(inside)),
            )
        }
        // Without a place, the file and the path in it still say where to look.
        None => {
            let place = match diagnostic.path.0.as_str() {
                "" => source.name.clone(),
                path => format!("{}: {path}", source.name),
            };
            Group::with_title(title).element(annotate_snippets::Origin::path(place))
        }
    };
    diagnostic
        .hints
        .iter()
        .fold(group, |group, hint| group.element(Level::HELP.message(hint.as_str())))
}

/// The first line of the place, its number, and the place within it.
fn excerpt<'a>(source: &'a Source, span: &Range<usize>) -> (&'a str, usize, Range<usize>) {
    let text = source.text.as_str();
    let start = source.char_start(span.start);
    let line_start = source.line_start(start);
    let line_end = text[start..].find('\n').map_or(text.len(), |newline| start + newline);
    let line = text[line_start..line_end].trim_end_matches('\r');
    let from = (start - line_start).min(line.len());
    let to = source.char_start(span.end).saturating_sub(line_start).clamp(from, line.len());
    let (line_number, _) = source.line_and_column(start);
    (line, line_number, from..to)
}
