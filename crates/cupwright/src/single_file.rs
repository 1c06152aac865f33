//! One file that is written whole or not at all.

use crate::trouble::{Trouble, reason, shown};
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Whether a file may take the place of another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Over {
    /// Never.
    None,
    /// As `--replace` says.
    Asked(bool),
}

impl Over {
    fn is_allowed(self) -> bool {
        self == Self::Asked(true)
    }
}

/// Writes a file beside its place and puts it there when it is whole; over another only if that is
/// allowed.
///
/// # Errors
/// There is one already, or it cannot be written.
pub fn write_whole(path: &Path, bytes: &[u8], over: Over) -> Result<(), Trouble> {
    let cannot = |error: &std::io::Error| {
        Trouble::files(format!("could not write {}: {}", shown(path), reason(error)))
    };
    check_place(path, over)?;
    let mut draft = tempfile::Builder::new()
        .prefix(".cupwright-")
        .tempfile_in(folder(path))
        .map_err(|error| cannot(&error))?;
    let written = draft.write_all(bytes).and_then(|()| draft.as_file().sync_all());
    written.map_err(|error| cannot(&error))?;
    open_to_readers(draft.as_file()).map_err(|error| cannot(&error))?;
    let placed =
        if over.is_allowed() { draft.persist(path) } else { draft.persist_noclobber(path) };
    placed.map(drop).map_err(|failed| match failed.error.kind() {
        ErrorKind::AlreadyExists => there(path, over),
        _ => cannot(&failed.error),
    })
}

/// Whether a file can be put there, as far as can be seen before: for work that takes long.
///
/// # Errors
/// There is a folder or, unless it is allowed, a file of this name, or no folder to put it into.
pub fn check_place(path: &Path, over: Over) -> Result<(), Trouble> {
    if path.is_dir() {
        return Err(
            Trouble::files(format!("{} is a folder", shown(path))).hint("Name a file in it.")
        );
    }
    if !over.is_allowed() && path.exists() {
        return Err(there(path, over));
    }
    let folder = folder(path);
    if !folder.is_dir() {
        let message = format!("could not write {}: there is no such folder", shown(path));
        return Err(Trouble::files(message).hint("Make the folder first, or name another."));
    }
    Ok(())
}

fn there(path: &Path, over: Over) -> Trouble {
    let trouble = Trouble::files(format!("there is a file called {} already", shown(path)))
        .hint("Name another file, or move that one away first.");
    match over {
        Over::None => trouble,
        Over::Asked(_) => trouble.hint("With `--replace` it is written over."),
    }
}

/// The folder that a file lies in.
fn folder(path: &Path) -> &Path {
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
    parent.unwrap_or(Path::new("."))
}

/// A draft is for its owner alone; what takes its place can be read by all, as other files are.
#[cfg(unix)]
fn open_to_readers(file: &std::fs::File) -> std::io::Result<()> {
    use std::os::unix::fs::PermissionsExt;
    file.set_permissions(std::fs::Permissions::from_mode(0o644))
}

#[cfg(not(unix))]
fn open_to_readers(_: &std::fs::File) -> std::io::Result<()> {
    Ok(())
}
