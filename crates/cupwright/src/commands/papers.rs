//! `cupwright papers ORDER --out DIR`: invoice, packing slip and care cards.

use crate::args::PapersArgs;
use crate::commands::run::{Run, fields, put_in_place, say_kept};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::order_folder;
use crate::output::say;
use crate::progress::Progress;
use crate::stop::Stop;
use crate::today::today;
use crate::trouble::{Trouble, shown};
use jiff::ToSpan;
use serde_json::{Map, Value, json};
use sheets::Papers;

/// Papers that were written.
struct Done {
    files: Vec<String>,
    placed: Placed,
}

/// Writes the papers of an order.
pub fn run(args: &PapersArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = papers(args, &stop, &progress, &mut findings);
    progress.clear();
    let run =
        Run { command: "papers", file: ("order", &args.order), json: args.json, only_errors: true };
    let tell = |done: Option<Done>| {
        let Some(done) = done else {
            say("Nothing was written.");
            return Exit::Fine;
        };
        say_kept(&done.placed);
        if !args.quiet {
            let did = if done.placed.replaced { "Replaced" } else { "Wrote" };
            let pages: Vec<&str> = done
                .files
                .iter()
                .map(String::as_str)
                .filter(|name| name.ends_with(".pdf"))
                .collect();
            say(&format!("{did} {}: {}.", shown(&args.out), pages.join(", ")));
        }
        Exit::Fine
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if the order is not as it was agreed; how, is then among the findings.
fn papers(
    args: &PapersArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let kept = order_folder::open(&args.order, stop, progress, findings)?;
    let Some(kept) = kept else { return Ok(None) };
    let draft = Draft::begin_anew(
        &args.out,
        "packing-slip.pdf",
        "something else of Cupwright's",
        "papers",
    )?;
    let date = args.date.unwrap_or_else(today);
    if date < kept.order.accepted {
        return Err(Trouble::usage(format!(
            "the order was accepted on {}; its papers cannot be of {date}",
            kept.order.accepted
        )));
    }
    let pay_days = i64::from(kept.plan.settings.quote.pay_days);
    let pay_by = date.checked_add(pay_days.days()).unwrap_or(date);
    let papers = Papers {
        order: &kept.order,
        plan: &kept.plan,
        date,
        invoice: args.invoice.as_deref().map(|number| (number, pay_by)),
    };
    let mut writing = |name: &str, done: usize, of: usize| {
        progress.show(0.9 + 0.1 * done as f64 / of.max(1) as f64, &format!("writing {name}"));
        !stop.asked()
    };
    let files = sheets::write_papers(&papers, draft.path(), &mut writing)?;
    let (files, placed) = put_in_place(draft, files, stop)?;
    Ok(Some(Done { files, placed }))
}

fn document(args: &PapersArgs, done: Option<&Done>) -> Map<String, Value> {
    fields(json!({
        "folder": done.map(|_| shown(&args.out)),
        "files": done.map(|done| &done.files),
    }))
}
