//! The frame of a run over one piece: how it ends and what it says, alike for every command.

use crate::exit::Exit;
use crate::findings::Findings;
use crate::folder::{Draft, Placed};
use crate::output::{print_json, say, say_trouble};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use serde_json::{Map, Value, json};
use std::path::Path;

/// A run of one command over one piece.
pub struct Run<'a> {
    /// The command, as it is typed.
    pub command: &'a str,
    /// The file that it is about, and what a script knows it by.
    pub file: (&'a str, &'a Path),
    /// Whether a script reads what is said.
    pub json: bool,
    /// Of what was found in the files, tell a person only the errors.
    pub only_errors: bool,
}

impl Run<'_> {
    /// Says how it came out, and ends. `fields` are what a script is told of what was done; `tell` tells a
    /// person, of `None` where the piece needs mending first, and says how that went.
    pub fn end<T>(
        &self,
        outcome: Result<Option<T>, Trouble>,
        findings: &Findings,
        fields: impl FnOnce(Option<&T>) -> Map<String, Value>,
        tell: impl FnOnce(Option<T>) -> Exit,
    ) -> Exit {
        let exit = findings.exit_after(&outcome);
        self.end_as(exit, outcome, findings, fields, tell)
    }

    /// The same with an exit code of its own.
    pub fn end_as<T>(
        &self,
        exit: Exit,
        outcome: Result<Option<T>, Trouble>,
        findings: &Findings,
        fields: impl FnOnce(Option<&T>) -> Map<String, Value>,
        tell: impl FnOnce(Option<T>) -> Exit,
    ) -> Exit {
        let told = if self.json {
            let mut document = json!({
                "cupwright": env!("CARGO_PKG_VERSION"),
                "command": self.command,
                "exit_code": exit.code(),
            });
            document[self.file.0] = shown(self.file.1).into();
            let done = outcome.as_ref().ok().and_then(Option::as_ref);
            for (key, value) in fields(done) {
                document[key] = value;
            }
            document["trouble"] = outcome.as_ref().err().map(Trouble::json).into();
            document["diagnostics"] = findings.json();
            print_json(&document)
        } else {
            findings.say(self.only_errors);
            match outcome {
                Ok(done) => tell(done),
                Err(trouble) => {
                    say_trouble(&trouble);
                    exit
                }
            }
        };
        if exit == Exit::Fine { told } else { exit }
    }
}

/// The members of a document that are written with `json!`.
pub fn fields(document: Value) -> Map<String, Value> {
    match document {
        Value::Object(fields) => fields,
        _ => Map::new(),
    }
}

/// Puts the files of a draft where they belong, unless someone asked to stop meanwhile.
pub fn put_in_place(
    draft: Draft,
    files: Vec<String>,
    stop: &Stop,
) -> Result<(Vec<String>, Placed), Trouble> {
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    let placed = draft.put_in_place(&files)?;
    Ok((files, placed))
}

/// Says that a folder was written, and `then` what to look at in it; of an old folder that was kept it
/// warns in any case.
pub fn say_written(placed: &Placed, folder: &Path, quiet: bool, then: &str) {
    say_kept(placed);
    if !quiet {
        let did = if placed.replaced { "Replaced" } else { "Wrote" };
        say(&format!("{did} {}{then}.", shown(folder)));
    }
}

/// Warns of an old folder that was kept, as something had been added to it.
pub fn say_kept(placed: &Placed) {
    if let Some(old) = &placed.kept_old {
        say(&format!(
            "warning: something was added to the old folder meanwhile, so it was kept as {}",
            shown(old)
        ));
    }
}
