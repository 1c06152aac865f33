//! `cupwright completions SHELL`.

use crate::args::{CommandLine, CompletionsArgs};
use crate::exit::Exit;
use crate::output::print_data;
use clap::CommandFactory;

/// Prints a completion script.
pub fn run(args: &CompletionsArgs) -> Exit {
    let mut script = Vec::new();
    clap_complete::generate(args.shell, &mut CommandLine::command(), "cupwright", &mut script);
    print_data(&script)
}
