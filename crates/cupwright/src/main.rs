//! Cupwright on the command line.
//!
//! Reads what was typed and hands it to the command of that name; each lies in a file of `commands`.
//! It computes nothing: `road.rs` calls the rooms one after another. Read first: `args.rs`, then
//! `commands/plan.rs`.

mod args;
mod commands;
mod comparing;
mod exit;
mod findings;
mod folder;
mod near;
mod open;
mod output;
mod pixels;
mod progress;
mod road;
mod stop;
mod summary;
mod trouble;
mod ways;

use args::{Command, CommandLine};
use clap::Parser;
use exit::Exit;
use std::process::ExitCode;

fn main() -> ExitCode {
    match CommandLine::try_parse() {
        Ok(line) => dispatch(&line.command).into(),
        Err(error) => refuse(&error).into(),
    }
}

fn dispatch(command: &Command) -> Exit {
    match command {
        Command::Plan(args) => commands::plan::run(args),
        Command::Check(args) => commands::check::run(args),
        Command::Compare(args) => commands::compare::run(args),
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
    if std::env::args_os().any(|arg| arg == "--json") {
        let message = error.to_string();
        let trouble = trouble::Trouble {
            exit: Exit::Usage,
            message: message
                .lines()
                .next()
                .unwrap_or_default()
                .trim_start_matches("error: ")
                .to_owned(),
            hints: vec!["See `cupwright --help`.".to_owned()],
        };
        output::print_json(&serde_json::json!({
            "cupwright": env!("CARGO_PKG_VERSION"),
            "exit_code": Exit::Usage.code(),
            "trouble": trouble.json(),
            "diagnostics": [],
        }));
    }
    Exit::Usage
}
