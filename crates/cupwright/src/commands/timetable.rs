//! `cupwright timetable PIECE.toml... --hours HOURS.toml`: many pieces over makers, spindles and hours.

use crate::args::TimetableArgs;
use crate::commands::run::{Run, fields, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed as PutInPlace};
use crate::hours_file::HoursFile;
use crate::in_force;
use crate::moved_words;
use crate::open::open_studio;
use crate::ordering::Desk;
use crate::output::{print_data, say};
use crate::planning::{READ_SHARE, Search};
use crate::progress::Progress;
use crate::promised_words::Promised;
use crate::promising::beside;
use crate::stop::Stop;
use crate::timetable_words as words;
use crate::trouble::{Trouble, shown};
use piece::Settings;
use schedule::Unsolved;
use serde_json::{Map, Value, json};
use work::rota::Rota;
use work::together::{
    Change, Kept, Ordered, Sureness, carry_on, changes, contradictions, plan_book, rota, sureness,
    without_place,
};

/// What was planned.
struct Done {
    rota: Rota,
    /// What moved against the plan in force, where there is one.
    moved: Option<Vec<Change>>,
    /// When one piece more could leave, where that was asked.
    promised: Option<Promised>,
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
        only_errors: false,
    };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        if done.stopped {
            say("Stopped: this is the best plan so far.");
        }
        let mut text = match &done.promised {
            Some(promised) => promised.text(),
            None => words::text(&done.rota),
        };
        if let (Some(moved), None) = (&done.moved, &done.promised) {
            text += &moved_words::text(&done.rota, moved);
        }
        let printed = print_data(text.as_bytes());
        if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
            say_written(placed, folder, args.quiet, "; this-week.pdf is what to do now");
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
    let kept = args.keep.as_deref().map(in_force::read).transpose()?;
    // A folder that cannot be written is known before the long work.
    let begin = |target| {
        Draft::begin_anew(target, "timetable.csv", "something else of Cupwright's", "timetable")
    };
    let draft = args.out.as_deref().map(begin).transpose()?;
    let known = desk.count(&args.pieces)?;
    let mut pieces = args.pieces.clone();
    pieces.extend(args.promise.clone());
    let Some(all) = desk.orders(&pieces, findings)? else { return Ok(None) };
    if let (Some(piece), true) = (&args.promise, all.len() == known) {
        return Err(Trouble::usage(format!("{} is ordered already", shown(piece)))
            .hint("`--promise` is for a piece that is not in the hours file yet; for another one like it, copy the file under a name of its own."));
    }
    let orders = &all[..known];
    let mut together = match plan_book(&hours.hours, &studio.settings, orders, args.begin) {
        Ok(together) => together,
        Err(errors) => {
            hours.found(errors, findings);
            return Ok(None);
        }
    };
    let errors = contradictions(&together);
    if !errors.is_empty() {
        hours.found(errors, findings);
        return Ok(None);
    }
    let (rounds, seconds) = (args.rounds, args.seconds);
    let search = Search { rounds, seconds, stop, progress };
    let made = match kept {
        Some(kept) => {
            hours.found(kept.unknown(&together, orders), findings);
            let mut in_force = kept.in_force(&together, orders);
            carry_on(&mut together, &hours.hours, &mut in_force);
            search.on(&together, &in_force).map(|replanned| {
                let moved = changes(&together, orders, &replanned);
                (replanned.plan, Some(moved))
            })
        }
        None => search.anew(&together).map(|plan| (plan, None)),
    };
    let (plan, moved) = match made {
        Ok(made) => made,
        Err(Unsolved::NoRoom(tasks)) => {
            hours.found(vec![without_place(&together, &tasks)], findings);
            return Ok(None);
        }
    };
    let mut rota = rota(&together, orders, &plan);
    sureness(&together, orders, &plan, Sureness::default(), &mut rota);
    hours.found(rota.notes.clone(), findings);
    let stopped = stop.asked();
    let kept = Kept::of(&together, orders, &plan);
    let written = draft.map(|draft| write(&rota, &kept, &studio.settings, draft, progress));
    let promised = match &args.promise {
        Some(_) => promised(&desk, &all, &search, &kept, findings),
        None => None,
    };
    Ok(Some(Done { rota, moved, promised, stopped, written: written.transpose()? }))
}

/// When the last of the orders, which is not planned yet, could leave; `None` if something needs mending
/// first.
fn promised(
    desk: &Desk,
    orders: &[Ordered],
    search: &Search,
    kept: &Kept,
    findings: &mut Findings,
) -> Option<Promised> {
    let settings = &desk.studio.settings;
    let together = match plan_book(&desk.hours.hours, settings, orders, desk.begin) {
        Ok(together) => together,
        Err(errors) => {
            desk.hours.found(errors, findings);
            return None;
        }
    };
    beside(desk, search, together, orders, kept)
}

/// Writes all of it: whoever stopped the search wants its result.
fn write(
    rota: &Rota,
    kept: &Kept,
    settings: &Settings,
    draft: Draft,
    progress: &Progress,
) -> Result<(Vec<String>, PutInPlace), Trouble> {
    let mut writing = |name: &str, done: usize, of: usize| {
        progress.show(done as f64 / of.max(1) as f64, &format!("writing {name}"));
        true
    };
    let mut files = sheets::write_rota(rota, settings, draft.path(), &mut writing)?;
    files.push(in_force::write(kept, draft.path())?);
    let placed = draft.put_in_place(&files)?;
    Ok((files, placed))
}

fn document(args: &TimetableArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "stopped": done.map(|done| done.stopped),
        "timetable": done.map(|done| words::json(&done.rota)),
        "moved": done.and_then(|done| Some(moved_words::json(&done.rota, done.moved.as_ref()?))),
        "promise": done.and_then(|done| Some(done.promised.as_ref()?.json())),
    }))
}
