//! Pages to PDF: the typesetter as a library, with the page designs, typefaces and data in memory.
//!
//! Nothing is read from disk or network and no clock is asked, so the same data give the same
//! bytes on every machine.

use crate::SheetError;
use std::collections::BTreeMap;
use std::sync::LazyLock;
use typst::diag::{FileError, FileResult, SourceDiagnostic};
use typst::foundations::{Bytes, Datetime, Duration, Smart};
use typst::syntax::{FileId, RootedPath, Source, VirtualPath, VirtualRoot};
use typst::text::{Font, FontBook};
use typst::utils::LazyHash;
use typst::{Library, LibraryExt, World, WorldExt};
use typst_kit::fonts::FontStore;
use typst_layout::PagedDocument;
use typst_pdf::PdfOptions;

/// The page designs by the name they import each other with.
const PAGES: [(&str, &str); 27] = [
    ("workbook.typ", include_str!("../pages/workbook.typ")),
    ("look.typ", include_str!("../pages/look.typ")),
    ("coats.typ", include_str!("../pages/coats.typ")),
    ("cover.typ", include_str!("../pages/cover.typ")),
    ("sides.typ", include_str!("../pages/sides.typ")),
    ("gather.typ", include_str!("../pages/gather.typ")),
    ("work.typ", include_str!("../pages/work.typ")),
    ("mixing.typ", include_str!("../pages/mixing.typ")),
    ("placement.typ", include_str!("../pages/placement.typ")),
    ("setting.typ", include_str!("../pages/setting.typ")),
    ("wrap.typ", include_str!("../pages/wrap.typ")),
    ("collar.typ", include_str!("../pages/collar.typ")),
    ("grid-sheet.typ", include_str!("../pages/grid-sheet.typ")),
    ("wrap-sheet.typ", include_str!("../pages/wrap-sheet.typ")),
    ("profile-sheet.typ", include_str!("../pages/profile-sheet.typ")),
    ("rota-chart.typ", include_str!("../pages/rota-chart.typ")),
    ("this-week.typ", include_str!("../pages/this-week.typ")),
    ("price-sheet.typ", include_str!("../pages/price-sheet.typ")),
    ("price.typ", include_str!("../pages/price.typ")),
    ("care.typ", include_str!("../pages/care.typ")),
    ("cautions.typ", include_str!("../pages/cautions.typ")),
    ("letter.typ", include_str!("../pages/letter.typ")),
    ("quote.typ", include_str!("../pages/quote.typ")),
    ("invoice.typ", include_str!("../pages/invoice.typ")),
    ("packing-slip.typ", include_str!("../pages/packing-slip.typ")),
    ("care-cards.typ", include_str!("../pages/care-cards.typ")),
    ("pattern.typ", include_str!("../pages/pattern.typ")),
];

/// Typefaces of the sheets; licences lie beside them.
pub(crate) const SANS_BOLD: &[u8] = include_bytes!("../fonts/AlegreyaSans-Bold.ttf");
const TYPEFACES: [&[u8]; 5] = [
    include_bytes!("../fonts/AlegreyaSans-Regular.ttf"),
    include_bytes!("../fonts/AlegreyaSans-Italic.ttf"),
    SANS_BOLD,
    include_bytes!("../fonts/Alegreya-Medium.ttf"),
    include_bytes!("../fonts/Alegreya-Bold.ttf"),
];

/// What is the same for every document.
struct House {
    library: LazyHash<Library>,
    fonts: FontStore,
    sources: BTreeMap<&'static str, Source>,
}

static HOUSE: LazyLock<House> = LazyLock::new(|| {
    let mut fonts = FontStore::new();
    fonts.extend(TYPEFACES.iter().flat_map(|data| Font::iter(Bytes::new(*data))).map(|font| {
        let info = font.info().clone();
        (font, info)
    }));
    let sources = PAGES
        .iter()
        .filter_map(|&(name, text)| Some((name, Source::new(file_id(name)?, text.to_owned()))))
        .collect();
    House { library: LazyHash::new(Library::default()), fonts, sources }
});

/// Loads the typefaces and page designs.
pub(crate) fn prepare() {
    LazyLock::force(&HOUSE);
}

