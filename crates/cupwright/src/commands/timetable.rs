//! `cupwright timetable PIECE.toml... --hours HOURS.toml`: many pieces over makers, spindles and hours.

use crate::args::TimetableArgs;
use crate::commands::run::{Run, fields, say_kept};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed as PutInPlace};
use crate::hours_file::HoursFile;
use crate::open::open_studio;
use crate::ordering::Desk;
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::stop::Stop;
use crate::timetable_words as words;
use crate::trouble::{Trouble, shown};
use piece::{Diagnostic, FieldPath, Settings};
use schedule::{Effort, Plan, Unsolved};
use serde_json::{Map, Value, json};
use std::path::Path;
use std::time::Instant;
use work::rota::Rota;
use work::together::{Together, plan_book, rota};

/// Share of the work that is behind when the orders are read and the search begins.
const READ_SHARE: f64 = 0.4;

/// What was planned.
struct Done {
    rota: Rota,
    /// Someone asked to stop, so that it is the best plan so far.
    stopped: bool,
    /// The files that were written, and what became of their folder.
    written: Option<(Vec<String>, PutInPlace)>,
}

/// Plans many pieces together.
pub fn run(args: &TimetableArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = plan(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "timetable",
        file: ("hours", &args.hours),
        json: args.json,
        only_errors: args.quiet,
    };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        if done.stopped {
            say("Stopped: this is the best plan so far.");
        }
        let printed = print_data(words::text(&done.rota).as_bytes());
        if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
            say_kept(placed);
            if !args.quiet {
                let did = if placed.replaced { "Replaced" } else { "Wrote" };
                say(&format!("{did} {}; this-week.pdf is what to do now.", shown(folder)));
            }
        }
        printed
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something needs mending first; what, is then among the findings.
fn plan(
    args: &TimetableArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let hours = HoursFile::open(&args.hours, findings)?;
    let (Some(studio), Some(hours)) = (studio, hours) else { return Ok(None) };
    let desk = Desk {
        studio: &studio,
        hours: &hours,
        begin: args.begin,
        stop,
        progress: &|share, doing| progress.show(READ_SHARE * share, doing),
    };
    // A folder that cannot be written is known before the long work.
    let draft = args.out.as_deref().map(draft).transpose()?;
    let Some(orders) = desk.orders(&args.pieces, findings)? else { return Ok(None) };
    let together = match plan_book(&hours.hours, &studio.settings, &orders, args.begin) {
        Ok(together) => together,
        Err(errors) => {
            hours.found(errors, findings);
            return Ok(None);
        }
    };
    let plan = match search(args, &together, stop, progress) {
        Ok(plan) => plan,
        Err(unsolved) => {
            let error = Diagnostic::error(FieldPath::root(), unsolved.to_string())
                .hint("look for a step that no hours, spindles or racks have room for");
            hours.found(vec![error], findings);
            return Ok(None);
        }
    };
    let rota = rota(&together, &orders, &plan);
    hours.found(rota.notes.clone(), findings);
    let stopped = stop.asked();
    let written = draft.map(|draft| write(&rota, &studio.settings, draft, progress)).transpose()?;
    Ok(Some(Done { rota, stopped, written }))
}

/// A draft for a folder that is new, empty, or holds an older timetable: a plan of one piece is not
/// written over.
fn draft(target: &Path) -> Result<Draft, Trouble> {
    let draft = Draft::begin(target)?;
    let has = |name: &str| target.join(name).exists();
    if has(".cupwright") && !has("timetable.csv") {
        return Err(Trouble::files(format!(
            "there is something else of Cupwright's in {}",
            shown(target)
        ))
        .hint("Name another folder for the timetable with `--out`."));
    }
    Ok(draft)
}

/// Writes all of it: whoever stopped the search wants its result.
fn write(
    rota: &Rota,
    settings: &Settings,
    draft: Draft,
    progress: &Progress,
) -> Result<(Vec<String>, PutInPlace), Trouble> {
    let mut writing = |name: &str, done: usize, of: usize| {
        progress.show(done as f64 / of.max(1) as f64, &format!("writing {name}"));
        true
    };
    let files = sheets::write_rota(rota, settings, draft.path(), &mut writing)?;
    let placed = draft.put_in_place(&files)?;
    Ok((files, placed))
}

/// The best plan that is found before rounds or seconds are over, or someone asks to stop.
fn search(
    args: &TimetableArgs,
    together: &Together,
    stop: &Stop,
    progress: &Progress,
) -> Result<Plan, Unsolved> {
    let began = Instant::now();
    schedule::solve(&together.book, &Effort::default(), &mut |so_far| {
        let share = match args.seconds {
            Some(seconds) => began.elapsed().as_secs_f64() / f64::from(seconds),
            None => f64::from(so_far.round) / f64::from(args.rounds.max(1)),
        };
        progress.show(READ_SHARE + (1.0 - READ_SHARE) * share.min(1.0), &words::so_far(so_far));
        // Whoever stops wants what there is; without a whole plan there is nothing yet.
        let enough = args.rounds == 0 && args.seconds.is_none();
        if (stop.asked() || enough) && so_far.lost == 0 { 1.0 } else { share.min(1.0) }
    })
}

fn document(args: &TimetableArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "stopped": done.map(|done| done.stopped),
        "timetable": done.map(|done| words::json(&done.rota)),
    }))
}
