//! The file of a timetable that is kept for the next one.

use crate::trouble::{Trouble, shown};
use std::fs;
use std::path::Path;
use work::together::Kept;

/// Its name in the folder.
pub const FILE: &str = "in-force.json";

/// Reads the plan in force from a folder.
///
/// # Errors
/// There is none, it cannot be read, or it is not one.
pub fn read(folder: &Path) -> Result<Kept, Trouble> {
    let path = folder.join(FILE);
    let text = fs::read_to_string(&path).map_err(|error| {
        Trouble::files(format!("{} cannot be read: {error}", shown(&path)))
            .hint("`--keep` names a folder that `cupwright timetable --out` wrote.")
    })?;
    let damaged = |why: String| {
        Trouble::files(format!("{} is damaged: {why}", shown(&path))).hint(
            "Plan anew without `--keep`; tell what is done by [[happened]] in the hours file.",
        )
    };
    let kept: Kept = serde_json::from_str(&text).map_err(|error| damaged(error.to_string()))?;
    if !kept.is_known() {
        return Err(damaged("it is of another version of this program".to_owned()));
    }
    Ok(kept)
}

/// Writes the plan in force into a folder.
///
/// # Errors
/// It cannot be written.
pub fn write(kept: &Kept, folder: &Path) -> Result<String, Trouble> {
    let path = folder.join(FILE);
    let text = serde_json::to_string_pretty(kept).unwrap_or_default();
    fs::write(&path, text + "\n")
        .map_err(|error| Trouble::files(format!("{} cannot be written: {error}", shown(&path))))?;
    Ok(FILE.to_owned())
}