/// The typefaces, as files.
pub(crate) fn typefaces() -> [&'static [u8]; 5] {
    TYPEFACES
}

/// Whether any of the typefaces has a letter.
pub(crate) fn has_letter(letter: char) -> bool {
    let book = HOUSE.fonts.book();
    (0..).map_while(|index| book.info(index)).any(|face| face.coverage.contains(letter.into()))
}

fn file_id(name: &str) -> Option<FileId> {
    Some(RootedPath::new(VirtualRoot::Project, VirtualPath::new(name).ok()?).intern())
}

/// One document's files, by names that pages ask for. Names repeat from document to document
/// because the typesetter never forgets one.
struct Desk {
    main: FileId,
    files: BTreeMap<String, Bytes>,
}

impl World for Desk {
    fn library(&self) -> &LazyHash<Library> {
        &HOUSE.library
    }

    fn book(&self) -> &LazyHash<FontBook> {
        HOUSE.fonts.book()
    }

    fn main(&self) -> FileId {
        self.main
    }

    fn source(&self, id: FileId) -> FileResult<Source> {
        let name = id.vpath().get_without_slash();
        HOUSE.sources.get(name).cloned().ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn file(&self, id: FileId) -> FileResult<Bytes> {
        let name = id.vpath().get_without_slash();
        self.files.get(name).cloned().ok_or_else(|| FileError::NotFound(name.into()))
    }

    fn font(&self, index: usize) -> Option<Font> {
        HOUSE.fonts.font(index)
    }

    fn today(&self, _offset: Option<Duration>) -> Option<Datetime> {
        None
    }
}

/// Sets the page design `design` (a name of [`PAGES`]) with `files` at hand and gives the PDF.
/// `file` names the result in messages.
pub(crate) fn pdf(
    file: &str,
    design: &str,
    files: BTreeMap<String, Vec<u8>>,
) -> Result<Vec<u8>, SheetError> {
    let refuse = |reason: String| SheetError::Typeset { file: file.to_owned(), reason };
    let main = HOUSE.sources.get(design).map(Source::id);
    let main = main.ok_or_else(|| refuse(format!("there is no page design `{design}`")))?;
    let files = files.into_iter().map(|(name, bytes)| (name, Bytes::new(bytes))).collect();
    let desk = Desk { main, files };
    let document = typst::compile::<PagedDocument>(&desk)
        .output
        .map_err(|errors| refuse(complaints(&desk, &errors)))?;
    let options = PdfOptions {
        ident: Smart::Custom(file.to_owned()),
        creator: Smart::Custom(Some("Cupwright".to_owned())),
        ..PdfOptions::default()
    };
    let bytes =
        typst_pdf::pdf(&document, &options).map_err(|errors| refuse(complaints(&desk, &errors)));
    // Keeps what the last few documents share, so that a server does not grow.
    typst::comemo::evict(4);
    bytes
}

fn complaints(desk: &Desk, errors: &[SourceDiagnostic]) -> String {
    let lines: Vec<_> = errors
        .iter()
        .map(|error| {
            let place = error.span.id().map(|id| {
                let name = id.vpath().get_without_slash();
                let line = desk
                    .range(error.span)
                    .zip(HOUSE.sources.get(name))
                    .and_then(|(range, source)| source.lines().byte_to_line(range.start))
                    .map_or_else(String::new, |line| format!(":{}", line + 1));
                format!("{name}{line}: ")
            });
            format!("{}{}", place.unwrap_or_default(), error.message)
        })
        .collect();
    lines.join("; ")
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn all_typefaces_and_page_designs_load() {
        let families: Vec<_> = HOUSE.fonts.book().families().map(|(name, _)| name).collect();
        assert_eq!(families, ["Alegreya", "Alegreya Sans"]);
        assert_eq!(HOUSE.sources.len(), PAGES.len());
    }

    #[test]
    fn a_missing_file_is_named_in_the_complaint() {
        let refused = pdf("workbook.pdf", "workbook.typ", BTreeMap::new());
        let Err(SheetError::Typeset { reason, .. }) = refused else { panic!("must not be set") };
        assert!(reason.contains("workbook.typ:"), "{reason}");
    }
}
