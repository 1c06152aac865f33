//! Pitches: how many of a pattern go round, and where their middles lie.

use super::MOST_SHAPES;
use super::ground::Ground;
use piece::{Diagnostic, FieldPath, Pitch};
use std::f64::consts::PI;

/// A pitch rounded by more than this share is told.
const TOLD: f64 = 0.01;

/// From one column of a pattern to the next.
pub(super) struct Columns {
    /// In units of `around`.
    pub(super) step: f64,
    /// Middles of even rows, the first at the front.
    pub(super) middles: Vec<f64>,
}

impl Columns {
    /// A multiple of `multiple` columns round the part; on a flat part as many as reach its sides.
    /// `noun` names them in messages.
    pub(super) fn new(
        pitch: Pitch,
        multiple: u32,
        noun: &str,
        ground: &Ground<'_>,
        at: &FieldPath,
        notes: &mut Vec<Diagnostic>,
    ) -> Result<Self, Diagnostic> {
        let too_many = |count: f64| {
            let message = format!("{count:.0} {noun} side by side are more than {MOST_SHAPES}");
            Err(Diagnostic::error(at.clone(), message).hint("Make them wider."))
        };
        let Some(turn) = ground.surface.period() else {
            let Pitch::Mm(step) = pitch else {
                let message = "nothing goes round a flat part";
                return Err(Diagnostic::error(at.key("round"), message).hint("Use `pitch`."));
            };
            let (left, right) = ground.around;
            let (first, last) = ((left / step).floor() - 1.0, (right / step).ceil() + 1.0);
            if last - first > MOST_SHAPES as f64 {
                return too_many(last - first);
            }
            let middles = (0..=(last - first) as u32).map(|i| (first + f64::from(i)) * step);
            // Columns are told apart by their number, so an even one comes first.
            let middles = middles.skip(usize::from(first.rem_euclid(2.0) > 0.5)).collect();
            return Ok(Self { step, middles });
        };
        let count = match pitch {
            Pitch::Round(count) => f64::from(count.max(1)),
            Pitch::Mm(pitch_mm) => {
                let girth_mm =
                    turn * ground.scale_mm(0.5 * (ground.along_mm.0 + ground.along_mm.1));
                let unit = f64::from(multiple);
                let count = (girth_mm / pitch_mm / unit).round().max(1.0) * unit;
                let rounded_mm = girth_mm / count;
                if count <= MOST_SHAPES as f64 && (rounded_mm / pitch_mm - 1.0).abs() > TOLD {
                    let message = format!(
                        "a pitch of {pitch_mm} mm does not close round {girth_mm:.1} mm; {count} {noun} are laid {rounded_mm:.2} mm apart"
                    );
                    let hint =
                        format!("Write round = {count} instead of `pitch` to have just that.");
                    notes.push(Diagnostic::warning(at.key("pitch"), message).hint(hint));
                }
                count
            }
        };
        if count > MOST_SHAPES as f64 {
            return too_many(count);
        }
        let step = turn / count;
        let middle = |i: u32| (f64::from(i) * step + PI).rem_euclid(turn) - PI;
        Ok(Self { step, middles: (0..count as u32).map(middle).collect() })
    }

    /// Middles of odd rows.
    pub(super) fn shifted(&self) -> Vec<f64> {
        self.middles.iter().map(|middle| middle + 0.5 * self.step).collect()
    }

    /// Complains about more rows of columns than anyone can make.
    pub(super) fn check(&self, rows: f64, at: &FieldPath) -> Result<(), Diagnostic> {
        let shapes = rows * self.middles.len() as f64;
        if shapes <= MOST_SHAPES as f64 {
            return Ok(());
        }
        let message = format!("this makes about {shapes:.0} shapes, more than {MOST_SHAPES}");
        Err(Diagnostic::error(at.clone(), message).hint("Make them larger or fewer."))
    }
}
