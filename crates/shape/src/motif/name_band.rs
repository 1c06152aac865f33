//! A name that runs round a part again and again, with an ornament between, and lines along both edges.
//!
//! Words are set as lettering is and lie level. They are as high as the zone, less its lines and the space
//! beside them; everything else is measured by the height of a capital.

use super::ground::{Ground, arc, in_pieces};
use super::reeds::Reeds;
use super::{PIECE_MM, stars};
use crate::art::Drawing;
use crate::boolean::Loop;
use crate::ink::{Cut, Ink, Size, ink};
use crate::lettering;
use crate::watch::Watch;
use glam::DVec2;
use piece::{BandPart, Diagnostic, FieldPath, NameBand, Ornament};
use std::f64::consts::{PI, TAU};

/// Space between a line and the words, as a share of the height of the zone, and at least as wide as the
/// line (own trials).
const BREATH: f64 = 0.1;
/// Space between words and ornament where there is room, and the least, in capitals (common practice among
/// sign writers, no source: half a capital between words).
const SPACE: f64 = 0.55;
const LEAST_SPACE: f64 = 0.2;
/// A height of capitals to measure the words at, mm.
const TRIED_MM: f64 = 10.0;
/// Steps of a wave.
const STEPS: u32 = 48;

/// The shapes of a name band, in the band, window or inset of its zone.
pub(super) fn loops(
    band: &NameBand,
    ground: &Ground<'_>,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<Vec<Loop>, Diagnostic> {
    ground.off_axis(at)?;
    let (top, bottom) = ground.along_mm;
    let high_mm = bottom - top;
    let margin_mm = if band.border_mm > 0.0 {
        band.border_mm + band.border_mm.max(BREATH * high_mm)
    } else {
        0.0
    };
    if high_mm <= 2.0 * margin_mm {
        let message = format!(
            "lines of {} mm leave no room for words in a zone {high_mm:.1} mm high",
            band.border_mm
        );
        return Err(Diagnostic::error(at.key("border"), message)
            .hint("Make the lines narrower or the zone higher."));
    }
    let Some(words) = Words::new(band, high_mm - 2.0 * margin_mm, at, watch)? else {
        return Ok(Vec::new());
    };
    let ornament = band.ornament.map(|kind| ornament(kind, words.capital_mm));
    let ornament_mm = ornament.as_ref().map_or(0.0, |shapes| width(shapes));
    // Letters stand on the parallel through the middle of their capitals with their true width.
    let middle = top + margin_mm - words.top_mm;
    let scale_mm = ground.scale_mm(middle);
    let room_mm = (ground.around.1 - ground.around.0) * scale_mm;
    let taken_mm = words.width_mm + ornament_mm;
    let count = words.count(band, taken_mm, room_mm, high_mm, at)?;
    let step = (ground.around.1 - ground.around.0) / f64::from(count);
    let first = if ground.all_round { 0.0 } else { ground.around.0 + 0.5 * step };
    let lay = |around: f64, shapes: &[Vec<DVec2>]| -> Vec<Loop> {
        let corner = |p: &DVec2| ground.plane.corner(around + p.x / scale_mm, middle + p.y);
        shapes.iter().map(|one| one.iter().map(corner).collect()).collect()
    };
    let takes = |part: BandPart| band.only.is_none_or(|only| only == part);
    let mut loops = Vec::new();
    for number in 0..count {
        let around = first + f64::from(number) * step;
        let around = if ground.all_round { (around + PI).rem_euclid(TAU) - PI } else { around };
        if takes(BandPart::Text) {
            loops.extend(lay(around, &words.ink.loops));
        }
        // In a window nothing stands beyond the last name.
        if takes(BandPart::Ornaments) && (ground.all_round || number + 1 < count) {
            loops.extend(ornament.iter().flat_map(|shapes| lay(around + 0.5 * step, shapes)));
        }
    }
    if takes(BandPart::Border) && band.border_mm > 0.0 {
        loops.push(ground.plane.ring(top, top + band.border_mm));
        loops.push(ground.plane.ring(bottom - band.border_mm, bottom));
    }
    Ok(loops)
}

/// Words at their size.
struct Words {
    ink: Ink,
    capital_mm: f64,
    width_mm: f64,
    /// Their highest place, counted down from the middle of their capitals, mm.
    top_mm: f64,
}

