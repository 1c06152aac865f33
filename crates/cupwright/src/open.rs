//! Opens piece and studio files.

use crate::beside::Beside;
use crate::findings::Findings;
use crate::near::{Contents, read_up_to};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::{Trouble, shown};
use piece::lip::below_lip;
use piece::settings::LengthUnit;
use piece::source::{LARGEST_BYTES, too_large};
use piece::{
    Diagnostic, FieldPath, Finish, Piece, Places, Region, Severity, Source, is_of_settings,
    read_piece, read_settings, read_settings_beside,
};
use std::collections::BTreeSet;
use std::path::Path;

/// The version keys of the kinds of file.
const STUDIO_KEY: &str = "cupwright_settings";
const PIECE_KEY: &str = "cupwright";
pub const HOURS_KEY: &str = "cupwright_hours";
pub const STOCK_KEY: &str = "cupwright_stock";
pub const SELLERS_KEY: &str = "cupwright_sellers";

/// The settings that ship with the program; every sheet made with them says that they are made up.
pub const DEMO_STUDIO: &str = include_str!("../../../examples/studio.toml");

/// A piece that was read.
pub struct Opened {
    /// The piece.
    pub piece: Piece,
    /// What reading it gave to say, if nothing bad.
    pub notes: Vec<Diagnostic>,
    source: Source,
    places: Places,
}

impl Opened {
    /// Its text.
    pub fn text(&self) -> &str {
        &self.source.text
    }

    /// The unit that most of its lengths are typed in.
    pub fn typed_in(&self) -> LengthUnit {
        piece::lengths::typed_in(&self.source.text)
    }

    /// Adds what the road found to say about this piece made in this studio, pointed into the file that
    /// it is about.
    pub fn found(&self, diagnostics: Vec<Diagnostic>, studio: &Studio, findings: &mut Findings) {
        let (of_studio, mut of_piece): (Vec<_>, Vec<_>) =
            diagnostics.into_iter().partition(|found| is_of_settings(&found.path));
        for diagnostic in &mut of_piece {
            self.places.locate(diagnostic);
        }
        findings.add(&self.source, of_piece);
        studio.found(of_studio, findings);
    }
}

/// A kind of file that is checked without a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Kind {
    /// A studio file.
    Studio,
    /// An hours file.
    Hours,
    /// A stock file.
    Stock,
    /// A sellers file.
    Sellers,
}

/// Whether this is another file than that of a piece: each kind has a version key of its own.
pub fn other_kind(path: &Path) -> Option<Kind> {
    // What comes out of a pipe can be read only once.
    if !path.is_file() {
        return None;
    }
    let Ok(Contents::Whole(bytes)) = read_up_to(path, LARGEST_BYTES) else { return None };
    let text = String::from_utf8(bytes).ok()?;
    let kinds = [
        (STUDIO_KEY, Kind::Studio),
        (HOURS_KEY, Kind::Hours),
        (STOCK_KEY, Kind::Stock),
        (SELLERS_KEY, Kind::Sellers),
    ];
    kinds.into_iter().find(|(key, _)| says(&text, key)).map(|(_, kind)| kind)
}

/// Whether a line of the text sets this version key.
pub fn says(text: &str, key: &str) -> bool {
    text.lines().any(|line| {
        line.trim_start().strip_prefix(key).is_some_and(|rest| rest.trim_start().starts_with('='))
    })
}

/// Opens a piece file; `None` if it needs mending, and what is then among the findings. If someone asks
/// to stop meanwhile, not all that needs mending is.
///
/// # Errors
/// It cannot be read at all.
pub fn open_piece(
    path: &Path,
    stop: &Stop,
    findings: &mut Findings,
) -> Result<Option<Opened>, Trouble> {
    let Some(source) = open_text(path, findings)? else { return Ok(None) };
    if says(&source.text, STUDIO_KEY) {
        let error = Diagnostic::error(FieldPath::root(), "this is a studio file, not a piece file")
            .hint(format!(
                "Use it with --studio: `cupwright plan PIECE.toml --out DIR --studio {}`.",
                shown(path)
            ));
        findings.add(&source, vec![error]);
        return Ok(None);
    }
    if says(&source.text, HOURS_KEY) {
        let error = Diagnostic::error(FieldPath::root(), "this is an hours file, not a piece file")
            .hint(format!("Use it with --hours: `cupwright timetable --hours {}`.", shown(path)));
        findings.add(&source, vec![error]);
        return Ok(None);
    }
    for (key, what) in [(STOCK_KEY, "a stock file"), (SELLERS_KEY, "a sellers file")] {
        if says(&source.text, key) {
            let message = format!("this is {what}, not a piece file");
            let error = Diagnostic::error(FieldPath::root(), message).hint(
                "Use it with `cupwright buy PIECE.toml --stock STOCK.toml --sellers SELLERS.toml`.",
            );
            findings.add(&source, vec![error]);
            return Ok(None);
        }
    }
    let (opened, found) = read_text(source.clone(), &Beside::new(path), stop);
    findings.add(&source, found);
    Ok(opened)
}

