//! Words and data on their way out: data to the output stream, words to the error stream.

use crate::exit::Exit;
use crate::stop::Stop;
use crate::trouble::{Trouble, reason};
use std::io::{self, ErrorKind, IsTerminal, Write};
use std::sync::mpsc::{self, RecvTimeoutError};
use std::time::Duration;

/// How often someone who waits for an answer looks whether to stop.
const LOOK_AROUND: Duration = Duration::from_millis(50);

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

/// Asks a question that `y` or `yes` says yes to. Where nobody sits at a terminal to answer, the answer
/// is yes; where someone asks to stop meanwhile, it is no.
pub fn ask(question: &str, stop: &Stop) -> bool {
    if !(io::stdin().is_terminal() && io::stderr().is_terminal()) {
        return true;
    }
    let _ = write!(io::stderr().lock(), "{question} [y/N] ");
    let (answered, answer) = mpsc::channel();
    // In a thread of its own, since a line is waited for however often someone asks to stop.
    std::thread::spawn(move || {
        let mut line = String::new();
        let read = io::stdin().read_line(&mut line);
        let _ = answered.send(read.is_ok() && is_yes(&line));
    });
    loop {
        match answer.recv_timeout(LOOK_AROUND) {
            Err(RecvTimeoutError::Timeout) if !stop.asked() => {}
            told => return told.unwrap_or(false),
        }
    }
}

fn is_yes(line: &str) -> bool {
    matches!(line.trim().to_lowercase().as_str(), "y" | "yes")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn only_yes_is_a_yes() {
        assert!(is_yes("y\n") && is_yes(" YES \r\n"));
        assert!(!is_yes("\n") && !is_yes("") && !is_yes("no\n") && !is_yes("yesterday\n"));
    }
}
