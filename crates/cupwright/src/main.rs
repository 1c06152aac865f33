//! Cupwright on the command line.
//!
//! Reads what was typed and hands it to the command of that name; each lies in a file of `commands`.
//! It computes nothing: `road.rs` calls the rooms one after another. Read first: `args.rs`, then
//! `commands/plan.rs`.

mod after_words;
mod args;
mod beside;
mod bought_words;
mod carried_words;
mod carrying;
mod coated_words;
mod commands;
mod comparing;
mod exit;
mod findings;
mod folder;
mod hours_file;
mod in_force;
mod measured_words;
mod measuring;
mod moved_words;
mod near;
mod offering;
mod onto;
mod open;
mod order_folder;
mod ordering;
mod output;
mod pixels;
mod planning;
mod price_words;
mod progress;
mod promised_words;
mod promising;
mod quote_folder;
mod records_file;
mod road;
mod single_file;
mod stop;
mod studio;
mod summary;
mod supplies_files;
mod timetable_words;
mod today;
mod trouble;
mod ways;

use args::{Command, CommandLine};
use clap::Parser;
use exit::Exit;
use std::panic::{AssertUnwindSafe, catch_unwind};
use std::process::ExitCode;

fn main() -> ExitCode {
    match CommandLine::try_parse() {
        Ok(line) => guarded(|| dispatch(&line.command)).into(),
        Err(error) => refuse(&error).into(),
    }
}

/// Runs a command. A panic in it is a fault of the program's own, and is told and ends as one.
fn guarded(command: impl FnOnce() -> Exit) -> Exit {
    // Nothing that the command worked on is looked at again.
    catch_unwind(AssertUnwindSafe(command)).unwrap_or_else(|_| {
        // The panic itself has said where it came up.
        let trouble = trouble::Trouble::fault("cupwright came to a stop; nothing was written");
        output::say_trouble(&trouble);
        refused_json(&trouble);
        trouble.exit
    })
}

fn dispatch(command: &Command) -> Exit {
    match command {
        Command::Plan(args) => commands::plan::run(args),
        Command::Check(args) => commands::check::run(args),
        Command::Compare(args) => commands::compare::run(args),
        Command::Coats(args) => commands::coats::run(args),
        Command::Buy(args) => commands::buy::run(args),
        Command::Timetable(args) => commands::timetable::run(args),
        Command::Price(args) => commands::price::run(args),
        Command::After(args) => commands::after::run(args),
        Command::Carry(args) => commands::carry::run(args),
        Command::Shape(args) => commands::shape::run(args),
        Command::Quote(args) => commands::quote::run(args),
        Command::Order(args) => commands::order::run(args),
        Command::Papers(args) => commands::papers::run(args),
        Command::Pattern(args) => commands::pattern::run(args),
        Command::Grid(args) => commands::grid::run(args),
        Command::Measure(args) => commands::measure::run(args),
        Command::Blanks(args) => commands::blanks::run(args),
        Command::Schema(args) => commands::schema::run(args),
        Command::Completions(args) => commands::completions::run(args),
        Command::Demo(args) => commands::demo::run(args),
        Command::Licences => commands::licences::run(),
    }
}

/// Help and version are asked for and no mistake. Of a mistake a script hears in its own way too.
fn refuse(error: &clap::Error) -> Exit {
    // If there is nobody to tell, the exit code still tells.
    let _ = error.print();
    if !error.use_stderr() {
        return Exit::Fine;
    }
    let message = error.to_string();
    let message = message.lines().next().unwrap_or_default().trim_start_matches("error: ");
    refused_json(&trouble::Trouble {
        exit: Exit::Usage,
        message: message.to_owned(),
        hints: vec!["See `cupwright --help`.".to_owned()],
    });
    Exit::Usage
}

/// What a script hears of a command that did not come to its end, if it asked for JSON.
fn refused_json(trouble: &trouble::Trouble) {
    if std::env::args_os().any(|arg| arg == "--json") {
        output::print_json(&serde_json::json!({
            "cupwright": env!("CARGO_PKG_VERSION"),
            "exit_code": trouble.exit.code(),
            "trouble": trouble.json(),
            "diagnostics": [],
        }));
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_panic_ends_as_a_fault_of_the_program() {
        assert_eq!(guarded(|| panic!("on purpose")).code(), 4);
        assert_eq!(guarded(|| Exit::Mend).code(), 1);
    }
}
