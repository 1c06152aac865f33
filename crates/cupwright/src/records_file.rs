//! Opens a records file, and puts what it teaches into the studio's settings.

use crate::findings::Findings;
use crate::open::open_text;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use learned::{Learned, learn};
use piece::{Records, read_records};
use std::path::Path;

/// Opens a records file; `None` if it needs mending, and what is then among the findings.
///
/// # Errors
/// It cannot be read at all.
pub fn open_records(path: &Path, findings: &mut Findings) -> Result<Option<Records>, Trouble> {
    let Some(source) = open_text(path, findings)? else { return Ok(None) };
    let reading = read_records(&source);
    findings.add(&source, reading.diagnostics);
    Ok(reading.value)
}

/// What records taught, and the name of their file.
pub type Taught = Option<(Learned, String)>;

/// Learns from the records file, if one is named, and plans with it from then on; `None` if it needs
/// mending.
///
/// # Errors
/// It cannot be read at all.
pub fn teach(
    studio: &mut Studio,
    path: Option<&Path>,
    findings: &mut Findings,
) -> Result<Option<Taught>, Trouble> {
    let Some(path) = path else { return Ok(Some(None)) };
    let Some(records) = open_records(path, findings)? else { return Ok(None) };
    let learned = learn(&studio.settings, &records);
    studio.settings = learned.settings(&studio.settings);
    Ok(Some(Some((learned, shown(path)))))
}

/// A sentence on how much of the plan comes from records.
pub fn said((learned, name): &(Learned, String)) -> String {
    let found = learned.found().count();
    let kept = learned.figures.len() - found;
    match found {
        0 => format!("{name} has too few lines yet: all {kept} figures keep their standard"),
        _ => format!("{found} figures come from {name}; {kept} keep their standard"),
    }
}
