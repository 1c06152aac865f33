//! Each pour of a piece followed in the studio's own room: from the mixing cup over the turner to
//! full cure.
//!
//! Brings together what the other rooms know: `cure` (how fast), `pot` and `mixing` (how much at
//! once), `turner` (what stays on and levels), `room` (how warm and damp). Gives [`Pours`].
//! Read first: `pour.rs`, then `waits.rs`.

mod pour;
mod waits;

pub use pour::{OnTurner, Pour};
pub use waits::Waits;

use crate::cure::choices::CUP_MM;
use crate::cure::{Calibration, Course, calibrate, course};
use crate::mixing;
use crate::pot::{greatest_mass_g, runaway_mass_g};
use crate::room::RoomCourse;
use crate::{Coat, Matter, Mix};
use piece::{Diagnostic, FieldPath, Piece, Settings};
use shape::Shape;

/// What is known of the pours of a piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Pours {
    /// How well the cure model meets the resin's sheet.
    pub calibration: Calibration,
    /// How long the resin must be left, whenever in the maker's hours it is poured.
    pub waits: Waits,
    /// Each pour, in order of work.
    pub pours: Vec<Pour>,
    /// When a pour is followed from, min after midnight: the beginning of the maker's week.
    pub pour_clock_min: f64,
    /// The most that may be mixed at once in a cup 70 mm wide so that it stays thin for one pour, g;
    /// `None` if no mass does.
    pub greatest_mix_g: Option<f64>,
    /// From this mass on such a cup heats itself up, g; `None` if no mass stays cool.
    pub runaway_g: Option<f64>,
    /// Least mix that the maker's scale can weigh well, g.
    pub least_mix_g: f64,
}

/// What every pour of a piece shares.
struct Bench<'a> {
    piece: &'a Piece,
    shape: &'a Shape,
    settings: &'a Settings,
    calibration: &'a Calibration,
    course: &'a Course,
    room: RoomCourse<'a>,
    runaway_g: Option<f64>,
}

impl Bench<'_> {
    /// Warnings of work that takes longer than the resin stays thin: a pour, and glitter on its bed.
    fn too_slow(&self, coats: &[Coat], pours: &[Pour]) -> Vec<Diagnostic> {
        let mut notes = Vec::new();
        let times = &self.settings.times;
        let copies = f64::from(self.piece.quantity.max(1));
        let least =
            pours.iter().map(|pour| pour.plan.working.least_min).fold(f64::INFINITY, f64::min);
        if times.pour_min > least {
            notes.push(
                Diagnostic::warning(
                    FieldPath::root().key("times").key("pour"),
                    format!(
                        "a pour takes {:.0} min, and the resin stays thin for {least:.0} min after mixing",
                        times.pour_min
                    ),
                )
                .hint("Mix less at a time, spread it out of the cup at once, or take a slower resin"),
            );
        }
        for (index, coat) in coats.iter().enumerate() {
            let bed = pours.iter().find(|pour| pour.coat + 1 == index);
            let (Matter::Glitter { .. }, Some(bed)) = (&coat.matter, bed) else { continue };
            // All copies are poured before the first is sprinkled.
            let waited_min = times.pour_min * copies;
            let thin_min = bed.plan.working.least_min;
            if waited_min > thin_min && coat.part == coats[bed.coat].part {
                notes.push(
                    Diagnostic::warning(
                        FieldPath::root().key("zone").index(coat.zone).key("glitter"),
                        format!(
                            "the bed of `{}` is {waited_min:.0} min old when its glitter is shaken on, and thin for {thin_min:.0} min",
                            self.piece.zones[coat.zone].name
                        ),
                    )
                    .hint("Shake the glitter on each piece right after its own pour, and plan fewer pieces at a time"),
                );
            }
        }
        notes
    }
}

/// Follows the pours among `coats`; `None` if there is none. Notes are added to `notes`.
///
/// # Errors
/// If the room is too cold for the resin, or its sheet cannot be followed.
pub(crate) fn plan_pours(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    coats: &[Coat],
    notes: &mut Vec<Diagnostic>,
) -> Result<Option<Pours>, Diagnostic> {
    let poured: Vec<(usize, &Coat, &Mix)> = coats
        .iter()
        .enumerate()
        .filter_map(|(index, coat)| match &coat.matter {
            Matter::Resin(mix) => Some((index, coat, mix)),
            Matter::Paint { .. } | Matter::Glitter { .. } => None,
        })
        .collect();
    if poured.is_empty() {
        return Ok(None);
    }
    let calibration = calibrate(&settings.resin)?;
    notes.extend(calibration.notes.iter().cloned());
    let waits = waits::waits(&calibration, settings)?;
    let pour_clock_min = waits::usual_clock_min(settings);
    let room = RoomCourse::new(&settings.room, pour_clock_min);
    let room_c = |min: f64| room.temperature_c(min);
    let course = course(&calibration.likely, &room_c, waits.full_cure_min.max(1.0))?;
    notes.extend(room.advice(0.0, waits.recoat_min.1, settings.resin.lowest_c));
    // One pour after another as soon as each bears the next, and the last one left to cure.
    let following = poured.len().saturating_sub(1) as f64;
    notes.extend(room.log_ends(waits.full_cure_min + following * waits.recoat_min.0));
    let runaway_g = runaway_mass_g(&calibration, CUP_MM, &room_c)?;
    let bench = Bench {
        piece,
        shape,
        settings,
        calibration: &calibration,
        course: &course,
        room,
        runaway_g,
    };
    let mut pours = Vec::with_capacity(poured.len());
    for (index, coat, mix) in poured {
        pours.push(bench.pour(index, coat, mix, notes)?);
    }
    notes.extend(bench.too_slow(coats, &pours));
    let wanted_min = settings.times.pour_min;
    Ok(Some(Pours {
        greatest_mix_g: greatest_mass_g(&calibration, CUP_MM, wanted_min, &room_c)?,
        runaway_g,
        least_mix_g: mixing::least_mix_g(&settings.resin, settings.scale, mixing::TOLERANCE),
        waits,
        pours,
        pour_clock_min,
        calibration,
    }))
}
