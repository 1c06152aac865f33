//! `cupwright coats PIECE.toml`: the pours of a piece, followed through the studio's own room.

use crate::args::CoatsArgs;
use crate::coated_words::{self, Coated};
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use serde_json::{Map, Value, json};
use stones::Stones;

/// What was planned, and the folder that it was drawn into, if anything is poured.
struct Done {
    coated: Coated,
    written: Option<(Vec<String>, Placed)>,
}

/// Plans the coats of a piece.
pub fn run(args: &CoatsArgs) -> Exit {
    let stop = Stop::listen();
    let mut findings = Findings::default();
    let outcome = plan(args, &stop, &mut findings);
    let run =
        Run { command: "coats", file: ("piece", &args.piece), json: args.json, only_errors: false };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        let printed = print_data(coated_words::text(&done.coated).as_bytes());
        match (&args.out, &done.written) {
            (Some(folder), Some((_, placed))) => {
                say_written(placed, folder, args.quiet, "; cure.png shows what may be done when");
            }
            (Some(_), None) => {
                say("Nothing is poured, so there is nothing to draw: no folder was written.");
            }
            (None, _) => {}
        }
        printed
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn plan(args: &CoatsArgs, stop: &Stop, findings: &mut Findings) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let begin =
        |target| Draft::begin_anew(target, "cure.svg", "something else of Cupwright's", "plots");
    let draft = args.out.as_deref().map(begin).transpose()?;
    let piece = opened.piece.clone();
    let mut notes = opened.notes.clone();
    let shape = match shape::shape(&piece, &studio.settings) {
        Ok(shape) => shape,
        Err(errors) => {
            notes.extend(errors);
            opened.found(notes, &studio, findings);
            return Ok(None);
        }
    };
    let coats = match coats::plan_coats(&piece, &shape, &studio.settings) {
        Ok(coats) => coats,
        Err(errors) => {
            notes.extend(errors);
            opened.found(notes, &studio, findings);
            return Ok(None);
        }
    };
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    notes.extend(shape.notes.iter().cloned());
    notes.extend(coats.notes.iter().cloned());
    opened.found(notes, &studio, findings);
    // How stones lie does not change a coat: their steps are told without counts.
    let none = Stones { stones: Vec::new(), zones: Vec::new(), notes: Vec::new() };
    let steps = work::plan_steps(&piece, &studio.settings, &coats, &none);
    let coated = Coated { piece, settings: studio.settings, coats, steps };
    let draft = draft.filter(|_| coated.coats.pours.is_some());
    let written = draft.map(|draft| write(&coated, draft, stop)).transpose()?;
    Ok(Some(Done { coated, written }))
}

fn write(coated: &Coated, draft: Draft, stop: &Stop) -> Result<(Vec<String>, Placed), Trouble> {
    let Coated { piece, settings, coats, .. } = coated;
    let room = sheets::room_words(settings, coats).unwrap_or_default();
    let files = sheets::write_coat_plots(piece, settings, coats, &room, draft.path())?;
    put_in_place(draft, files, stop)
}

fn document(args: &CoatsArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "coats": done.map(|done| coated_words::json(&done.coated)),
    }))
}
