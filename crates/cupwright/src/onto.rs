//! Another cup that a design is carried to: a piece file with its measurements, or a generic blank.

use crate::exit::Exit;
use crate::findings::Findings;
use crate::open::{Opened, open_piece};
use crate::stop::Stop;
use crate::trouble::{Trouble, shown};
use piece::blanks::{self, BLANKS, Blank};
use piece::carry::{Onto, body, pairs};
use piece::nearest::nearest;
use piece::units::Complaint;
use std::path::Path;

/// Another cup.
pub enum Other {
    /// A generic blank.
    Blank(&'static Blank),
    /// A piece file.
    File(Box<Opened>),
}

impl Other {
    /// Opens what is named: a file if there is one, else a blank. `None` if the file needs mending, and
    /// what is then among the findings.
    ///
    /// # Errors
    /// There is neither, or the file cannot be read at all.
    pub fn open(to: &Path, stop: &Stop, findings: &mut Findings) -> Result<Option<Self>, Trouble> {
        if to.exists() {
            let opened = open_piece(to, stop, findings)?;
            return Ok(opened.map(|opened| Self::File(Box::new(opened))));
        }
        blank(to).map(|blank| Some(Self::Blank(blank)))
    }

    /// The text of a piece with these measurements, and the parts that got them; of one part alone if that
    /// is named.
    ///
    /// # Errors
    /// Parts that do not go together.
    pub fn text(
        &self,
        opened: &Opened,
        part: Option<&str>,
    ) -> Result<(String, Vec<usize>), Trouble> {
        let moves: Vec<(usize, Onto<'_>)> = match self {
            Self::Blank(blank) => {
                let part = body(&opened.piece, part).map_err(refused)?;
                vec![(part, Onto::Blank(blank))]
            }
            Self::File(other) => {
                let pairs = pairs(&opened.piece, &other.piece, part).map_err(refused)?;
                pairs.into_iter().map(|(part, to)| (part, Onto::Part(other.text(), to))).collect()
            }
        };
        let text = piece::carry::text(opened.text(), &moves)
            .map_err(|why| Trouble::fault(format!("the piece could not be carried: {why}")))?;
        Ok((text, moves.iter().map(|(part, _)| *part).collect()))
    }
}

fn blank(to: &Path) -> Result<&'static Blank, Trouble> {
    let name = shown(to);
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
