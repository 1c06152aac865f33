//! `cupwright after PIECE.toml --records RECORDS.csv`: what it took against what was planned.

use crate::after_words::{self, Made};
use crate::args::AfterArgs;
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{open_piece, open_studio};
use crate::output::print_data;
use crate::progress::Progress;
use crate::records_file::open_records;
use crate::road::{Halt, Laying, cost, lay};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use money::{after, plan_price};
use serde_json::{Map, Value, json};
use sheets::write_after;

/// What came of it, and the folder that it was written into.
struct Done {
    made: Made,
    written: Option<(Vec<String>, Placed)>,
}

/// Holds a piece against its plan.
pub fn run(args: &AfterArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = hold(args, &stop, &progress, &mut findings);
    progress.clear();
    let run =
        Run { command: "after", file: ("piece", &args.piece), json: args.json, only_errors: true };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        let printed = print_data(after_words::text(&done.made).as_bytes());
        if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
            say_written(placed, folder, args.quiet, "");
        }
        printed
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something needs mending first; what, is then among the findings.
fn hold(
    args: &AfterArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let records = open_records(&args.records, findings)?;
    let (Some(studio), Some(opened), Some(records)) = (studio, opened, records) else {
        return Ok(None);
    };
    if records.of(&opened.piece.title).next().is_none() {
        let mut titles: Vec<&str> = records.lines.iter().map(|line| line.piece.as_str()).collect();
        titles.sort_unstable();
        titles.dedup();
        titles.truncate(8);
        let told = format!("{} has no line about \"{}\"", shown(&args.records), opened.piece.title);
        return Err(Trouble::usage(told).hint(format!(
            "Its column `piece` holds the title of the piece file; there are lines about {}.",
            if titles.is_empty() { "nothing".to_owned() } else { titles.join(", ") }
        )));
    }
    let begin =
        |target| Draft::begin_anew(target, "after.csv", "something else of Cupwright's", "tables");
    let draft = args.out.as_deref().map(begin).transpose()?;
    let settings = &studio.settings;
    let laying = Laying {
        settings,
        stop,
        long_work: &|_| true,
        progress: &|share, doing| progress.show(share, doing),
    };
    let walked = lay(opened.piece.clone(), &laying).and_then(|laid| {
        let costed = cost(&laid, laid.piece.quantity, settings, stop)?;
        let price = plan_price(&laid.piece, settings, &costed.bill, &costed.steps);
        Ok((costed, price.map_err(Halt::Mend)?))
    });
    let (costed, price) = match walked {
        Ok(walked) => walked,
        Err(Halt::Stopped) => return Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, &studio, findings);
            return Ok(None);
        }
    };
    opened.found(opened.notes.clone(), &studio, findings);
    let title = &opened.piece.title;
    let made = Made {
        title: title.clone(),
        after: after(title, settings, &costed.steps, &costed.bill, &price, &records),
        learned: learned::learn(settings, &records),
        settings: settings.clone(),
    };
    let written = draft.map(|draft| write(&made, draft, stop)).transpose()?;
    Ok(Some(Done { made, written }))
}

fn write(made: &Made, draft: Draft, stop: &Stop) -> Result<(Vec<String>, Placed), Trouble> {
    let files = write_after(&made.after, &made.settings, &made.learned, draft.path())?;
    put_in_place(draft, files, stop)
}

fn document(args: &AfterArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "after": done.map(|done| after_words::json(&done.made)),
    }))
}
