//! `cupwright quote PIECE.toml --out DIR`: options of a design for a customer.

use crate::args::QuoteArgs;
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::hours_file::HoursFile;
use crate::offering::{Desk, Options};
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::quote_folder::{self, RECORD};
use crate::stop::Stop;
use crate::today::today;
use crate::trouble::{Trouble, shown};
use jiff::ToSpan;
use piece::Settings;
use serde_json::{Map, Value, json};
use sheets::{Offer, Quote, letter};
use std::fmt::Write;
use std::path::Path;

/// A quote that was written.
struct Done {
    text: String,
    record: Value,
    files: Vec<String>,
    placed: Placed,
}

/// Offers a design.
pub fn run(args: &QuoteArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = quote(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "quote",
        file: ("piece", &args.piece),
        json: args.json,
        // Of a piece that can be made, `plan` and `check` tell the rest.
        only_errors: true,
    };
    let tell = |done: Option<Done>| {
        let Some(done) = done else {
            say("Nothing was written.");
            return Exit::Fine;
        };
        let printed = print_data(done.text.as_bytes());
        say_written(&done.placed, &args.out, args.quiet, "; quote.pdf is for the customer");
        printed
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something needs mending first; what, is then among the findings.
fn quote(
    args: &QuoteArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    let hours = args.hours.as_deref().map(|hours| HoursFile::open(hours, findings)).transpose()?;
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let hours = match &hours {
        Some(None) => return Ok(None),
        Some(hours) => hours.as_ref(),
        None => None,
    };
    let date = args.date.unwrap_or_else(today);
    let valid_days = i64::from(studio.settings.quote.valid_days);
    let valid_until = date.checked_add(valid_days.days()).unwrap_or(date);
    // So that the days hold as long as the quote does.
    let begins = args.begin.unwrap_or(valid_until);
    if begins < date {
        return Err(Trouble::usage(format!(
            "work cannot begin on {begins}, before the quote of {date}"
        ))
        .hint("Give `--begin` a later day, or the quote an earlier `--date`."));
    }
    std::thread::spawn(sheets::prepare);
    // A folder that cannot be written is known before the long work.
    let draft = Draft::begin_anew(&args.out, RECORD, "something else of Cupwright's", "quote")?;
    let (from, into) = (args.piece.as_path(), draft.path());
    let desk = Desk { opened: &opened, studio: &studio, from, into, begins, hours, stop, progress };
    let Some(options) = desk.options(&args.options, findings)? else { return Ok(None) };
    let Options { offers, left_out, art } = options;
    let (offers, texts): (Vec<Offer>, Vec<String>) = offers.into_iter().unzip();
    let quote = Quote {
        number: args.number.clone().unwrap_or_else(|| number(date, from)),
        date,
        valid_until,
        begins,
        customer: args.customer.clone(),
        address: args.address.clone(),
        offers,
    };
    let mut writing = |name: &str, done: usize, of: usize| {
        progress.show(done as f64 / of.max(1) as f64, &format!("writing {name}"));
        !stop.asked()
    };
    let mut files = sheets::write_quote(&quote, draft.path(), &mut writing)?;
    let texts: Vec<&str> = texts.iter().map(String::as_str).collect();
    let design = (from, opened.text());
    let (more, record) = quote_folder::write(&quote, &texts, &art, &studio, design, draft.path())?;
    files.extend(more);
    let (files, placed) = put_in_place(draft, files, stop)?;
    let mut text = text(&quote, &studio.settings);
    for (name, why) in left_out {
        text += &format!("Left out: {name}: {why}.\n");
    }
    Ok(Some(Done { text, record, files, placed }))
}

/// A number of the day and the name of the piece file.
fn number(date: jiff::civil::Date, piece: &Path) -> String {
    let stem = piece.file_stem().map(|stem| shown(Path::new(stem))).unwrap_or_default();
    format!("{date}-{stem}")
}

/// The options side by side for the maker.
fn text(quote: &Quote, settings: &Settings) -> String {
    let Some(first) = quote.offers.first() else { return String::new() };
    let piece = &first.plan.piece;
    let wide =
        quote.offers.iter().map(|offer| offer.name.chars().count()).max().unwrap_or(0).max(6);
    let money = &settings.currency;
    let mut text =
        format!("{}: quote {}, valid until {}\n\n", piece.title, quote.number, quote.valid_until);
    // Writing to a string does not fail.
    let _ = writeln!(
        text,
        "     {:<wide$}  stones   hours      price        all    deposit   with them by",
        "option"
    );
    for (place, offer) in quote.offers.iter().enumerate() {
        let promised = offer.promised.map_or_else(|| "-".to_owned(), |day| day.to_string());
        let late =
            matches!((offer.promised, piece.due), (Some(promised), Some(due)) if promised > due);
        let _ = writeln!(
            text,
            "  {}  {:<wide$} {:>7} {:>7.1} {:>10} {:>10} {:>10}   {promised}{}",
            letter(place),
            offer.name,
            offer.plan.stones.stones.len(),
            offer.plan.steps.hands_on_min() / 60.0,
            money.show(offer.terms.each),
            money.show(offer.terms.all),
            money.show(offer.terms.deposit),
            if late { ", later than wanted" } else { "" },
        );
    }
    let _ = writeln!(
        text,
        "\nHours and price of one, of {} made together; days counted from {}{}.",
        piece.quantity,
        quote.begins,
        if settings.demo { "; prices and times are made-up examples" } else { "" },
    );
    text
}

fn document(args: &QuoteArgs, done: Option<&Done>) -> Map<String, Value> {
    fields(json!({
        "folder": done.map(|_| shown(&args.out)),
        "files": done.map(|done| &done.files),
        "quote": done.map(|done| &done.record),
    }))
}
