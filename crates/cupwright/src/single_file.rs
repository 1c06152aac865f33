//! One file that is written whole or not at all.

use crate::trouble::{Trouble, reason, shown};
use std::io::{ErrorKind, Write};
use std::path::Path;

/// Writes a file beside its place and puts it there when it is whole; over another only with `replace`.
///
/// # Errors
/// There is one already, or it cannot be written.
pub fn write_whole(path: &Path, bytes: &[u8], replace: bool) -> Result<(), Trouble> {
    let cannot = |error: &std::io::Error| {
        Trouble::files(format!("could not write {}: {}", shown(path), reason(error)))
    };
    let there = || {
        Trouble::files(format!("there is a file called {} already", shown(path)))
            .hint("Name another file, or move that one away first.")
    };
    if path.is_dir() {
        return Err(
            Trouble::files(format!("{} is a folder", shown(path))).hint("Name a file in it.")
        );
    }
    if !replace && path.exists() {
        return Err(there());
    }
    let parent = path.parent().filter(|parent| !parent.as_os_str().is_empty());
    let mut draft = tempfile::Builder::new()
        .prefix(".cupwright-")
        .tempfile_in(parent.unwrap_or(Path::new(".")))
        .map_err(|error| cannot(&error))?;
    let written = draft.write_all(bytes).and_then(|()| draft.as_file().sync_all());
    written.map_err(|error| cannot(&error))?;
    open_to_readers(draft.as_file()).map_err(|error| cannot(&error))?;
    let placed = if replace { draft.persist(path) } else { draft.persist_noclobber(path) };
    placed.map(drop).map_err(|failed| match failed.error.kind() {
        ErrorKind::AlreadyExists => there(),
        _ => cannot(&failed.error),
    })
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