/// Reads the text of a piece file; `None` if it needs mending, and what.
pub fn read_text(source: Source, art: &Beside, stop: &Stop) -> (Option<Opened>, Vec<Diagnostic>) {
    let reading = read_piece(&source, art);
    let (notes, places) = (reading.diagnostics, reading.places);
    match reading.value {
        Some(piece) => (Some(Opened { piece, notes, source, places }), Vec::new()),
        None => {
            let mut more =
                reading.draft.map_or_else(Vec::new, |draft| further(draft, &notes, stop));
            more.iter_mut().for_each(|found| places.locate(found));
            (None, [notes, more].concat())
        }
    }
}

/// What can be told of the zones of a piece that has errors elsewhere, if its parts have none. Zones
/// with errors of their own are taken as film all over their part, and not told about.
fn further(mut piece: Piece, errors: &[Diagnostic], stop: &Stop) -> Vec<Diagnostic> {
    let errors = || errors.iter().filter(|found| found.severity == Severity::Error);
    let colour = |path: &str| path.starts_with("part") && path.ends_with("].colour");
    if errors().any(|found| found.path.0.starts_with("part") && !colour(&found.path.0)) {
        return Vec::new();
    }
    let reading = read_settings(&Source::new("studio.toml (shipped)", DEMO_STUDIO));
    let (Some(settings), false) = (reading.value, piece.parts.is_empty()) else {
        return Vec::new();
    };
    let finish = ["paint", "glitter", "resin", "vinyl", "stones"];
    let place = |zone: usize| FieldPath::root().key("zone").index(zone);
    let broken: BTreeSet<usize> = (0..piece.zones.len())
        .filter(|zone| {
            let at = place(*zone).0;
            errors().filter_map(|found| found.path.0.strip_prefix(&at)).any(|rest| {
                !finish
                    .iter()
                    .any(|key| rest.strip_prefix('.').is_some_and(|rest| rest.starts_with(key)))
            })
        })
        .collect();
    for (index, zone) in piece.zones.iter_mut().enumerate() {
        zone.region.leave_out.retain(|(other, _)| !broken.contains(other));
        if broken.contains(&index) {
            zone.finish = Finish::Vinyl { colour: 0, cut: piece::FilmCut::PLAIN };
            zone.region = Region {
                band: None,
                from_left_out: false,
                window_rad: None,
                inset_mm: 0.0,
                art: None,
                motif: None,
                leave_out: Vec::new(),
            };
        }
    }
    let mut going = |_| !stop.asked();
    let found = below_lip(piece, &settings)
        .and_then(|piece| shape::shape_while(&piece, &settings, &mut going).map(|_| ()));
    let found = found.err().unwrap_or_default();
    let of_broken =
        |found: &Diagnostic| broken.iter().any(|zone| found.path.0.starts_with(&place(*zone).0));
    found.into_iter().filter(|found| !of_broken(found)).collect()
}

/// Opens a studio file, or the one that ships with the program; otherwise as [`open_piece`].
///
/// # Errors
/// It cannot be read at all.
pub fn open_studio(
    path: Option<&Path>,
    findings: &mut Findings,
) -> Result<Option<Studio>, Trouble> {
    let source = match path {
        Some(path) => open_text(path, findings)?,
        None => Some(Source::new("studio.toml (shipped)", DEMO_STUDIO)),
    };
    let Some(source) = source else { return Ok(None) };
    if says(&source.text, PIECE_KEY) && !says(&source.text, STUDIO_KEY) {
        let error = Diagnostic::error(FieldPath::root(), "this is a piece file, not a studio file")
            .hint("A studio file has your prices and times; `cupwright demo DIR` writes one to begin from.");
        findings.add(&source, vec![error]);
        return Ok(None);
    }
    let reading = match path {
        Some(path) => read_settings_beside(&source, &Beside::new(path)),
        None => read_settings(&source),
    };
    findings.add(&source, reading.diagnostics);
    let places = reading.places;
    Ok(reading.value.map(|settings| Studio::new(settings, path.map(|_| source), places)))
}

/// Opens a file of text; `None` if it is none that can be read, and why is then among the findings.
///
/// # Errors
/// It cannot be read at all.
pub fn open_text(path: &Path, findings: &mut Findings) -> Result<Option<Source>, Trouble> {
    let name = shown(path);
    let contents = read_up_to(path, LARGEST_BYTES).map_err(|reason| {
        let trouble = Trouble::files(format!("could not read {name}: {reason}"));
        if path.is_dir() {
            trouble.hint("Name a file in it, one that ends in .toml.")
        } else if path.exists() {
            trouble
        } else {
            trouble.hint(
                "Check its name and folder; `cupwright demo DIR` writes examples to begin from.",
            )
        }
    })?;
    let refusal = match contents {
        Contents::TooLong(bytes) => too_large(bytes),
        Contents::Whole(bytes) => match Source::from_bytes(name.as_str(), bytes) {
            Ok(source) => return Ok(Some(source)),
            Err(refusal) => Some(refusal),
        },
    };
    findings.add(&Source::new(name, ""), refusal.into_iter().collect());
    Ok(None)
}
