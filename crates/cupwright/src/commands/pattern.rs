//! `cupwright pattern PIECE.toml --people N --out DIR`: a piece for a class or a helper.

use crate::args::PatternArgs;
use crate::beside::Beside;
use crate::commands::run::{Run, fields, put_in_place, say_kept};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::onto::Other;
use crate::open::{Opened, open_piece, open_studio, read_text};
use crate::output::say;
use crate::progress::Progress;
use crate::road::{Halt, Laid, Laying, Travel, lay, walk_on};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use piece::{Piece, Source};
use serde_json::{Map, Value, json};
use sheets::{Pattern, Plan};

/// A pack that was written.
struct Done {
    files: Vec<String>,
    stones: usize,
    placed: Placed,
}

/// Writes a pattern pack.
pub fn run(args: &PatternArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = pattern(args, &stop, &progress, &mut findings);
    progress.clear();
    let run = Run {
        command: "pattern",
        file: ("piece", &args.piece),
        json: args.json,
        only_errors: args.quiet,
    };
    let tell = |done: Option<Done>| {
        let Some(done) = done else {
            say("Nothing was written.");
            return Exit::Fine;
        };
        say_kept(&done.placed);
        if !args.quiet {
            let did = if done.placed.replaced { "Replaced" } else { "Wrote" };
            let people = if args.people == 1 { "person" } else { "people" };
            say(&format!(
                "{did} {} for {} {people}, {} stones each; begin with pattern.pdf.",
                shown(&args.out),
                args.people,
                done.stones
            ));
        }
        Exit::Fine
    };
    run.end(outcome, &findings, |done| document(args, done), tell)
}

/// `None` if something needs mending first; what, is then among the findings.
fn pattern(
    args: &PatternArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Done>, Trouble> {
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let onto = match &args.blank {
        Some(to) => Some(Other::open(to, stop, findings)?),
        None => None,
    };
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let opened = match onto {
        None => opened,
        Some(None) => return Ok(None),
        Some(Some(onto)) => match carried(args, &opened, &onto, stop, findings)? {
            Some(carried) => carried,
            None => return Ok(None),
        },
    };
    std::thread::spawn(sheets::prepare);
    let draft =
        Draft::begin_anew(&args.out, "kit.csv", "something else of Cupwright's", "pattern pack")?;
    let Some((one, all)) = plans(args, &opened, &studio, stop, progress, findings)? else {
        return Ok(None);
    };
    opened.found(one.notes.clone(), &studio, findings);
    let blank = args.blank.as_deref().map(shown);
    let pattern = Pattern { one: &one, all: &all, blank: blank.as_deref() };
    let mut writing = |name: &str, done: usize, of: usize| {
        progress.show(0.7 + 0.3 * done as f64 / of.max(1) as f64, &format!("writing {name}"));
        !stop.asked()
    };
    let files = sheets::write_pattern(&pattern, draft.path(), &mut writing)?;
    let (files, placed) = put_in_place(draft, files, stop)?;
    Ok(Some(Done { files, stones: one.stones.stones.len(), placed }))
}

/// The same piece with the measurements of another cup.
fn carried(
    args: &PatternArgs,
    opened: &Opened,
    onto: &Other,
    stop: &Stop,
    findings: &mut Findings,
) -> Result<Option<Opened>, Trouble> {
    let (text, _) = onto.text(opened, None)?;
    let to = args.blank.as_deref().map(shown).unwrap_or_default();
    let source = Source::new(format!("{} (on {to})", shown(&args.piece)), text);
    let (carried, errors) = read_text(source.clone(), &Beside::new(&args.piece), stop);
    findings.add(&source, errors);
    Ok(carried)
}

/// The piece as one person makes it, and as all of them do: laid once, and without days.
fn plans(
    args: &PatternArgs,
    opened: &Opened,
    studio: &Studio,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<(Plan, Plan)>, Trouble> {
    let piece = Piece { quantity: 1, due: None, ..opened.piece.clone() };
    let telling = |share: f64, doing: &str| progress.show(0.7 * share, doing);
    let (settings, long_work) = (&studio.settings, &|_| true);
    let laying = Laying { settings, stop, long_work, progress: &telling };
    let walked = lay(piece, &laying).and_then(|laid| {
        let on = |laid: Laid| {
            let travel = Travel {
                notes: opened.notes.clone(),
                settings: settings.clone(),
                begin: None,
                stop,
                long_work,
                progress: &telling,
            };
            walk_on(laid, travel)
        };
        let mut many = laid.clone();
        many.piece.quantity = args.people;
        Ok((on(laid)?, on(many)?))
    });
    match walked {
        Ok(plans) => Ok(Some(plans)),
        Err(Halt::Stopped) => Err(Trouble::stopped()),
        Err(Halt::Mend(errors)) => {
            opened.found(errors, studio, findings);
            Ok(None)
        }
    }
}

fn document(args: &PatternArgs, done: Option<&Done>) -> Map<String, Value> {
    fields(json!({
        "folder": done.map(|_| shown(&args.out)),
        "files": done.map(|done| &done.files),
        "people": args.people,
        "stones": done.map(|done| done.stones),
    }))
}
