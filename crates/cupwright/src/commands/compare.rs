//! `cupwright compare PIECE.toml`: one zone set in several ways.

use crate::args::CompareArgs;
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::comparing::{self, Outcome};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use serde_json::{Map, Value, json};

/// What was compared, and the folder it was written to.
struct Done {
    outcome: Outcome,
    written: Option<(Vec<String>, Placed)>,
}

/// Compares ways to set a zone.
pub fn run(args: &CompareArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = compare(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "compare",
        file: ("piece", &args.piece),
        json: args.json,
        // Of a piece that can be made, `plan` and `check` tell the rest.
        only_errors: true,
    };
    let tell = |done: Option<Done>| match done {
        Some(done) => {
            let printed = print_data(comparing::text(&done.outcome).as_bytes());
            if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
                say_written(placed, folder, args.quiet, "; compare.png is the plot");
            }
            printed
        }
        None => {
            say("Nothing was compared.");
            Exit::Fine
        }
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn compare(
    args: &CompareArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let begin = |target| Draft::begin_anew(target, "compare.csv", "a plan", "comparison");
    let draft = args.out.as_deref().map(begin).transpose()?;
    let Some(outcome) = comparing::compare(args, &opened, &studio, stop, progress, findings)?
    else {
        return Ok(None);
    };
    let written = draft.map(|draft| write(&outcome, draft, stop)).transpose()?;
    Ok(Some(Done { outcome, written }))
}

fn write(outcome: &Outcome, draft: Draft, stop: &Stop) -> Result<(Vec<String>, Placed), Trouble> {
    let files = sheets::write_comparison(&outcome.comparison, draft.path())?;
    put_in_place(draft, files, stop)
}

fn document(args: &CompareArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "comparison": done.map(|done| comparing::json(&done.outcome)),
    }))
}
