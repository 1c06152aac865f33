//! Places along a wall and heights on it, brought to mm on the part that they stand on.
//!
//! A share of the wall is a share of its length along the tape, from the first reading to the last, so
//! that no curve needs to be known.

use super::zones::LARGEST_MM;
use super::{Bench, mm};
use crate::file::places::{End, Place, Reach};
use crate::{FieldPath, Form};

/// What places along a part are counted on.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(super) enum Wall {
    /// A wall that goes round, so long.
    Round {
        /// From its first reading to its last, mm.
        long_mm: f64,
    },
    /// A flat part has none.
    Flat,
    /// Its part is not known, or its readings are told to be wrong.
    Unknown,
}

impl Wall {
    pub(super) fn of(form: Option<&Form>) -> Self {
        match form {
            Some(Form::Flat(_)) => Self::Flat,
            Some(Form::Revolved(measures)) => match measures.last() {
                Some(last) if last.along_mm > 0.0 && last.along_mm <= LARGEST_MM => {
                    Self::Round { long_mm: last.along_mm }
                }
                _ => Self::Unknown,
            },
            None => Self::Unknown,
        }
    }

    pub(super) fn is_flat(self) -> bool {
        self == Self::Flat
    }
}

/// What shares of a height are shares of.
#[derive(Debug, Clone, Copy)]
pub(super) struct Heights {
    /// `band` or `wall`.
    what: &'static str,
    /// How high it is, mm; `None` where there is none or it is not known.
    high_mm: Option<f64>,
    flat: bool,
}

impl Heights {
    /// Of the wall.
    pub(super) fn of_wall(wall: Wall) -> Self {
        let high_mm = match wall {
            Wall::Round { long_mm } => Some(long_mm),
            Wall::Flat | Wall::Unknown => None,
        };
        Self { what: "wall", high_mm, flat: wall.is_flat() }
    }

    /// Of the band between these two mean distances from the rim, or of the wall where there is none.
    pub(super) fn of_band(band_mm: Option<(f64, f64)>, wall: Wall) -> Self {
        match band_mm {
            Some((from, to)) => {
                Self { what: "band", high_mm: (to > from).then_some(to - from), flat: false }
            }
            None => Self::of_wall(wall),
        }
    }

    /// A height in mm; complained about only if it is no share that can be.
    pub(super) fn mm(self, reach: Reach, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
        let share = match reach {
            Reach::Mm(length_mm) => return length_mm,
            Reach::Share(share) => share,
        };
        // Something harmless where the complaint is about something else.
        let stand_in_mm = 1.0;
        if self.flat {
            bench.error_hint(
                path,
                format!("{} is a share of a height, but the part is flat", per_cent(share)),
                "write it as a length, such as \"20 mm\"",
            );
            return stand_in_mm;
        }
        if share > 1.0 {
            bench.error_hint(
                path,
                format!("{} of the {} is more than all of it", per_cent(share), self.what),
                "a share of a height is above 0 % to 100 %",
            );
            return stand_in_mm;
        }
        self.high_mm.map_or(stand_in_mm, |high_mm| share * high_mm)
    }
}

/// Distance from the rim, mm (on a flat part: down from the centre).
pub(super) fn along_mm(place: Place, wall: Wall, path: &FieldPath, bench: &mut Bench<'_>) -> f64 {
    match (wall, place.from, place.reach) {
        (Wall::Flat, None, Reach::Mm(typed_mm)) => {
            bench.reach_mm(path, "the distance from the centre", typed_mm, LARGEST_MM)
        }
        (Wall::Flat, _, _) => {
            let message =
                format!("`{}` is a place along a wall, but the part is flat", shown(place));
            bench.error_hint(
                path,
                message,
                "write how far below the centre it lies, such as \"5 mm\"",
            );
            0.0
        }
        (_, None | Some(End::Rim), Reach::Mm(typed_mm)) => {
            bench.margin_mm(path, "the distance from the rim", typed_mm, LARGEST_MM)
        }
        (_, Some(End::Foot), Reach::Mm(typed_mm)) => {
            bench.margin_mm(path, "the distance from the foot", typed_mm, LARGEST_MM);
            let Wall::Round { long_mm } = wall else { return 0.0 };
            if typed_mm > long_mm {
                let message = format!(
                    "`{}` lies {} above the rim, since the wall is {} long",
                    shown(place),
                    mm(typed_mm - long_mm),
                    mm(long_mm)
                );
                bench.error_hint(path, message, "move it down, or count it from the rim");
            }
            // A negative one is complained about already.
            (long_mm - typed_mm).clamp(0.0, long_mm)
        }
        (_, from, Reach::Share(share)) => {
            if share > 1.0 {
                let past = if from == Some(End::Foot) { "above the rim" } else { "past the foot" };
                bench.error_hint(
                    path,
                    format!("`{}` lies {past}", shown(place)),
                    "100 % is the whole wall; write a place from 0 % to 100 %",
                );
            }
            let Wall::Round { long_mm } = wall else { return 0.0 };
            let share = if from == Some(End::Foot) { 1.0 - share } else { share };
            (share * long_mm).clamp(0.0, long_mm)
        }
    }
}

/// Whether a place moves when the wall is longer or shorter.
pub(super) fn moves(place: Place) -> bool {
    place.from == Some(End::Foot) || matches!(place.reach, Reach::Share(_))
}

/// A place as it may be typed.
fn shown(place: Place) -> String {
    let reach = match place.reach {
        Reach::Mm(typed_mm) => mm(typed_mm),
        Reach::Share(share) => per_cent(share),
    };
    match place.from {
        None => reach,
        Some(End::Rim) => format!("{reach} from rim"),
        Some(End::Foot) => format!("{reach} from foot"),
    }
}

/// A share for a message, without needless digits.
pub(crate) fn per_cent(share: f64) -> String {
    format!("{} %", (share * 1e4).round() / 1e2)
}
