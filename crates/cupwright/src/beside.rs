//! The art, typefaces and tables that a piece or studio file names, which lie beside it.

use crate::near::Folder;
use crate::pixels;
use piece::read::{Art, Pixels, Unread};
use std::cell::RefCell;
use std::collections::{BTreeMap, BTreeSet};
use std::path::Path;
use std::sync::Arc;

/// Largest drawing; bytes. Drawings of a cup that a knife can follow have some ten thousand.
const LARGEST_SVG: u64 = 4_000_000;
/// Largest typeface; bytes. Those with all of the Han characters have some twenty million.
const LARGEST_FONT: u64 = 40_000_000;
/// Largest picture of pixels; bytes. A photograph of a telephone has some five million.
const LARGEST_PICTURE: u64 = 40_000_000;
/// Largest table of a logger; bytes. A year of minutes has some fifteen million.
const LARGEST_TABLE: u64 = 20_000_000;

/// Art in the folder of a piece file.
pub struct Beside {
    here: Folder,
    /// Where what is not here may come from, and what did.
    moved: Option<Moved>,
}

/// Art on its way to another folder.
struct Moved {
    from: Folder,
    taken: RefCell<Taken>,
}

/// What a piece file takes along to another folder.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub struct Taken {
    /// Files that are not there yet, by name.
    pub files: BTreeMap<String, Vec<u8>>,
    /// Names under which another file lies there.
    pub others: BTreeSet<String>,
}

impl Beside {
    /// Beside this piece file.
    pub fn new(piece_file: &Path) -> Self {
        Self { here: Folder::of(piece_file), moved: None }
    }

    /// Beside this piece file, which is yet to be written; what does not lie there comes from beside
    /// another one.
    pub fn moved(piece_file: &Path, from: &Path) -> Self {
        let (here, from) = (Folder::of(piece_file), Folder::of(from));
        let moved = (here != from).then(|| Moved { from, taken: RefCell::default() });
        Self { here, moved }
    }

    /// What was read that does not lie here, or is another file here.
    pub fn taken(self) -> Taken {
        self.moved.map(|moved| moved.taken.into_inner()).unwrap_or_default()
    }

    fn read(&self, file: &str, limit: u64) -> Result<Vec<u8>, Unread> {
        let here = self.here.read(file, limit);
        let Some(moved) = &self.moved else { return here };
        let Ok(there) = moved.from.read(file, limit) else { return here };
        if self.here.lacks(file) {
            moved.taken.borrow_mut().files.insert(file.to_owned(), there.clone());
            return Ok(there);
        }
        if here.as_ref().is_ok_and(|here| *here != there) {
            moved.taken.borrow_mut().others.insert(file.to_owned());
        }
        here
    }
}

impl Art for Beside {
    fn svg(&self, file: &str) -> Result<Arc<str>, Unread> {
        let bytes = self.read(file, LARGEST_SVG)?;
        // First bytes of JPEG, PNG, GIF, WebP and BMP files (ISO/IEC 10918-1, W3C PNG, RFC 9649).
        let pictures: [&[u8]; 5] = [b"\xff\xd8\xff", b"\x89PNG", b"GIF8", b"RIFF", b"BM"];
        if pictures.iter().any(|start| bytes.starts_with(start)) {
            return Err(Unread::new(
                "it is a picture of pixels, not an SVG drawing",
                "to have it traced, let its name end in .png or .jpg, as what it is",
            ));
        }
        String::from_utf8(bytes).map(Arc::from).map_err(|_| {
            Unread::new("it is not UTF-8 text", "save it again as plain SVG, encoded in UTF-8")
        })
    }

    fn text(&self, file: &str) -> Result<Arc<str>, Unread> {
        let bytes = self.read(file, LARGEST_TABLE)?;
        String::from_utf8(bytes).map(Arc::from).map_err(|_| {
            Unread::new("it is not UTF-8 text", "save it again as plain text, encoded in UTF-8")
        })
    }

    fn font(&self, file: &str) -> Result<Arc<[u8]>, Unread> {
        self.read(file, LARGEST_FONT).map(Arc::from)
    }

    fn pixels(&self, file: &str) -> Result<Pixels, Unread> {
        pixels::decode(&self.read(file, LARGEST_PICTURE)?)
    }
}
