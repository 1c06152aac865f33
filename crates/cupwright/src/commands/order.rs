//! `cupwright order DIR`: an accepted quote becomes an order, and an order is looked at.

use crate::args::OrderArgs;
use crate::commands::run::{Run, fields};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::Draft;
use crate::order_folder::{self, ORDER};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::quote_folder::{self, AS_QUOTED, RECORD};
use crate::stop::Stop;
use crate::today::today;
use crate::trouble::{Trouble, shown};
use piece::changes::{Change, changes};
use piece::order::Agreed;
use piece::{Diagnostic, FieldPath, Source};
use serde_json::{Map, Value, json};
use std::fmt::Write;
use std::fs;
use std::path::Path;

/// An order that was made or looked at.
struct Done {
    order: Agreed,
    /// What was changed in the maker's piece file since the quote, if that was asked.
    changes: Option<Vec<Change>>,
    /// Files that were written, if it was made.
    files: Option<Vec<String>>,
    /// Last day on which the quote could be accepted, if it was accepted later.
    after: Option<String>,
}

/// Makes an order or looks at one.
pub fn run(args: &OrderArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = order(args, &stop, &progress, &mut findings);
    progress.clear();
    let changed = |done: &Done| done.changes.as_ref().is_some_and(|changes| !changes.is_empty());
    let exit = match &outcome {
        Ok(Some(done)) if changed(done) => Exit::Mend,
        _ => findings.exit_after(&outcome),
    };
    let run =
        Run { command: "order", file: ("order", &args.folder), json: args.json, only_errors: true };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        if let Some(until) = &done.after {
            say(&format!(
                "warning: the quote was valid until {until}; look whether its prices and days still hold"
            ));
        }
        let printed = print_data(text(&done).as_bytes());
        if let (Some(folder), Some(_), false) = (&args.out, &done.files, args.quiet) {
            say(&format!(
                "Wrote {}; plan it from {}.",
                shown(folder),
                shown(&folder.join(order_folder::PIECE))
            ));
        }
        printed
    };
    run.end_as(exit, outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something is not as it was agreed; what, is then among the findings.
fn order(
    args: &OrderArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    match (&args.option, &args.out) {
        (Some(option), Some(out)) => accept(args, option, out).map(Some),
        _ => look(args, stop, progress, findings),
    }
}

fn accept(args: &OrderArgs, option: &str, out: &Path) -> Result<Done, Trouble> {
    let accepted = args.date.unwrap_or_else(today);
    let made = order_folder::accept(&args.folder, option, args.number.as_deref(), accepted)?;
    let draft = Draft::begin(out)?;
    let taken = fs::read_dir(out).is_ok_and(|mut entries| entries.next().is_some());
    if taken {
        let there = if out.join(ORDER).exists() { "an order" } else { "something else" };
        return Err(Trouble::files(format!("there is {there} in {}", shown(out)))
            .hint("Orders are never written over: name another folder with `--out`."));
    }
    quote_folder::put(&made.files, draft.path())?;
    let names: Vec<String> = made.files.iter().map(|(name, _)| name.clone()).collect();
    draft.put_in_place(&names)?;
    let record = quote_folder::read(&args.folder)?;
    let until = record["valid_until"].as_str().unwrap_or_default().to_owned();
    let after = (accepted.to_string() > until).then_some(until);
    Ok(Done { order: made.order, changes: None, files: Some(names), after })
}

fn look(
    args: &OrderArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let is_quote = args.folder.join(RECORD).exists() && !args.folder.join(ORDER).exists();
    if is_quote {
        return Err(Trouble::usage(format!("{} is the folder of a quote", shown(&args.folder)))
            .hint("Say which option was accepted: `--option A --out DIR`."));
    }
    let Some(kept) = order_folder::open(&args.folder, stop, progress, findings)? else {
        return Ok(None);
    };
    let changes = args.piece.as_deref().map(|piece| compared(&args.folder, piece, findings));
    let changes = match changes.transpose()? {
        Some(None) => return Ok(None),
        Some(changes) => changes,
        None => None,
    };
    Ok(Some(Done { order: kept.order, changes, files: None, after: None }))
}

/// What was changed in a piece file since the quote; `None` if it cannot be read.
fn compared(
    folder: &Path,
    piece: &Path,
    findings: &mut Findings,
) -> Result<Option<Vec<Change>>, Trouble> {
    let Some(source) = crate::open::open_text(piece, findings)? else { return Ok(None) };
    let was = String::from_utf8_lossy(&quote_folder::file(folder, AS_QUOTED)?).into_owned();
    match changes(&was, &source.text) {
        Ok(changes) => Ok(Some(changes)),
        Err(why) => {
            let error = Diagnostic::error(FieldPath::root(), why)
                .hint("`cupwright check` tells where it needs mending");
            findings.add(&Source::new(shown(piece), ""), vec![error]);
            Ok(None)
        }
    }
}

fn text(done: &Done) -> String {
    let order = &done.order;
    let show = |amount| order.currency.show(amount);
    let mut text = format!(
        "Order {}: option {} of quote {}, accepted on {}\n",
        order.number, order.option, order.quote, order.accepted
    );
    // Writing to a string does not fail.
    if !order.customer.is_empty() {
        let _ = writeln!(text, "  for          {}", order.customer);
    }
    if let Some(day) = order.promised {
        let _ = writeln!(text, "  promised     {day}");
    }
    let _ = writeln!(text, "  stones       {} on each of {}", order.stones, order.quantity);
    let _ =
        writeln!(text, "  price        {} ({} each)", show(order.price()), show(order.price_each));
    let _ = writeln!(text, "  deposit      {}", show(order.deposit));
    let _ = writeln!(text, "  paid         {}", show(order.paid_in_all()));
    let _ = writeln!(text, "  still to pay {}", show(order.rest()));
    if done.files.is_none() {
        let _ = writeln!(text, "The piece and its stones are as they were agreed.");
    }
    match done.changes.as_deref() {
        None => {}
        Some([]) => text += "Your piece file is as it was quoted.\n",
        Some(changes) => {
            let _ = writeln!(text, "Your piece file differs from what was agreed:");
            for change in changes {
                let _ = match (&change.was, &change.is) {
                    (Some(was), Some(is)) => {
                        writeln!(text, "  {}: was {was}, is {is}", change.path)
                    }
                    (Some(was), None) => writeln!(text, "  {}: was {was}, is gone", change.path),
                    (None, is) => {
                        let is = is.as_deref().unwrap_or_default();
                        writeln!(text, "  {}: is new, {is}", change.path)
                    }
                };
            }
        }
    }
    text
}

fn document(args: &OrderArgs, done: Option<&Done>) -> Map<String, Value> {
    let order = |order: &Agreed| {
        let number = |amount| order.currency.number(amount);
        json!({
            "number": order.number,
            "quote": order.quote,
            "option": order.option,
            "customer": order.customer,
            "accepted": order.accepted.to_string(),
            "promised": order.promised.map(|day| day.to_string()),
            "quantity": order.quantity,
            "currency": order.currency.code,
            "price_each": number(order.price_each),
            "price": number(order.price()),
            "deposit": number(order.deposit),
            "paid": number(order.paid_in_all()),
            "rest": number(order.rest()),
            "stones": order.stones,
        })
    };
    let changes = done.and_then(|done| done.changes.as_ref()).map(|changes| -> Value {
        let one = |one: &Change| json!({ "path": one.path, "was": one.was, "is": one.is });
        changes.iter().map(one).collect()
    });
    fields(json!({
        "folder": done.and_then(|done| done.files.as_ref()).and(args.out.as_deref()).map(shown),
        "files": done.and_then(|done| done.files.as_ref()),
        "agreed": done.map(|done| order(&done.order)),
        "changes": changes,
    }))
}
