//! How film lies on a wall that is curved both ways, and what is told of it.

use piece::lengths::show;
use piece::{Diagnostic, FieldPath, Settings, Zone};
use shape::film::Strain;
use std::f64::consts::{PI, TAU};

/// How the film of a zone lies where the wall is curved both ways.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct FilmLie {
    /// That of the shape that is strained most, as it is cut.
    pub strain: Strain,
    /// Relief cuts in one cup's film: slits and cuts right through.
    pub cuts: usize,
    /// Widest wedge that slits take out of the film, mm.
    pub wedge_mm: f64,
}

impl FilmLie {
    /// The worst of two.
    #[must_use]
    pub(crate) fn with(self, other: Self) -> Self {
        let worse = if other.strain.taut() > self.strain.taut() { other } else { self };
        Self {
            strain: worse.strain,
            cuts: self.cuts + other.cuts,
            wedge_mm: self.wedge_mm.max(other.wedge_mm),
        }
    }

    /// The same with `around` counted from the front instead of from an angle.
    #[must_use]
    pub(crate) fn about_front(mut self, centre: f64) -> Self {
        for at in [&mut self.strain.stretch_at, &mut self.strain.squeeze_at] {
            let around = at.around + centre;
            at.around = around - TAU * ((around - PI) / TAU).ceil();
        }
        self
    }
}

/// A share in per cent, for people: `4.3 %`, and two digits below 1 %.
fn per_cent(share: f64) -> String {
    let digits = if share < 0.00995 { 2 } else { 1 };
    format!("{:.digits$} %", 100.0 * share)
}

/// Film that would have to stretch more than it bears.
pub(crate) fn strained(
    zone: &Zone,
    lie: &FilmLie,
    relief: bool,
    settings: &Settings,
    path: &FieldPath,
) -> Option<Diagnostic> {
    let (strain, limit) = (&lie.strain, settings.vinyl.stretch);
    if strain.taut() <= limit {
        return None;
    }
    let place = |at: shape::SurfacePoint| {
        format!(
            "{} along the wall, {:.0} deg round",
            show(at.along_mm, settings.lengths),
            at.around.to_degrees()
        )
    };
    let message = format!(
        "the film of `{}` lies on a wall that is curved both ways: laid evenly it is stretched by {} (at {}) and squeezed by {} (at {}), laid without creases it stretches by {}; your film bears {}",
        zone.name,
        per_cent(strain.stretch),
        place(strain.stretch_at),
        per_cent(strain.squeeze),
        place(strain.squeeze_at),
        per_cent(strain.taut()),
        per_cent(limit)
    );
    let (key, hint) = if relief {
        (
            "relief",
            "More cuts than a hand can lay would be needed: split it in several zones, or make it smaller.",
        )
    } else {
        (
            "vinyl",
            "Write `relief = true` in its `vinyl`, and it is cut so that it lies; or make it smaller, or split it in several zones.",
        )
    };
    let at = if key == "vinyl" { path.key("vinyl") } else { path.key("vinyl").key(key) };
    Some(
        Diagnostic::warning(at, message)
            .hint(hint)
            .hint("What your film bears is `stretch` of `[vinyl]` in the studio file; cast film laid warm bears more than calendered film laid cold."),
    )
}
