//! `cupwright plan PIECE.toml --out DIR`: the main job.

use crate::args::PlanArgs;
use crate::commands::run::{Run, fields, put_in_place, say_kept};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{Opened, open_piece, open_studio};
use crate::output::{ask, say};
use crate::price_words::figures;
use crate::progress::Progress;
use crate::records_file::{Taught, said, teach};
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::summary;
use crate::today::today;
use crate::trouble::{Trouble, shown};
use jiff::civil::Date;
use piece::{Diagnostic, FieldPath};
use serde_json::{Map, Value, json};
use sheets::Plan;

/// Share of the work that is behind when the last figure is known and writing begins.
const ROAD_SHARE: f64 = 0.4;

/// A plan that was written.
struct Written {
    files: Vec<String>,
    summary: Value,
    /// The same for a person.
    short: String,
    /// The day to begin, if that is past.
    past: Option<Date>,
    placed: Placed,
    /// What records taught, if there are any.
    taught: Taught,
}

/// Plans a piece.
pub fn run(args: &PlanArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = plan(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "plan",
        file: ("piece", &args.piece),
        json: args.json,
        only_errors: args.quiet,
    };
    let tell = |written: Option<Written>| {
        match written {
            Some(written) => say_written(args, &written),
            None => say("Nothing was written."),
        }
        Exit::Fine
    };
    run.end(outcome, &findings, |written| document(args, written), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn plan(
    args: &PlanArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Written>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    let (Some(mut studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let Some(taught) = teach(&mut studio, args.records.as_deref(), findings)? else {
        return Ok(None);
    };

    std::thread::spawn(sheets::prepare);
    // Before the long work, so that a folder that cannot be written is known at once.
    let draft = Draft::begin(&args.out)?;
    let travel = Travel {
        notes: opened.notes.clone(),
        settings: studio.settings.clone(),
        begin: args.begin,
        stop,
        long_work: &|long| {
            args.quiet || args.json || progress.aside(|| goes_on(&opened, &studio, long, stop))
        },
        progress: &|share, doing| progress.show(share * ROAD_SHARE, doing),
    };
    let mut plan = match walk(opened.piece.clone(), travel) {
        Ok(plan) => plan,
        Err(Halt::Stopped) => return Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, &studio, findings);
            return Ok(None);
        }
    };
    opened.found(plan.notes.clone(), &studio, findings);
    if let Some(taught) = &taught {
        // For the workbook; the person is told it in a sentence.
        let note = Diagnostic::warning(FieldPath::root(), said(taught));
        plan.notes.push(note.hint("`cupwright price` with the same records lists them"));
    }
    write(&plan, draft, stop, progress, taught).map(Some)
}

/// Says what will take long, and asks a person whether to begin it; a script goes on.
fn goes_on(opened: &Opened, studio: &Studio, long: Vec<Diagnostic>, stop: &Stop) -> bool {
    let mut findings = Findings::default();
    opened.found(long, studio, &mut findings);
    findings.say(false);
    ask("Go on all the same?", stop)
}

fn write(
    plan: &Plan,
    draft: Draft,
    stop: &Stop,
    progress: &Progress,
    taught: Taught,
) -> Result<Written, Trouble> {
    let mut writing = |file: &str, n_done: usize, n_files: usize| {
        let share = n_done as f64 / n_files.max(1) as f64;
        progress.show(ROAD_SHARE + (1.0 - ROAD_SHARE) * share, &format!("writing {file}"));
        !stop.asked()
    };
    let files = sheets::write_sheets(plan, draft.path(), &mut writing)?;
    let (files, placed) = put_in_place(draft, files, stop)?;
    let begins = summary::begins(plan).filter(|day| *day <= surely_past());
    let (summary, short) = (summary::json(plan), summary::short(plan));
    Ok(Written { files, summary, short, past: begins, placed, taught })
}

fn say_written(args: &PlanArgs, written: &Written) {
    say_kept(&written.placed);
    if let Some(day) = written.past {
        say(&format!(
            "warning: to be in time this had to begin on {day}, which is past; give `--begin` a day to \
             come, or the piece a later `due`"
        ));
    }
    if !args.quiet {
        let done = if written.placed.replaced { "Replaced" } else { "Wrote" };
        let workbook = shown(&args.out.join("workbook.pdf"));
        say(&written.short);
        if let Some(taught) = &written.taught {
            say(&format!("{}.", said(taught)));
        }
        say(&format!("{done} {}; open {workbook} first.", shown(&args.out)));
    }
}

/// The day before today by universal time, which is past wherever the maker lives.
fn surely_past() -> Date {
    let today = today();
    today.yesterday().unwrap_or(today)
}

fn document(args: &PlanArgs, written: Option<&Written>) -> Map<String, Value> {
    let mut document = fields(json!({
        "folder": written.map(|_| shown(&args.out)),
        "files": written.map(|written| &written.files),
        "summary": written.map(|written| &written.summary),
    }));
    if let Some((learned, _)) = written.and_then(|written| written.taught.as_ref()) {
        document.insert("learned".to_owned(), figures(learned));
    }
    document
}
