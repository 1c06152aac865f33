//! `cupwright price PIECE.toml`: the price from cost upwards.

use crate::args::PriceArgs;
use crate::commands::run::{Run, fields, put_in_place, say_written};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::open::{Opened, open_piece, open_studio};
use crate::output::print_data;
use crate::price_words;
use crate::progress::Progress;
use crate::records_file::{Taught, teach};
use crate::road::{Costed, Halt, Laid, Laying, cost, lay};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use money::{Price, Sale, plan_price_on};
use piece::settings::Channel;
use piece::{Money, Piece, Settings};
use serde_json::{Map, Value, json};
use sheets::{Priced, write_price};
use std::collections::BTreeMap;

/// Numbers of pieces in the batch table unless others are asked for.
const USUAL: [u32; 3] = [1, 5, 10];

/// A price, and the folder that it was written into.
struct Done {
    priced: Priced,
    written: Option<(Vec<String>, Placed)>,
}

/// Prices a piece.
pub fn run(args: &PriceArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = price(args, &stop, &progress, &mut findings);
    progress.clear();
    let run =
        Run { command: "price", file: ("piece", &args.piece), json: args.json, only_errors: false };
    let tell = |done: Option<Done>| {
        let Some(done) = done else { return Exit::Fine };
        let printed = print_data(price_words::text(&done.priced).as_bytes());
        if let (Some(folder), Some((_, placed))) = (&args.out, &done.written) {
            say_written(placed, folder, args.quiet, "; price.pdf shows it on one page");
        }
        printed
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if the piece needs mending first; what, is then among the findings.
fn price(
    args: &PriceArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let (Some(mut studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let Some(learned) = teach(&mut studio, args.records.as_deref(), findings)? else {
        return Ok(None);
    };
    let asked = asked(args, &studio.settings)?;
    let channel = channel(args, &studio.settings)?;
    let begin =
        |target| Draft::begin_anew(target, "batch.csv", "something else of Cupwright's", "price");
    let draft = args.out.as_deref().map(begin).transpose()?;
    let settings = studio.settings.clone();
    let road = Road { opened: &opened, settings: &settings, stop, progress };
    let priced = match road.priced(args, channel, asked, learned) {
        Ok(priced) => priced,
        Err(Halt::Stopped) => return Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, &studio, findings);
            return Ok(None);
        }
    };
    opened.found(opened.notes.clone(), &studio, findings);
    let written = draft.map(|draft| write(&priced, draft, stop)).transpose()?;
    Ok(Some(Done { priced, written }))
}

fn asked(args: &PriceArgs, settings: &Settings) -> Result<Option<Money>, Trouble> {
    let Some(text) = &args.asked else { return Ok(None) };
    let amount = settings.currency.read(text).map_err(|told| {
        Trouble::usage(format!("--asked: {told}"))
            .hint("Write only the number, such as `--asked 85.00`.")
    })?;
    if amount == Money::ZERO {
        return Err(Trouble::usage("--asked: a price of nothing pays for nothing")
            .hint("Write a price, or leave --asked out."));
    }
    Ok(Some(amount))
}

fn channel<'a>(args: &PriceArgs, settings: &'a Settings) -> Result<Option<&'a Channel>, Trouble> {
    let Some(name) = &args.channel else { return Ok(None) };
    let channels = &settings.pricing.channels;
    let found = channels.iter().find(|channel| channel.name == *name);
    found.map(Some).ok_or_else(|| {
        let names: Vec<&str> = channels.iter().map(|channel| channel.name.as_str()).collect();
        let hint = match names.len() {
            0 => "Add a [[pricing.channel]] to the studio file.".to_owned(),
            _ => format!("Its channels are {}.", names.join(", ")),
        };
        Trouble::usage(format!("the studio file has no channel called {name}")).hint(hint)
    })
}

/// What a price is worked out with.
struct Road<'a> {
    opened: &'a Opened,
    settings: &'a Settings,
    stop: &'a Stop,
    progress: &'a Progress,
}

impl Road<'_> {
    fn priced(
        &self,
        args: &PriceArgs,
        channel: Option<&Channel>,
        asked: Option<Money>,
        learned: Taught,
    ) -> Result<Priced, Halt> {
        let settings = self.settings;
        let laid = lay(
            self.opened.piece.clone(),
            &Laying {
                settings,
                stop: self.stop,
                long_work: &|_| true,
                progress: &|share, doing| self.progress.show(0.6 * share, doing),
            },
        )?;
        let pieces = args.quantity.first().copied().unwrap_or(laid.piece.quantity).max(1);
        let others = if args.quantity.is_empty() { &USUAL[..] } else { &args.quantity[..] };
        let mut numbers: Vec<u32> = [&[1, pieces], others].concat();
        numbers.sort_unstable();
        numbers.dedup();
        let mut known: BTreeMap<u32, Costed> = BTreeMap::new();
        for (at, number) in numbers.iter().enumerate() {
            let share = at as f64 / numbers.len() as f64;
            self.progress.show(0.6 + 0.4 * share, &format!("pricing {number} made together"));
            known.insert(*number, cost(&laid, *number, settings, self.stop)?);
        }
        let on = |number: u32, sale: Sale| self.one(&laid, number, &known[&number], sale);
        let price = on(pieces, Sale { channel, asked })?;
        let batch = numbers.iter().map(|number| on(*number, Sale { channel, asked: None }));
        let batch = batch.collect::<Result<Vec<Price>, Halt>>()?;
        let everywhere = settings.pricing.channels.iter().map(Some);
        let channels = [None].into_iter().chain(everywhere);
        let channels = channels.map(|channel| on(pieces, Sale { channel, asked }));
        let channels = channels.collect::<Result<Vec<Price>, Halt>>()?;
        Ok(Priced {
            used: known[&pieces].bill.cost_used(),
            piece: laid.piece,
            settings: settings.clone(),
            price,
            batch,
            channels,
            learned,
        })
    }

    fn one(&self, laid: &Laid, number: u32, cost: &Costed, sale: Sale) -> Result<Price, Halt> {
        let piece = Piece { quantity: number, ..laid.piece.clone() };
        plan_price_on(&piece, self.settings, &cost.bill, &cost.steps, sale).map_err(Halt::Mend)
    }
}

fn write(priced: &Priced, draft: Draft, stop: &Stop) -> Result<(Vec<String>, Placed), Trouble> {
    let files = write_price(priced, draft.path())?;
    put_in_place(draft, files, stop)
}

fn document(args: &PriceArgs, done: Option<&Done>) -> Map<String, Value> {
    let written = done.and_then(|done| done.written.as_ref());
    fields(json!({
        "folder": written.and(args.out.as_deref()).map(shown),
        "files": written.map(|written| &written.0),
        "price": done.map(|done| price_words::json(&done.priced)),
    }))
}
