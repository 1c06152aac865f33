//! `cupwright carry PIECE.toml --to OTHER --out NEW.toml`: the same design on another cup.

use crate::args::CarryArgs;
use crate::beside::Taken;
use crate::carried_words;
use crate::carrying::{self, Carried};
use crate::commands::run::{Run, fields};
use crate::exit::Exit;
use crate::findings::Findings;
use crate::open::{Opened, open_piece, open_studio};
use crate::output::{print_data, say};
use crate::progress::Progress;
use crate::single_file::{Over, check_place, write_whole};
use crate::stop::Stop;
use crate::trouble::{Trouble, reason, shown};
use piece::Source;
use piece::blanks::{self, BLANKS};
use piece::carry::{Onto, body, pairs};
use piece::nearest::nearest;
use piece::units::Complaint;
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
    let blank = if args.to.exists() { None } else { Some(blank(args)?) };
    let other = match blank {
        None => open_piece(&args.to, stop, findings)?,
        Some(_) => None,
    };
    let (Some(studio), Some(opened)) = (studio, opened) else { return Ok(None) };
    let moves = match (&blank, &other) {
        (Some(blank), _) => {
            let part = body(&opened.piece, args.part.as_deref()).map_err(refused)?;
            vec![(part, Onto::Blank(blank))]
        }
        (None, Some(other)) => moves(args, &opened, other)?,
        (None, None) => return Ok(None),
    };
    let text = piece::carry::text(opened.text(), &moves)
        .map_err(|why| Trouble::fault(format!("the piece could not be carried: {why}")))?;
    let parts: Vec<usize> = moves.iter().map(|(part, _)| *part).collect();
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

fn moves<'o>(
    args: &CarryArgs,
    opened: &Opened,
    other: &'o Opened,
) -> Result<Vec<(usize, Onto<'o>)>, Trouble> {
    let pairs = pairs(&opened.piece, &other.piece, args.part.as_deref()).map_err(refused)?;
    Ok(pairs.into_iter().map(|(part, to)| (part, Onto::Part(other.text(), to))).collect())
}

fn blank(args: &CarryArgs) -> Result<&'static blanks::Blank, Trouble> {
    let name = shown(&args.to);
    blanks::find(&name).ok_or_else(|| {
        let names: Vec<&str> = BLANKS.iter().map(|blank| blank.name).collect();
        let trouble =
            Trouble::files(format!("there is no file and no generic blank called {name}"));
        match nearest(&name, &names) {
            Some(meant) => trouble.hint(format!("Did you mean \"{meant}\"?")),
            None => trouble.hint("`cupwright blanks` lists the generic blanks."),
        }
    })
}

/// Parts that cannot be carried were asked for on the command line.
fn refused(complaint: Complaint) -> Trouble {
    Trouble { exit: Exit::Usage, message: complaint.message, hints: complaint.hints }
}

fn document(args: &CarryArgs, carried: Option<&Carried>) -> Map<String, Value> {
    fields(json!({
        "to": shown(&args.to),
        "file": carried.map(|_| shown(&args.out)),
        "carried": carried.map(carried_words::json),
        "not_kept": carried.map(|carried| carried.not_kept.json()),
    }))
}
