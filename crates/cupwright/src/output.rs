//! Words and data on their way out: data to the output stream, words to the error stream.

use crate::exit::Exit;
use crate::trouble::{Trouble, reason};
use std::io::{self, ErrorKind, IsTerminal, Write};

/// Prints data. Someone who reads only the first lines and hangs up has had what they wanted.
pub fn print_data(data: &[u8]) -> Exit {
    let mut out = io::stdout().lock();
    match out.write_all(data).and_then(|()| out.flush()) {
        Ok(()) => Exit::Fine,
        Err(error) if error.kind() == ErrorKind::BrokenPipe => Exit::Fine,
        Err(error) => {
            say(&format!("error: could not print: {}", reason(&error)));
            Exit::Files
        }
    }
}

/// Prints a JSON document.
pub fn print_json(document: &serde_json::Value) -> Exit {
    print_data(format!("{document:#}\n").as_bytes())
}

/// Whether the error stream goes to a terminal whose owner has nothing against colour
/// (the NO_COLOR convention, no-color.org).
pub fn colour_wanted() -> bool {
    io::stderr().is_terminal() && std::env::var_os("NO_COLOR").is_none_or(|value| value.is_empty())
}

/// Says something to the person. If the error stream is gone, nobody is listening.
pub fn say(words: &str) {
    let _ = writeln!(io::stderr().lock(), "{words}");
}

/// Says what went wrong and what to do.
pub fn say_trouble(trouble: &Trouble) {
    say(&format!("error: {}", trouble.message));
    for hint in &trouble.hints {
        say(&format!("  help: {hint}"));
    }
}
