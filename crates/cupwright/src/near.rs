//! Reads files that a person names: the piece, and the art and typefaces that lie beside it.

use crate::trouble::reason;
use piece::read::Unread;
use std::fs::{self, File};
use std::io::{ErrorKind, Read};
use std::path::{Component, Path, PathBuf};

/// What reading a file gave.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Contents {
    /// Everything in it.
    Whole(Vec<u8>),
    /// It is longer than the limit: so many bytes, or at least so many where no one can know.
    TooLong(u64),
}

/// Reads a whole file of at most `limit` bytes; of a longer one no more than a byte over the limit.
///
/// # Errors
/// In words: not there, not a file, not readable. A pipe or a device is read too, up to the limit,
/// so that a piece can come out of another program.
pub fn read_up_to(path: &Path, limit: u64) -> Result<Contents, String> {
    let file = File::open(path).map_err(|error| reason(&error))?;
    let meta = file.metadata().map_err(|error| reason(&error))?;
    if meta.is_dir() {
        return Err("it is a folder".to_owned());
    }
    if meta.is_file() && meta.len() > limit {
        return Ok(Contents::TooLong(meta.len()));
    }
    let mut bytes = Vec::new();
    file.take(limit + 1).read_to_end(&mut bytes).map_err(|error| reason(&error))?;
    let length = bytes.len() as u64;
    Ok(if length > limit { Contents::TooLong(length) } else { Contents::Whole(bytes) })
}

/// The folder that a piece or studio file lies in: the only place what it names may come from.
#[derive(Debug, PartialEq, Eq)]
pub struct Folder {
    /// With links followed; `None` if it cannot be read.
    real: Option<PathBuf>,
}

impl Folder {
    /// The folder of this file.
    pub fn of(file: &Path) -> Self {
        let folder = match file.parent() {
            Some(parent) if !parent.as_os_str().is_empty() => parent,
            _ => Path::new("."),
        };
        Self { real: fs::canonicalize(folder).ok() }
    }

    /// Whether nothing lies under this name in the folder, though the folder is there.
    pub fn lacks(&self, name: &str) -> bool {
        let real = self.real.as_ref();
        real.is_some_and(|folder| fs::symlink_metadata(folder.join(name)).is_err())
    }

    /// Reads a file of at most `limit` bytes that lies in this folder or below it.
    ///
    /// # Errors
    /// As [`read_up_to`], and a file longer than `limit`, a name that leads out of the folder (an
    /// absolute path, `..`, a link), or to something that is no ordinary file.
    pub fn read(&self, name: &str, limit: u64) -> Result<Vec<u8>, Unread> {
        let outside = || {
            let why = "it lies outside the folder of the file that names it";
            Unread::new(why, "put a copy beside that file")
        };
        let inside = |part| matches!(part, Component::Normal(_) | Component::CurDir);
        if name.is_empty() || name.contains('\0') {
            return Err(Unread::not_there("that is not a file name"));
        }
        if name.contains('\\') || !Path::new(name).components().all(inside) {
            return Err(outside());
        }
        let folder = self.real.as_ref();
        let folder = folder.ok_or_else(|| {
            Unread::not_there("the folder of the file that names it cannot be read")
        })?;
        let trouble = |error: &std::io::Error| match error.kind() {
            ErrorKind::PermissionDenied => {
                Unread::new(reason(error), "allow yourself to read it, or copy it")
            }
            _ => Unread::not_there(reason(error)),
        };
        let real = fs::canonicalize(folder.join(name)).map_err(|error| trouble(&error))?;
        if !real.starts_with(folder) {
            return Err(outside());
        }
        let meta = fs::metadata(&real).map_err(|error| trouble(&error))?;
        if !meta.is_file() {
            return Err(Unread::not_there("it is not an ordinary file"));
        }
        match read_up_to(&real, limit).map_err(Unread::not_there)? {
            Contents::Whole(bytes) => Ok(bytes),
            Contents::TooLong(length) => {
                let (length, limit) = (length as f64 / 1e6, limit as f64 / 1e6);
                let why = format!("it is {length:.1} MB long; {limit} MB is the most that is read");
                Err(Unread::new(why, "make it smaller in the program that it comes from"))
            }
        }
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
        assert_eq!(folder.read("reeds.svg", 5), Ok(b"reeds".to_vec()));
        assert_eq!(folder.read("./reeds.svg", 5), Ok(b"reeds".to_vec()));
    }

    #[test]
    fn a_file_longer_than_the_limit_is_refused() {
        let (_temp, folder) = folder_with_art();
        let told = folder.read("reeds.svg", 4).unwrap_err();
        assert!(told.why.contains("MB") && told.hint.contains("smaller"), "{told:?}");
    }

    #[cfg(unix)]
    #[test]
    fn of_what_never_ends_a_byte_over_the_limit_is_read() {
        let found = read_up_to(Path::new("/dev/zero"), 1000);
        assert_eq!(found, Ok(Contents::TooLong(1001)));
    }

    #[test]
    fn the_length_of_a_long_file_is_told_without_reading_it() {
        let temp = tempfile::tempdir().expect("temp folder");
        let path = temp.path().join("long");
        // A hole of 1 TB, which no memory holds.
        File::create(&path).and_then(|file| file.set_len(1 << 40)).expect("a sparse file");
        assert_eq!(read_up_to(&path, 1000), Ok(Contents::TooLong(1 << 40)));
    }

    #[test]
    fn no_name_leads_out_of_the_folder() {
        let (temp, folder) = folder_with_art();
        let absolute = temp.path().join("outside.svg").to_string_lossy().into_owned();
        for name in ["../outside.svg", "inner/../../outside.svg", &absolute, "..\\outside.svg"] {
            assert!(
                folder.read(name, 100).is_err_and(|told| told.why.contains("outside")),
                "{name}"
            );
        }
    }

    #[cfg(unix)]
    #[test]
    fn no_link_leads_out_of_the_folder() {
        let (temp, folder) = folder_with_art();
        std::os::unix::fs::symlink("../outside.svg", temp.path().join("inner/link.svg"))
            .expect("link");
        assert!(folder.read("link.svg", 100).is_err_and(|told| told.why.contains("outside")));
    }

    #[test]
    fn a_folder_is_no_art() {
        let (_temp, folder) = folder_with_art();
        assert_eq!(folder.read(".", 100).unwrap_err().why, "it is not an ordinary file");
    }
}
