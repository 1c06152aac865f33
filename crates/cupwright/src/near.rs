//! Reads files that a person names: the piece, and the art and typefaces that lie beside it.

use crate::trouble::reason;
use std::fs::{self, File};
use std::io::Read;
use std::path::{Component, Path, PathBuf};

/// Reads a whole file of at most `limit` bytes.
///
/// # Errors
/// In words: not there, not a file, longer than `limit`, not readable. A pipe or a device is read
/// too, up to the limit, so that a piece can come out of another program.
pub fn read_file(path: &Path, limit: u64) -> Result<Vec<u8>, String> {
    let mut file = File::open(path).map_err(|error| reason(&error))?;
    if file.metadata().is_ok_and(|meta| meta.is_dir()) {
        return Err("it is a folder".to_owned());
    }
    let mut bytes = Vec::new();
    let read = file.by_ref().take(limit + 1).read_to_end(&mut bytes);
    read.map_err(|error| reason(&error))?;
    if bytes.len() as u64 > limit {
        return Err(too_long(file.metadata().map_or(0, |meta| meta.len()), limit));
    }
    Ok(bytes)
}

/// The folder that a piece file lies in: the only place its art may come from.
#[derive(Debug)]
pub struct Folder {
    /// With links followed; `None` if it cannot be read.
    real: Option<PathBuf>,
}

impl Folder {
    /// The folder of this piece file.
    pub fn of(piece_file: &Path) -> Self {
        let folder = match piece_file.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        Self { real: fs::canonicalize(folder).ok() }
    }

    /// Reads a file of at most `limit` bytes that lies in this folder or below it.
    ///
    /// # Errors
    /// In words: as [`read_file`], and a name that leads out of the folder (an absolute path, `..`,
    /// a link), or to something that is no ordinary file.
    pub fn read(&self, name: &str, limit: u64) -> Result<Vec<u8>, String> {
        const OUTSIDE: &str =
            "it lies outside the folder of the piece file; put a copy beside the piece file";
        let inside = |part| matches!(part, Component::Normal(_) | Component::CurDir);
        if name.is_empty() || name.contains('\0') {
            return Err("that is not a file name".to_owned());
        }
        if name.contains('\\') || !Path::new(name).components().all(inside) {
            return Err(OUTSIDE.to_owned());
        }
        let folder = self.real.as_ref().ok_or("the folder of the piece file cannot be read")?;
        let real = fs::canonicalize(folder.join(name)).map_err(|error| reason(&error))?;
        if !real.starts_with(folder) {
            return Err(OUTSIDE.to_owned());
        }
        let meta = fs::metadata(&real).map_err(|error| reason(&error))?;
        if !meta.is_file() {
            return Err("it is not an ordinary file".to_owned());
        }
        if meta.len() > limit {
            return Err(too_long(meta.len(), limit));
        }
        read_file(&real, limit)
    }
}

fn too_long(length: u64, limit: u64) -> String {
    let limit = limit as f64 / 1e6;
    if length == 0 {
        format!("it is longer than {limit} MB, the most that is read")
    } else {
        format!("it is {:.1} MB long; {limit} MB is the most that is read", length as f64 / 1e6)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn folder_with_art() -> (tempfile::TempDir, Folder) {
        let temp = tempfile::tempdir().expect("temp folder");
        fs::create_dir(temp.path().join("inner")).expect("folder");
        fs::write(temp.path().join("outside.svg"), "outside").expect("file");
        fs::write(temp.path().join("inner/reeds.svg"), "reeds").expect("file");
        let folder = Folder::of(&temp.path().join("inner/piece.toml"));
        (temp, folder)
    }

    #[test]
    fn a_file_beside_the_piece_is_read() {
        let (_temp, folder) = folder_with_art();
        assert_eq!(folder.read("reeds.svg", 5).as_deref(), Ok(b"reeds".as_slice()));
        assert_eq!(folder.read("./reeds.svg", 5).as_deref(), Ok(b"reeds".as_slice()));
    }

    #[test]
    fn a_file_longer_than_the_limit_is_refused() {
        let (_temp, folder) = folder_with_art();
        assert!(folder.read("reeds.svg", 4).is_err_and(|words| words.contains("MB")));
    }

    #[test]
    fn no_name_leads_out_of_the_folder() {
        let (temp, folder) = folder_with_art();
        let absolute = temp.path().join("outside.svg").to_string_lossy().into_owned();
        for name in ["../outside.svg", "inner/../../outside.svg", &absolute, "..\\outside.svg"] {
            assert!(folder.read(name, 100).is_err_and(|words| words.contains("outside")), "{name}");
        }
    }

    #[cfg(unix)]
    #[test]
    fn no_link_leads_out_of_the_folder() {
        let (temp, folder) = folder_with_art();
        std::os::unix::fs::symlink("../outside.svg", temp.path().join("inner/link.svg"))
            .expect("link");
        assert!(folder.read("link.svg", 100).is_err_and(|words| words.contains("outside")));
    }

    #[test]
    fn a_folder_is_no_art() {
        let (_temp, folder) = folder_with_art();
        assert_eq!(folder.read(".", 100), Err("it is not an ordinary file".to_owned()));
    }
}
