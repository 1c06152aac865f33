//! `cupwright shape PIECE.toml`: what the tape says of each part, and its profile drawn.

use crate::args::ShapeArgs;
use crate::commands::run::{Run, fields};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::measured_words;
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::single_file::{Over, write_whole};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use piece::Piece;
use piece::settings::LengthUnit;
use serde_json::{Map, Value, json};
use shape::Shape;
use sheets::ProfileSheet;
use std::path::Path;

/// A piece without its zones, and the unit it is told in.
struct Bare {
    piece: Piece,
    shape: Shape,
    unit: LengthUnit,
}

/// Tells and draws the shape of a piece.
pub fn run(args: &ShapeArgs) -> Exit {
    let stop = Stop::listen();
    let mut findings = Findings::default();
    let outcome = measure(args, &stop, &mut findings);
    let run =
        Run { command: "shape", file: ("piece", &args.piece), json: args.json, only_errors: false };
    let tell = |bare: Option<Bare>| {
        let Some(bare) = bare else { return Exit::Fine };
        let parts = bare.piece.parts.iter().zip(&bare.shape.parts);
        let lines = parts.map(|(part, shape)| measured_words::text(part, shape, bare.unit));
        let printed = print_data(lines.collect::<String>().as_bytes());
        if let Some(out) = &args.out {
            say(&format!("Wrote {}.", shown(out)));
        }
        printed
    };
    run.end(outcome, &findings, |bare| document(args, bare), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn measure(
    args: &ShapeArgs,
    stop: &Stop,
    findings: &mut Findings,
) -> Result<Option<Bare>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let mut piece = opened.piece.clone();
    piece.zones.clear();
    // What was noticed of zones is for `check` and `plan`.
    let of_parts = |found: &piece::Diagnostic| found.path.0.starts_with("part");
    let mut notes: Vec<_> = opened.notes.iter().filter(|note| of_parts(note)).cloned().collect();
    let shape = match shape::shape(&piece, &studio.settings) {
        Ok(shape) => shape,
        Err(errors) => {
            notes.extend(errors);
            opened.found(notes, &studio, findings);
            return Ok(None);
        }
    };
    notes.extend(shape.notes.iter().cloned());
    opened.found(notes, &studio, findings);
    let unit = args.studio.as_ref().map_or_else(|| opened.typed_in(), |_| studio.settings.lengths);
    let bare = Bare { piece, shape, unit };
    if let Some(out) = &args.out {
        let bytes = drawn(&bare, out)?;
        if stop.asked() {
            return Err(Trouble::stopped());
        }
        write_whole(out, &bytes, Over::Asked(args.replace))?;
    }
    Ok(Some(bare))
}

fn drawn(bare: &Bare, out: &Path) -> Result<Vec<u8>, Trouble> {
    let sheet = ProfileSheet::new(&bare.piece, &bare.shape, bare.unit);
    let kind = out.extension().map(|kind| kind.to_string_lossy().to_lowercase());
    Ok(match kind.as_deref() {
        Some("pdf") => sheet.pdf()?,
        Some("png") => sheet.png()?,
        _ => sheet.svg(),
    })
}

fn document(args: &ShapeArgs, bare: Option<&Bare>) -> Map<String, Value> {
    let parts = bare.map(|bare| {
        let parts = bare.piece.parts.iter().zip(&bare.shape.parts);
        parts.map(|(part, shape)| measured_words::json(part, shape)).collect::<Value>()
    });
    fields(json!({
        "file": bare.and(args.out.as_deref()).map(shown),
        "parts": parts,
    }))
}
