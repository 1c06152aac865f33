//! `cupwright check PIECE.toml...`: looks for mistakes, and says in short what each piece would give.

use crate::args::CheckArgs;
use crate::exit::Exit;
use crate::findings::Findings;
use crate::hours_file::HoursFile;
use crate::open::{Kind, open_piece, open_studio, other_kind};
use crate::output::{print_data, print_json, say, say_trouble};
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::summary;
use crate::supplies_files::{open_sellers, open_stock};
use crate::trouble::{Trouble, shown};
use piece::Severity;
use serde_json::{Value, json};
use sheets::Plan;
use std::path::Path;

/// What came of one piece.
struct Checked {
    name: String,
    /// It is no piece file, and was checked as what it is.
    kind: Option<Kind>,
    findings: Findings,
    /// `None` if it needs mending first, or is no piece file.
    outcome: Result<Option<Plan>, Trouble>,
}

impl Checked {
    fn exit(&self) -> Exit {
        match &self.outcome {
            Ok(_) => self.findings.exit(),
            Err(trouble) => trouble.exit,
        }
    }
}

/// Checks pieces.
pub fn run(args: &CheckArgs) -> Exit {
    let stop = Stop::listen();
    let mut studio_findings = Findings::default();
    let studio = open_studio(args.studio.as_deref(), &mut studio_findings);
    let (studio, studio_exit, studio_trouble) = match studio {
        Ok(Some(studio)) => (Some(studio), Exit::Fine, None),
        Ok(None) => (None, Exit::Mend, None),
        Err(trouble) => (None, trouble.exit, Some(trouble)),
    };
    let mut checked = Vec::new();
    for path in &args.pieces {
        let Some(piece) = check(path, studio.as_ref(), &stop) else { break };
        checked.push(piece);
    }
    let stopped = stop.asked().then(|| stopped(checked.len(), args.pieces.len()));
    let exits = checked.iter().map(Checked::exit).chain([studio_exit]);
    let exits = exits.chain(stopped.as_ref().map(|trouble| trouble.exit));
    let exit = exits.max_by_key(|exit| exit.code()).unwrap_or(Exit::Fine);
    let trouble = stopped.or(studio_trouble);

    let printed = if args.json {
        let mut document = document(exit, &checked);
        document["diagnostics"] = studio_findings.json();
        document["trouble"] = trouble.as_ref().map(Trouble::json).into();
        print_json(&document)
    } else {
        studio_findings.say(false);
        let printed = report(&checked);
        trouble.iter().for_each(say_trouble);
        printed
    };
    if exit == Exit::Fine { printed } else { exit }
}

fn stopped(n_checked: usize, n_pieces: usize) -> Trouble {
    let files = if n_pieces == 1 { "file" } else { "files" };
    let message = format!("stopped; {n_checked} of {n_pieces} {files} looked at");
    Trouble { exit: Exit::Stopped, message, hints: Vec::new() }
}

/// `None` if someone asked to stop before its end.
fn check(path: &Path, made_in: Option<&Studio>, stop: &Stop) -> Option<Checked> {
    let mut findings = Findings::default();
    let kind = other_kind(path);
    let outcome = match kind {
        Some(Kind::Studio) => open_studio(Some(path), &mut findings).map(|_| None),
        Some(Kind::Hours) => HoursFile::open(path, &mut findings).map(|_| None),
        Some(Kind::Stock) => open_stock(path, &mut findings).map(|_| None),
        Some(Kind::Sellers) => match made_in {
            Some(studio) => {
                open_sellers(path, &studio.settings.currency, &mut findings).map(|_| None)
            }
            // Prices mean nothing without the studio's currency, which needs mending first.
            None => Ok(None),
        },
        None => walk_quietly(path, made_in, stop, &mut findings)?,
    };
    (!stop.asked()).then(|| Checked { name: shown(path), kind, findings, outcome })
}

/// `None` if it was stopped.
fn walk_quietly(
    path: &Path,
    made_in: Option<&Studio>,
    stop: &Stop,
    findings: &mut Findings,
) -> Option<Result<Option<Plan>, Trouble>> {
    let opened = match open_piece(path, stop, findings) {
        Ok(opened) => opened,
        Err(trouble) => return Some(Err(trouble)),
    };
    let (Some(studio), Some(opened)) = (made_in, opened) else { return Some(Ok(None)) };
    let (notes, settings) = (opened.notes.clone(), studio.settings.clone());
    let travel =
        Travel { notes, settings, begin: None, stop, long_work: &|_| true, progress: &|_, _| {} };
    match walk(opened.piece.clone(), travel) {
        Ok(plan) => {
            opened.found(plan.notes.clone(), studio, findings);
            Some(Ok(Some(plan)))
        }
        Err(Halt::Mend(errors)) => {
            opened.found(errors, studio, findings);
            Some(Ok(None))
        }
        Err(Halt::Stopped) => None,
    }
}

fn report(checked: &[Checked]) -> Exit {
    let mut text = String::new();
    for piece in checked {
        piece.findings.say(false);
        match &piece.outcome {
            Ok(Some(plan)) => text += &format!("{}: {}", piece.name, summary::text(plan)),
            Ok(None) => {
                let n_errors = piece.findings.count(Severity::Error);
                if let (Some(kind), 0) = (piece.kind, n_errors) {
                    let kind = match kind {
                        Kind::Studio => "a studio file",
                        Kind::Hours => "an hours file",
                        Kind::Stock => "a stock file",
                        Kind::Sellers => "a sellers file",
                    };
                    text += &format!("{}: {kind}, and all is well with it\n", piece.name);
                } else if n_errors > 0 {
                    say(&format!(
                        "{}: to be mended in {n_errors} {}.",
                        piece.name,
                        if n_errors == 1 { "place" } else { "places" }
                    ));
                }
            }
            Err(trouble) => say_trouble(trouble),
        }
    }
    print_data(text.as_bytes())
}

fn document(exit: Exit, checked: &[Checked]) -> Value {
    let one = |piece: &Checked| {
        let plan = piece.outcome.as_ref().ok().and_then(Option::as_ref);
        json!({
            "piece": piece.name,
            "exit_code": piece.exit().code(),
            "summary": plan.map(summary::json),
            "trouble": piece.outcome.as_ref().err().map(Trouble::json),
            "diagnostics": piece.findings.json(),
        })
    };
    json!({
        "cupwright": env!("CARGO_PKG_VERSION"),
        "command": "check",
        "exit_code": exit.code(),
        "pieces": checked.iter().map(one).collect::<Value>(),
    })
}
