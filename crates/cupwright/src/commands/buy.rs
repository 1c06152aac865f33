//! `cupwright buy PIECE.toml... --sellers SELLERS.toml`: what lacks for some pieces, and from whom to buy it.

use crate::args::BuyArgs;
use crate::bought_words::{self, Outcome};
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::supplies_files::{open_sellers, open_stock};
use crate::trouble::{Trouble, shown};
use jiff::civil::Date;
use money::{Asked, BuyTerms, Lacks, Purchase, lacks, purchase};
use piece::settings::Currency;
use piece::{Diagnostic, FieldPath, Sellers, Stock};
use serde_json::{Map, Value, json};
use sheets::Plan;
use std::path::Path;
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;
use work::StepKind;

/// How often someone who waits for the solver looks whether to stop.
const LOOK_AROUND: Duration = Duration::from_millis(50);

/// What was worked out, and the folder it was written to.
struct Done {
    outcome: Outcome,
    written: Option<(Vec<String>, Placed)>,
}

/// Works out what to buy.
pub fn run(args: &BuyArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = buy(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "buy",
        file: ("sellers", &args.sellers),
        json: args.json,
        // Of a piece that can be made, `plan` and `check` tell the rest.
        only_errors: true,
    };
    // What cannot be bought is an error in the sellers file, and the rest is told all the same.
    let exit = match &outcome {
        Ok(Some(_)) => findings.exit(),
        _ => findings.exit_after(&outcome),
    };
    let tell = |done: Option<Done>| {
        let Some(done) = done else {
            say("Nothing was worked out.");
            return Exit::Fine;
        };
        let printed = print_data(bought_words::text(&done.outcome).as_bytes());
        if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
            say_written(placed, folder, args.quiet, "");
        }
        printed
    };
    run.end_as(exit, outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something needs mending first; what, is then among the findings.
fn buy(
    args: &BuyArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let Some(studio) = open_studio(args.studio.as_deref(), findings)? else { return Ok(None) };
    let currency = &studio.settings.currency;
    let sellers = open_sellers(&args.sellers, currency, findings)?;
    let stock = args.stock.as_deref().map(|path| open_stock(path, findings)).transpose()?;
    let begin =
        |target| Draft::begin_anew(target, "buying.csv", "something else of Cupwright's", "orders");
    let draft = args.out.as_deref().map(begin).transpose()?;
    let names = names(&args.pieces)?;
    let mut plans = Vec::new();
    for (index, path) in args.pieces.iter().enumerate() {
        let share = |share: f64| (index as f64 + share) / args.pieces.len() as f64;
        let telling = |done: f64, doing: &str| {
            progress.show(0.9 * share(done), &format!("{}: {doing}", names[index]));
        };
        plans.push(plan(path, &studio, stop, &telling, findings)?);
    }
    let plans: Option<Vec<Plan>> = plans.into_iter().collect();
    let (Some(sellers), Some(plans)) = (sellers, plans) else { return Ok(None) };
    let nothing = Stock::default();
    let on_hand = match &stock {
        Some(Some(file)) => &file.value,
        Some(None) => return Ok(None),
        None => &nothing,
    };
    let asked: Vec<Asked> = names
        .iter()
        .zip(&plans)
        .map(|(name, plan)| Asked {
            name,
            bill: &plan.bill,
            by: args.by.or_else(|| first_work(plan)),
        })
        .collect();
    let lacks = lacks(&asked, on_hand, &studio.settings, args.refill);
    progress.show(0.9, "looking for the order that costs least");
    let terms = BuyTerms { on: args.on, seconds: f64::from(args.seconds) };
    let bought = match solved(&lacks, &sellers.value, currency, terms, stop)? {
        Ok(bought) => bought,
        Err(why) => {
            let error = Diagnostic::error(
                FieldPath::root(),
                format!("no order could be made: {why}"),
            )
            .hint("look at `most`, `least_order` and `lead_days` of those who sell what lacks");
            sellers.found(vec![error], findings);
            return Ok(None);
        }
    };
    sellers.found(bought_words::unbuyable(&lacks, &bought, &names), findings);
    let outcome = Outcome {
        by: asked.iter().map(|one| one.by).collect(),
        pieces: names,
        lacks,
        bought,
        sellers: sellers.value,
        stock: on_hand.clone(),
        settings: studio.settings.clone(),
        on: args.on,
    };
    let written = draft.map(|draft| write(&outcome, draft, stop)).transpose()?;
    Ok(Some(Done { outcome, written }))
}

/// Names of the pieces: those of their files without `.toml`.
fn names(pieces: &[std::path::PathBuf]) -> Result<Vec<String>, Trouble> {
    let mut names: Vec<String> = Vec::with_capacity(pieces.len());
    for path in pieces {
        let name = shown(Path::new(path.file_stem().unwrap_or(path.as_os_str())));
        if names.contains(&name) {
            return Err(Trouble::usage(format!("two pieces would be called {name}"))
                .hint("Name each piece once, and say in it how many are made with `quantity`."));
        }
        names.push(name);
    }
    Ok(names)
}

fn plan(
    path: &Path,
    studio: &Studio,
    stop: &Stop,
    telling: &(dyn Fn(f64, &str) + Sync),
    findings: &mut Findings,
) -> Result<Option<Plan>, Trouble> {
    let Some(opened) = open_piece(path, stop, findings)? else { return Ok(None) };
    let travel = Travel {
        notes: opened.notes.clone(),
        settings: studio.settings.clone(),
        begin: None,
        stop,
        long_work: &|_| true,
        progress: telling,
    };
    match walk(opened.piece.clone(), travel) {
        Ok(plan) => Ok(Some(plan)),
        Err(Halt::Stopped) => Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, studio, findings);
            Ok(None)
        }
    }
}

/// The day of the first step that takes goods, if the piece has a timetable.
fn first_work(plan: &Plan) -> Option<Date> {
    let timetable = plan.timetable.as_ref()?;
    let takes = |step: usize| plan.steps.steps[step].kind != StepKind::Order;
    let works = timetable.sittings.iter().filter(|sitting| takes(sitting.step));
    works.map(|sitting| sitting.begins.date()).min()
}

/// Lets the solver work in a thread of its own, since it listens to nobody.
fn solved(
    lacks: &Lacks,
    sellers: &Sellers,
    currency: &Currency,
    terms: BuyTerms,
    stop: &Stop,
) -> Result<Result<Purchase, String>, Trouble> {
    let (done, answer) = mpsc::channel();
    let (lacks, sellers, currency) = (lacks.clone(), sellers.clone(), currency.clone());
    std::thread::spawn(move || {
        // Whoever stopped waiting wants no answer.
        let _ = done.send(purchase(&lacks, &sellers, &currency, &terms));
    });
    loop {
        match answer.recv_timeout(LOOK_AROUND) {
            Ok(answer) => return Ok(answer),
            Err(RecvTimeoutError::Timeout) if stop.asked() => return Err(Trouble::stopped()),
            Err(RecvTimeoutError::Timeout) => {}
            Err(RecvTimeoutError::Disconnected) => {
                return Err(Trouble::fault("the solver came to a stop; nothing was written"));
            }
        }
    }
}

fn write(outcome: &Outcome, draft: Draft, stop: &Stop) -> Result<(Vec<String>, Placed), Trouble> {
    let files = sheets::write_purchase(&outcome.sheet(), draft.path())?;
    put_in_place(draft, files, stop)
}

fn document(args: &BuyArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "buying": done.map(|done| bought_words::json(&done.outcome)),
    }))
}
