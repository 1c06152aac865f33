//! Walks the road with a piece before and after it was carried to another cup.

use crate::beside::{Beside, Taken};
use crate::findings::Findings;
use crate::open::{Opened, read_text};
use crate::progress::Progress;
use crate::road::{Halt, Travel, walk};
use crate::stop::Stop;
use crate::studio::Studio;
use crate::trouble::Trouble;
use piece::{
    Diagnostic, FieldPath, NoArt, Piece, Settings, Severity, Source, is_of_settings, read_piece,
};
use shape::Shape;
use shape::carried::{Laid, not_kept};
use sheets::Plan;
use std::collections::BTreeSet;
use std::path::Path;

/// What walking takes besides the pieces.
pub struct Journey<'a> {
    /// The studio that both are made in.
    pub studio: Studio,
    /// Whether someone wants it to stop.
    pub stop: &'a Stop,
    /// How far it has come.
    pub progress: &'a Progress,
    /// Where the old file lies.
    pub from: &'a Path,
    /// Where the new one is to lie.
    pub out: &'a Path,
}

/// A design on another cup.
pub struct Carried {
    /// The new piece file.
    pub source: Source,
    /// The parts that were carried, by index.
    pub parts: Vec<usize>,
    /// The piece as it was.
    pub before: Plan,
    /// As it is now; `None` if the new file needs mending first.
    pub after: Option<Plan>,
    /// The other cup without its zones; `None` if its measurements are no cup.
    pub cup: Option<Cup>,
    /// What could not be kept, with its places in the new file.
    pub not_kept: Findings,
    /// Art and typefaces that the new file needs beside it.
    pub art: Taken,
    /// The unit that lengths are told in.
    pub unit: piece::settings::LengthUnit,
}

/// A bare cup.
pub struct Cup {
    /// Its parts.
    pub piece: Piece,
    /// They in space.
    pub shape: Shape,
}

/// Walks both roads. `None` if the piece as it was needs mending first.
///
/// # Errors
/// Stopped.
pub fn carried(
    opened: &Opened,
    source: Source,
    parts: Vec<usize>,
    journey: &Journey<'_>,
    findings: &mut Findings,
) -> Result<Option<Carried>, Trouble> {
    let before = match walked(opened, journey, (0.0, 0.5))? {
        Ok(plan) => plan,
        Err(errors) => {
            opened.found(errors, &journey.studio, findings);
            return Ok(None);
        }
    };
    let mut known: BTreeSet<_> = before.notes.iter().map(kind).collect();
    let cup = bare(&source, &journey.studio.settings);
    let beside = Beside::moved(journey.out, journey.from);
    let (new, mut found) = read_text(source.clone(), &beside, journey.stop);
    let art = beside.taken();
    let mut after = None;
    if let Some(new) = &new {
        match walked(new, journey, (0.5, 1.0))? {
            Ok(plan) => {
                found = plan.notes.clone();
                found.extend(lost(&before, &plan, &parts));
                after = Some(plan);
            }
            Err(errors) => found = errors,
        }
    } else if journey.stop.asked() {
        return Err(Trouble::stopped());
    }
    found.retain(|one| one.severity == Severity::Error || known.insert(kind(one)));
    let (of_studio, mut found): (Vec<_>, Vec<_>) =
        found.into_iter().partition(|one| is_of_settings(&one.path));
    advise(&mut found, &source, &before);
    let mut not_kept = Findings::default();
    not_kept.add(&source, found);
    journey.studio.found(of_studio, &mut not_kept);
    let unit = opened.typed_in();
    Ok(Some(Carried { source, parts, before, after, cup, not_kept, art, unit }))
}

/// The plan of a piece, or what must be mended in it.
fn walked(
    opened: &Opened,
    journey: &Journey<'_>,
    (from, to): (f64, f64),
) -> Result<Result<Plan, Vec<Diagnostic>>, Trouble> {
    let travel = Travel {
        notes: opened.notes.clone(),
        settings: journey.studio.settings.clone(),
        begin: None,
        stop: journey.stop,
        long_work: &|_| true,
        progress: &|share, doing| journey.progress.show(from + (to - from) * share, doing),
    };
    match walk(opened.piece.clone(), travel) {
        Ok(plan) => Ok(Ok(plan)),
        Err(Halt::Mend(errors)) => Ok(Err(errors)),
        Err(Halt::Stopped) => Err(Trouble::stopped()),
    }
}

/// The parts of a piece file, whatever is wrong with its zones.
fn bare(source: &Source, settings: &Settings) -> Option<Cup> {
    let reading = read_piece(source, &NoArt);
    let mut piece = reading.value.or(reading.draft)?;
    piece.zones.clear();
    let shape = shape::shape(&piece, settings).ok()?;
    Some(Cup { piece, shape })
}

fn lost(before: &Plan, after: &Plan, parts: &[usize]) -> Vec<Diagnostic> {
    let laid =
        |plan: &'_ Plan| -> (usize, usize) { (plan.piece.parts.len(), plan.piece.zones.len()) };
    // The same design has as many of both.
    if laid(before) != laid(after) {
        return Vec::new();
    }
    not_kept(
        Laid { piece: &before.piece, shape: &before.shape },
        Laid { piece: &after.piece, shape: &after.shape },
        parts,
    )
}

/// What a complaint is about, whatever its figures are.
fn kind(found: &Diagnostic) -> (Severity, String, String) {
    let words: String = found.message.chars().filter(|c| !c.is_ascii_digit()).collect();
    (found.severity, found.path.0.clone(), words.replace('.', ""))
}

/// Points what was found into the new file, and says of places that count from the rim how they could
/// count otherwise.
fn advise(found: &mut [Diagnostic], source: &Source, before: &Plan) {
    let places = read_piece(source, &NoArt).places;
    let walls = |zone: usize| {
        let part = before.piece.zones.get(zone)?.part;
        Some(before.shape.parts.get(part)?.wall_mm)
    };
    for one in found {
        let wall_mm = zone_of(&one.path).and_then(walls);
        let typed = places_in(&one.path).into_iter().filter_map(|path| {
            source.text.get(places.of(&path)?).map(|text| text.trim_matches(['"', '\'']).to_owned())
        });
        let advice: Vec<String> = wall_mm.map_or_else(Vec::new, |wall_mm| {
            typed.filter_map(|typed| piece::carry::advice(&typed, wall_mm)).collect()
        });
        *one = advice.into_iter().fold(one.clone(), Diagnostic::hint);
        places.locate(one);
    }
}

/// Where the places stand that a complaint about this path may be about.
fn places_in(path: &FieldPath) -> Vec<FieldPath> {
    let edge = |path: FieldPath| [path.key("along"), path];
    if path.0.ends_with(".band") {
        [edge(path.key("from")), edge(path.key("to"))].concat()
    } else if path.0.ends_with(".from") || path.0.ends_with(".to") {
        edge(path.clone()).to_vec()
    } else {
        vec![path.clone()]
    }
}

/// The zone that a path leads into.
fn zone_of(path: &FieldPath) -> Option<usize> {
    path.0.strip_prefix("zone[")?.split(']').next()?.parse().ok()
}
