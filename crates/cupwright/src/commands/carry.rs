//! `cupwright carry PIECE.toml --to OTHER --out NEW.toml`: the same design on another cup.

use crate::args::CarryArgs;
use crate::beside::Taken;
use crate::carried_words;
use crate::carrying::{self, Carried};
use crate::commands::run::{Run, fields};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::onto::Other;
use crate::open::{open_piece, open_studio};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::single_file::{Over, check_place, write_whole};
use crate::stop::Stop;
use crate::trouble::{Trouble, reason, shown};
use piece::Source;
use serde_json::{Map, Value, json};
use std::fs;
use std::path::Path;

/// Carries a design to another cup.
pub fn run(args: &CarryArgs) -> Exit {
    let stop = Stop::listen();
    let progress = Progress::new(args.quiet || args.json);
    let mut findings = Findings::default();
    let outcome = carry(args, &stop, &progress, &mut findings);
    progress.clear();

    let exit = match &outcome {
        Ok(Some(carried)) => carried.not_kept.exit(),
        _ => findings.exit_after(&outcome),
    };
    let run =
        Run { command: "carry", file: ("piece", &args.piece), json: args.json, only_errors: true };
    let tell = |carried: Option<Carried>| {
        let Some(carried) = carried else {
            say("Nothing was written.");
            return Exit::Fine;
        };
        carried.not_kept.say(false);
        let printed = print_data(carried_words::text(&carried).as_bytes());
        say(&carried_words::ending(&carried, &shown(&args.out)));
        printed
    };
    run.end_as(exit, outcome, &findings, |carried| document(args, carried), tell)
}

/// `None` if a file needs mending first; what, is then among the findings.
fn carry(
    args: &CarryArgs,
    stop: &Stop,
    progress: &Progress,
    findings: &mut Findings,
) -> Result<Option<Carried>, Trouble> {
    not_itself(args)?;
    // Before the long work, so that a file that cannot be written is known at once.
    check_place(&args.out, Over::Asked(args.replace))?;
    let studio = open_studio(args.studio.as_deref(), findings)?;
    let opened = open_piece(&args.piece, stop, findings)?;
    let onto = Other::open(&args.to, stop, findings)?;
    let (Some(studio), Some(opened), Some(onto)) = (studio, opened, onto) else { return Ok(None) };
    let (text, parts) = onto.text(&opened, args.part.as_deref())?;
    let new = Source::new(shown(&args.out), text);
    let (from, out) = (&args.piece, &args.out);
    let journey = carrying::Journey { studio, stop, progress, from, out };
    let Some(carried) = carrying::carried(&opened, new, parts, &journey, findings)? else {
        return Ok(None);
    };
    take_along(&args.out, &carried.art)?;
    let text = carried.source.text.as_bytes();
    write_whole(&args.out, text, Over::Asked(args.replace))?;
    Ok(Some(carried))
}

/// Puts art and typefaces beside the new file, none over another.
fn take_along(out: &Path, art: &Taken) -> Result<(), Trouble> {
    for (name, bytes) in &art.files {
        let path = out.with_file_name(name);
        if let Some(folder) = path.parent().filter(|folder| !folder.as_os_str().is_empty()) {
            fs::create_dir_all(folder).map_err(|error| {
                Trouble::files(format!("could not make {}: {}", shown(folder), reason(&error)))
            })?;
        }
        write_whole(&path, bytes, Over::None)?;
    }
    Ok(())
}

/// The old design is never written over, not even with `--replace`.
fn not_itself(args: &CarryArgs) -> Result<(), Trouble> {
    let real = |path: &Path| fs::canonicalize(path).ok();
    let out = real(&args.out);
    if out.is_some() && (out == real(&args.piece) || out == real(&args.to)) {
        let message = format!("{} is one of the files to be read", shown(&args.out));
        return Err(Trouble { exit: Exit::Files, message, hints: Vec::new() }
            .hint("Name another file with `--out`."));
    }
    Ok(())
}

fn document(args: &CarryArgs, carried: Option<&Carried>) -> Map<String, Value> {
    fields(json!({
        "to": shown(&args.to),
        "file": carried.map(|_| shown(&args.out)),
        "carried": carried.map(carried_words::json),
        "not_kept": carried.map(|carried| carried.not_kept.json()),
    }))
}
