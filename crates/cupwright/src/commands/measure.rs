//! `cupwright measure OUT.toml`: asks for the measurements of a cup and writes them as a piece file.

use crate::args::MeasureArgs;
use crate::exit::Exit;
use crate::findings::Findings;
use crate::measuring::{Asker, NoAnswer, interview};
use crate::open::open_studio;
use crate::output::{say, say_trouble};
use crate::single_file::{Over, write_whole};
use crate::stop::Stop;
use crate::trouble::{Trouble, reason, shown};
use std::io;

/// Asks and writes.
pub fn run(args: &MeasureArgs) -> Exit {
    match measure(args) {
        Ok(true) => {
            let file = shown(&args.out);
            say(&format!("Wrote {file}. Next: `cupwright shape {file}` tells and draws it."));
            Exit::Fine
        }
        Ok(false) => {
            say("Nothing was written.");
            Exit::Fine
        }
        Err(trouble) => {
            say_trouble(&trouble);
            trouble.exit
        }
    }
}

/// Whether the file was written.
fn measure(args: &MeasureArgs) -> Result<bool, Trouble> {
    if args.out.exists() {
        return Err(Trouble::files(format!("there is a file called {} already", shown(&args.out)))
            .hint("Name another file, or move that one away first."));
    }
    let mut findings = Findings::default();
    let studio = open_studio(None, &mut findings)?;
    let studio = studio.ok_or_else(|| Trouble::fault("the settings that ship are not sound"))?;
    // A signal ends the program at once while it waits for answers: nothing is written until the end.
    let mut asker = Asker::new(io::stdin().lock(), io::stderr().lock());
    let text = interview(&mut asker, &studio.settings);
    drop(asker);
    let Some(text) = text.map_err(|none| match none {
        NoAnswer::Ended => Trouble {
            exit: Exit::Stopped,
            message: "the answers ended before the questions; nothing was written".to_owned(),
            hints: Vec::new(),
        },
        NoAnswer::Useless => Trouble {
            exit: Exit::Stopped,
            message: "none of many answers could be used; nothing was written".to_owned(),
            hints: Vec::new(),
        },
        NoAnswer::Unreadable(error) => {
            Trouble::files(format!("could not read the answers: {}", reason(&error)))
        }
    })?
    else {
        return Ok(false);
    };
    let stop = Stop::listen();
    if stop.asked() {
        return Err(Trouble::stopped());
    }
    write_whole(&args.out, text.as_bytes(), Over::None)?;
    Ok(true)
}
