//! What a tape said of a part against the wall that was made of it.

use crate::PartShape;
use crate::family::{Family, family};
use crate::surface::Surface;
use piece::{Diagnostic, FieldPath, Form, Measure, Part, PartRole, Piece, Run};
use std::f64::consts::TAU;

/// A reading that stands out from its neighbours by less than this much of girth is none of its own,
/// mm: a tape laid on askew gives as much (common practice, no source).
const LONE_MM: f64 = 4.0;

/// A part as measured.
#[derive(Debug, Clone, PartialEq)]
pub struct Measured {
    /// Its family and what of its sizes says so; only of bodies.
    pub family: Option<(Family, String)>,
    /// Each reading, from the start down.
    pub readings: Vec<Reading>,
    /// Each band, from the start down.
    pub bands: Vec<MeasuredBand>,
}

/// A reading against the wall.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Reading {
    /// Distance along the wall from the start, mm.
    pub along_mm: f64,
    /// Height above the lowest point of the part, mm.
    pub z_mm: f64,
    /// Radius of the wall there, mm.
    pub radius_mm: f64,
    /// How far the wall is outside of the reading, mm of radius; negative inside.
    pub off_mm: f64,
    /// The reading can tell no more than half of this, mm of radius; 0 where it is taken as exact.
    pub step_mm: f64,
}

/// A band of the bare wall.
#[derive(Debug, Clone, PartialEq)]
pub struct MeasuredBand {
    /// Its name.
    pub name: String,
    /// Start and end along the wall, mm.
    pub along_mm: (f64, f64),
    /// Radius at start and end, mm.
    pub radius_mm: (f64, f64),
    /// Height, mm.
    pub height_mm: f64,
    /// It is one cone, cylinder or level ring.
    pub straight: bool,
    /// Angle of the wall against the axis, radians: positive where it narrows on the way down. Of a
    /// smooth band, of the line between its ends.
    pub lean_rad: f64,
}

/// Leaning less than this, degrees, a straight band is told as upright, and more than the second as
/// level.
const UPRIGHT_LEVEL_DEG: (f64, f64) = (0.005, 89.9);

impl MeasuredBand {
    /// How it is formed in a word; `None` where it is a cone, of which there is more to tell.
    pub fn form(&self) -> Option<&'static str> {
        let lean_deg = self.lean_rad.to_degrees().abs();
        match self.straight {
            false => Some("smooth"),
            true if lean_deg < UPRIGHT_LEVEL_DEG.0 => Some("upright"),
            true if lean_deg > UPRIGHT_LEVEL_DEG.1 => Some("level"),
            true => None,
        }
    }
}

/// What was measured of a part; `None` of a flat one.
pub fn measured(part: &Part, shape: &PartShape) -> Option<Measured> {
    let (Form::Revolved(measures), Surface::Revolved(wall)) = (&part.form, &shape.surface) else {
        return None;
    };
    let reading = |measure: &Measure| Reading {
        along_mm: measure.along_mm,
        z_mm: wall.z_mm(measure.along_mm),
        radius_mm: wall.radius_mm(measure.along_mm),
        off_mm: wall.radius_mm(measure.along_mm) - measure.radius_mm,
        step_mm: measure.radius_step_mm,
    };
    let bands = shape.surface.bands().iter().map(|band| {
        let (start_mm, end_mm) = band.along_mm;
        let (from_mm, to_mm) = (wall.radius_mm(start_mm), wall.radius_mm(end_mm));
        let height_mm = wall.z_mm(start_mm) - wall.z_mm(end_mm);
        MeasuredBand {
            name: band.name.clone(),
            along_mm: band.along_mm,
            radius_mm: (from_mm, to_mm),
            height_mm,
            straight: band.straight,
            lean_rad: libm::atan2(from_mm - to_mm, height_mm),
        }
    });
    let body = part.role == PartRole::Body;
    Some(Measured {
        family: body.then(|| family(part, &shape.surface)).flatten(),
        readings: measures.iter().map(reading).collect(),
        bands: bands.collect(),
    })
}

/// Warns of a reading on a smooth wall that stands out by itself: a bulge or dent of one point between
/// neighbours that bend the other way is most often a slip of the tape.
pub(crate) fn lone_readings(piece: &Piece) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    for (index, part) in piece.parts.iter().enumerate() {
        let Form::Revolved(measures) = &part.form else { continue };
        let path = FieldPath::root().key("part").index(index).key("revolved");
        for at in 2..measures.len().saturating_sub(2) {
            let around = &measures[at - 2..=at + 2];
            if around[1..].iter().any(|measure| measure.run != Run::Smooth)
                || around[1..4].iter().any(|measure| measure.crease)
            {
                continue;
            }
            let [before, here, after] = [1, 2, 3].map(|k| out_mm(&around[k - 1..=k + 1]));
            let lone = before * here < 0.0
                && here * after < 0.0
                && here.abs() > before.abs().max(after.abs());
            let girth_mm = TAU * here;
            if lone && girth_mm.abs() > LONE_MM {
                let message = format!(
                    "the reading at {:.0} mm is {:.0} mm of girth {} than those above and below it let expect",
                    measures[at].along_mm,
                    girth_mm.abs(),
                    if girth_mm > 0.0 { "more" } else { "less" }
                );
                notes.push(Diagnostic::warning(path.index(at), message).hint(
                    "Measure there again with the tape level; a ridge that is really there wants a reading on either side of it.",
                ));
            }
        }
    }
    notes
}

/// How far the middle one of three readings lies outside the line between the others, mm of radius.
fn out_mm(three: &[Measure]) -> f64 {
    let (a, b, c) = (&three[0], &three[1], &three[2]);
    let share = (b.along_mm - a.along_mm) / (c.along_mm - a.along_mm);
    b.radius_mm - (a.radius_mm + share * (c.radius_mm - a.radius_mm))
}
