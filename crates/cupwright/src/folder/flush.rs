//! Makes sure that names in a folder have reached the disk.

use std::io;
use std::path::Path;

/// Waits until the names in a folder have reached the disk, as far as the disk can tell.
///
/// # Errors
/// As the system says.
#[cfg(unix)]
pub fn flush_names(folder: &Path) -> io::Result<()> {
    use std::io::ErrorKind::{InvalidInput, Unsupported};
    // The parent of a plain name is the empty path.
    let folder = if folder.as_os_str().is_empty() { Path::new(".") } else { folder };
    match std::fs::File::open(folder)?.sync_all() {
        // Some disks (network, FUSE) flush files but no folders.
        Err(error) if matches!(error.kind(), InvalidInput | Unsupported) => Ok(()),
        done => done,
    }
}

/// Elsewhere a folder cannot be opened as a file; the system flushes names by itself.
#[cfg(not(unix))]
pub fn flush_names(_: &Path) -> io::Result<()> {
    Ok(())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_folder_can_be_flushed_and_one_that_is_gone_cannot() {
        let temp = tempfile::tempdir().expect("temp folder");
        flush_names(temp.path()).expect("flushed");
        flush_names(Path::new("")).expect("the folder we are in");
        #[cfg(unix)]
        assert!(flush_names(&temp.path().join("gone")).is_err());
    }
}
