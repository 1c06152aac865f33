//! The list of files inside a folder that Cupwright wrote, by which it knows the folder again.

use piece::fnv::{EMPTY, fnv1a_64};
use std::collections::BTreeMap;
use std::fs::{self, File};
use std::io::{self, Read, Write};
use std::path::Path;

/// Name of the list.
pub const MANIFEST: &str = ".cupwright";
/// Its name until it is locked.
pub const MANIFEST_BEGUN: &str = ".cupwright-begun";

const OPENING: &str = "cupwright folder 1";
const EXPLANATION: &str = "Written by Cupwright, and replaced as a whole by the next plan. Keep your own files elsewhere.";

/// Left behind by file browsers; no work of anyone's is lost with them.
const LITTER: [&str; 4] = [".DS_Store", "Thumbs.db", "desktop.ini", ".directory"];

/// Length and checksum of each file, by name.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Manifest(BTreeMap<String, (u64, u64)>);

/// What is in a folder that is not as Cupwright left it.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Foreign {
    /// Someone else's file or folder.
    Unknown(String),
    /// One of ours that was changed since.
    Changed(String),
}

impl Manifest {
    /// Lists these files of a folder, having made sure that each has reached the disk.
    ///
    /// # Errors
    /// A file that cannot be read or flushed.
    pub fn of(folder: &Path, names: &[String]) -> io::Result<Self> {
        let mut files = BTreeMap::new();
        for name in names {
            files.insert(name.clone(), length_and_checksum(&folder.join(name), true)?);
        }
        Ok(Self(files))
    }

    /// Writes the list.
    ///
    /// # Errors
    /// As the system says.
    pub fn write(&self, out: &mut File) -> io::Result<()> {
        let mut text = format!("{OPENING}\n{EXPLANATION}\n");
        for (name, (length, checksum)) in &self.0 {
            text += &format!("{checksum:016x} {length} {name}\n");
        }
        out.write_all(text.as_bytes())?;
        out.sync_all()
    }

    /// Reads the list of a folder; `None` if there is none or it is not ours.
    fn read(folder: &Path) -> Option<Self> {
        let text = fs::read_to_string(folder.join(MANIFEST)).ok()?;
        let mut lines = text.lines();
        if lines.next()? != OPENING || lines.next()? != EXPLANATION {
            return None;
        }
        let file = |line: &str| {
            let (checksum, rest) = line.split_once(' ')?;
            let (length, name) = rest.split_once(' ')?;
            let figures = (length.parse().ok()?, u64::from_str_radix(checksum, 16).ok()?);
            Some((name.to_owned(), figures))
        };
        lines.map(file).collect::<Option<_>>().map(Self)
    }
}

/// Names of what may be removed from a folder, the list itself last: nothing if it is empty,
/// everything if it holds just what Cupwright wrote, unchanged.
///
/// # Errors
/// Outer: the folder cannot be read. Inner: the first name, in order, that is not ours.
pub fn removable(folder: &Path) -> io::Result<Result<Vec<String>, Foreign>> {
    let mut names = Vec::new();
    for entry in fs::read_dir(folder)? {
        let entry = entry?;
        names.push((entry.file_name(), entry.file_type()?.is_file()));
    }
    names.sort();
    let manifest = Manifest::read(folder).unwrap_or_default();
    let mut ours = Vec::new();
    for (os_name, is_file) in names {
        let name = crate::trouble::shown(Path::new(&os_name));
        let known = os_name.to_str().filter(|_| is_file);
        match known.map(|name| (manifest.0.get(name), name)) {
            Some((None, MANIFEST)) if !manifest.0.is_empty() => {}
            Some((None, litter)) if LITTER.contains(&litter) => {}
            Some((Some(figures), _)) => {
                if length_and_checksum(&folder.join(&os_name), false)? != *figures {
                    return Ok(Err(Foreign::Changed(name)));
                }
            }
            _ => return Ok(Err(Foreign::Unknown(name))),
        }
        ours.push(name);
    }
    ours.sort_by_key(|name| name == MANIFEST);
    Ok(Ok(ours))
}

fn length_and_checksum(path: &Path, flush: bool) -> io::Result<(u64, u64)> {
    let mut file = File::open(path)?;
    if flush {
        file.sync_all()?;
    }
    let (mut length, mut checksum) = (0, EMPTY);
    let mut buffer = vec![0; 1 << 16];
    loop {
        let n_read = file.read(&mut buffer)?;
        if n_read == 0 {
            return Ok((length, checksum));
        }
        length += n_read as u64;
        checksum = fnv1a_64(checksum, &buffer[..n_read]);
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_file_longer_than_the_buffer_is_summed_whole() {
        let temp = tempfile::tempdir().expect("temp folder");
        let path = temp.path().join("file");
        let bytes: Vec<u8> = (0..200_000_u32).map(|index| (index % 251) as u8).collect();
        fs::write(&path, &bytes).expect("file");
        let figures = length_and_checksum(&path, false).expect("readable");
        assert_eq!(figures, (200_000, fnv1a_64(EMPTY, &bytes)));
    }
}