impl Words {
    /// So high from their highest to their lowest place; `None` once `watch` is stopped.
    fn new(
        band: &NameBand,
        high_mm: f64,
        at: &FieldPath,
        watch: &mut Watch<'_>,
    ) -> Result<Option<Self>, Diagnostic> {
        let first = |mut found: Vec<Diagnostic>| {
            if found.is_empty() { None } else { Some(found.swap_remove(0)) }
        };
        let drawing = match lettering::drawing(&band.text, &band.font, false, at) {
            Ok(drawing) => drawing,
            Err(found) => return first(found).map_or(Ok(None), Err),
        };
        let mut set = |drawing: &Drawing, capital_mm: f64| {
            ink(
                drawing,
                Cut { size: Size::Height(capital_mm), layer: None, least_mm: 0.0 },
                at,
                watch,
            )
        };
        let tried = match set(&drawing, TRIED_MM) {
            Ok(tried) => tried.bounds(),
            Err(found) => return first(found).map_or(Ok(None), Err),
        };
        let capital_mm = TRIED_MM * high_mm / tried.height();
        let ink = match set(&drawing, capital_mm) {
            Ok(ink) => ink,
            Err(found) => return first(found).map_or(Ok(None), Err),
        };
        let bounds = ink.bounds();
        Ok(Some(Self { capital_mm, width_mm: bounds.width(), top_mm: bounds.y0, ink }))
    }

    /// How many go round where there are `room_mm`, each of them with its ornament taking `taken_mm` and
    /// the space beside.
    fn count(
        &self,
        band: &NameBand,
        taken_mm: f64,
        room_mm: f64,
        high_mm: f64,
        at: &FieldPath,
    ) -> Result<u32, Diagnostic> {
        let with = |space: f64| taken_mm + 2.0 * space * self.capital_mm;
        let asked = band.round.unwrap_or(1);
        let most = (room_mm / with(LEAST_SPACE)).floor();
        if f64::from(asked) > most {
            let message = format!(
                "{asked} of these names take {:.1} mm, but there are {room_mm:.1} mm round the part here",
                f64::from(asked) * with(LEAST_SPACE)
            );
            // Everything grows with the height but the lines; rounded down, so that it fits.
            let share = room_mm / (f64::from(asked) * with(LEAST_SPACE));
            let fits_mm = (high_mm * share * 10.0).floor() / 10.0;
            let fewer =
                if most >= 1.0 { format!("write round = {most:.0}, ") } else { String::new() };
            return Err(Diagnostic::error(at.clone(), message).hint(format!(
                "Make the zone at most {fits_mm} mm high, {fewer}or shorten the text."
            )));
        }
        let as_many = (room_mm / with(SPACE)).floor().clamp(1.0, 60.0) as u32;
        Ok(band.round.unwrap_or(as_many))
    }
}

fn width(shapes: &[Vec<DVec2>]) -> f64 {
    let across = || shapes.iter().flatten().map(|p| p.x);
    across().fold(f64::NEG_INFINITY, f64::max) - across().fold(f64::INFINITY, f64::min)
}

/// An ornament between capitals of this height, about the middle of their height, y down.
fn ornament(kind: Ornament, capital_mm: f64) -> Vec<Vec<DVec2>> {
    match kind {
        Ornament::Dot => {
            let mut disc = arc(DVec2::ZERO, 0.15 * capital_mm, 0.0, TAU, 1.0);
            disc.pop();
            vec![disc]
        }
        Ornament::Diamond => {
            let (half, tip) = (0.22 * capital_mm, 0.32 * capital_mm);
            let corners = [
                DVec2::new(0.0, -tip),
                DVec2::new(half, 0.0),
                DVec2::new(0.0, tip),
                DVec2::new(-half, 0.0),
            ];
            vec![in_pieces(&corners, PIECE_MM)]
        }
        Ornament::Star => stars::star(5, 0.7 * capital_mm, 0.4, 0.0).loops,
        Ornament::Wave => vec![wave(capital_mm)],
        Ornament::Reeds => blades(capital_mm),
    }
}

/// One crest and one trough of a sine, as a strip.
fn wave(capital_mm: f64) -> Vec<DVec2> {
    let (long_mm, rise_mm, half_mm) = (1.1 * capital_mm, 0.15 * capital_mm, 0.09 * capital_mm);
    let side = |sign: f64, step: u32| {
        let share = f64::from(step) / f64::from(STEPS);
        let at = DVec2::new(long_mm * (share - 0.5), -rise_mm * libm::sin(TAU * share));
        let slope = -rise_mm * TAU / long_mm * libm::cos(TAU * share);
        at + DVec2::new(-slope, 1.0).normalize() * (sign * half_mm)
    };
    (0..=STEPS)
        .map(|step| side(-1.0, step))
        .chain((0..=STEPS).rev().map(|step| side(1.0, step)))
        .collect()
}

/// Three blades on the line of the letters.
fn blades(capital_mm: f64) -> Vec<Vec<DVec2>> {
    let reeds = Reeds {
        count: 3,
        height_mm: (0.0, capital_mm),
        width_mm: 0.16 * capital_mm,
        lean_rad: 0.0,
        heads: 0.0,
    };
    let foot = 0.5 * capital_mm;
    [(-0.22, 0.68, -0.2, false), (0.0, 1.0, 0.06, true), (0.22, 0.8, 0.22, false)]
        .into_iter()
        .map(|(x, height, tip, head)| {
            let blade = reeds.blade(height * capital_mm, tip * capital_mm, head);
            let stands = |p: &DVec2| DVec2::new(p.x + x * capital_mm, (p.y + foot).min(foot));
            blade.iter().map(stands).collect()
        })
        .collect()
}
