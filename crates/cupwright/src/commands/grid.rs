//! `cupwright grid PIECE.toml --out FILE`: a part under a grid at true size, to test measurements by.

use crate::args::GridArgs;
use crate::commands::run::Run;
use crate::exit::Exit;
use crate::findings::Findings;
use crate::open::{open_piece, open_studio};
use crate::output::say;
use crate::single_file::{Over, write_whole};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use piece::Piece;
use serde_json::Map;
use shape::Shape;
use sheets::{GridSheet, SheetError};

/// Draws the grid of a part.
pub fn run(args: &GridArgs) -> Exit {
    let stop = Stop::listen();
    let mut findings = Findings::default();
    let outcome = draw(args, &stop, &mut findings);
    let run =
        Run { command: "grid", file: ("piece", &args.piece), json: false, only_errors: false };
    let tell = |drawn: Option<()>| {
        if drawn.is_some() {
            say(&format!("Wrote {}.", shown(&args.out)));
        }
        Exit::Fine
    };
    run.end(outcome, &findings, |_| Map::new(), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn draw(args: &GridArgs, stop: &Stop, findings: &mut Findings) -> Result<Option<()>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    // Measurements are tested before zones are thought out.
    let mut piece = opened.piece.clone();
    piece.zones.clear();
    let shape = match shape::shape(&piece, &studio.settings) {
        Ok(shape) => shape,
        Err(errors) => {
            opened.found(errors, &studio, findings);
            return Ok(None);
        }
    };
    opened.found(shape.notes.clone(), &studio, findings);
    let part = part(args.part.as_deref(), &piece, &shape)?;
    let name = &piece.parts[part].name;
    let sheet = GridSheet::new(&piece.title, name, &shape.parts[part], &studio.settings)
        .ok_or_else(|| flat(name))?;
    let is_pdf = args.out.extension().is_some_and(|kind| kind.eq_ignore_ascii_case("pdf"));
    let fault = |error: SheetError| Trouble::fault(error.to_string());
    let bytes = if is_pdf { sheet.pdf().map_err(fault)? } else { sheet.svg() };
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    write_whole(&args.out, &bytes, Over::Asked(args.replace))?;
    Ok(Some(()))
}

/// The part that was named, or the first round one.
fn part(named: Option<&str>, piece: &Piece, shape: &Shape) -> Result<usize, Trouble> {
    let is_round = |part: &usize| shape.parts[*part].surface.period().is_some();
    match named {
        Some(name) => piece.parts.iter().position(|part| part.name == name).ok_or_else(|| {
            let names: Vec<&str> = piece.parts.iter().map(|part| part.name.as_str()).collect();
            Trouble::usage(format!("the piece has no part called {name}"))
                .hint(format!("It has {}.", names.join(", ")))
        }),
        None => (0..piece.parts.len()).find(is_round).ok_or_else(|| flat(&piece.parts[0].name)),
    }
}

fn flat(name: &str) -> Trouble {
    Trouble::usage(format!("{name} is flat: there is nothing to wrap"))
        .hint("Print its wrap at 100 % and lay it on.")
}
