//! Strokes of art as lines for single stones: the middle of letters and filled shapes, and the lines that
//! a drawing gives itself.
//!
//! Read first: `axis.rs` (from an outline to its middle), then `knots.rs` (junctions and corners). What
//! comes out is laid on the part, and the zone grown about it, in `ribbon.rs`.

mod axis;
mod crowd;
mod given;
mod join;
mod knots;
mod network;
mod outline;
mod readable;
mod ribbon;
mod short;
mod stub;

pub(crate) use readable::readable;
pub(crate) use ribbon::placed;

use crate::Surface;
use crate::art::{Drawn, Filled, Spine, drawn, inked, size};
use crate::flatten::polylines;
use crate::ink::{Size, TOLERANCE_MM, covered};
use crate::simpler::simpler;
use crate::watch::Watch;
use glam::DVec2;
use kurbo::{Affine, BezPath, Shape as _};
use network::Network;
use outline::Outline;
use piece::{Art, Diagnostic, FieldPath, PlacedArt};

/// How finely outlines are followed, as a share of a stone and its gap.
const FINE: f64 = 0.03;
/// Art is tried larger in such steps, up to about six times as large, then once between the last two.
const STEP: f64 = 1.06;
const MOST_STEPS: u32 = 30;
/// More corners than this are no lines for single stones.
const MOST_CORNERS: usize = 20_000;

/// The strokes of art at its size on a flat sheet, neither mirrored nor turned.
pub(crate) struct Strokes {
    /// Lines that the drawing gives itself.
    given: Vec<Vec<DVec2>>,
    network: Network,
    outline: Outline,
    /// The letters, where these are strokes of lettering.
    letters: Option<Drawn>,
}

/// Why stones along strokes cannot show them.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) enum Unreadable {
    /// They close what should stay open.
    Crowded,
    /// The strokes are too short for them.
    Short,
}

impl Strokes {
    /// `at` is the path of the art; `pitch_mm` is what a stone and its gap take.
    ///
    /// # Errors
    /// What is wrong with the art; nothing once `watch` is stopped.
    pub(crate) fn new(
        art: &PlacedArt,
        surface: &Surface,
        pitch_mm: f64,
        at: &FieldPath,
        watch: &mut Watch<'_>,
    ) -> Result<Self, Vec<Diagnostic>> {
        if let Art::Path(_) = &art.art {
            return Ok(Self::of_lines(few(path(art, surface, at)?, at)?));
        }
        let drawn_art = inked(art, surface, at, watch)?;
        if let Art::Lettering { .. } = &art.art {
            let strokes = Self::of_shapes(&drawn_art.ink.outlines(), pitch_mm);
            return Ok(Self { letters: Some(drawn_art), ..strokes });
        }
        let Drawn { ink, paths: filled, .. } = drawn_art;
        let layer = drawn(art, at)?.1;
        let taken: Vec<&Filled> = filled
            .iter()
            .filter(|one| layer.as_ref().is_none_or(|layer| layer.holds(one)))
            .collect();
        let own = taken.iter().filter_map(|one| match &one.spine {
            Spine::Path(path) => Some(ink.to_mm * path.clone()),
            Spine::Middle | Spine::Nothing => None,
        });
        let given = few(own.flat_map(|path| polylines(&path, TOLERANCE_MM)).collect(), at)?;
        if given.is_empty() {
            return Ok(Self::of_shapes(&ink.outlines(), pitch_mm));
        }
        let shapes: Vec<&Filled> =
            taken.into_iter().filter(|one| matches!(one.spine, Spine::Middle)).collect();
        let close = |mut one: Vec<DVec2>| {
            one.extend(one.first().copied());
            one
        };
        let shapes = covered(&shapes, ink.to_mm).into_iter().map(close).collect::<Vec<_>>();
        Ok(Self { given: given::split(&given), ..Self::of_shapes(&shapes, pitch_mm) })
    }

    /// The middle of shapes whose outlines repeat their first place at the end.
    fn of_shapes(outlines: &[Vec<DVec2>], pitch_mm: f64) -> Self {
        let step_mm = FINE * pitch_mm;
        Self {
            given: Vec::new(),
            network: Network::new(&axis::axis(outlines, step_mm)),
            outline: Outline::new(outlines, 4.0 * step_mm),
            letters: None,
        }
    }

    fn of_lines(lines: Vec<Vec<DVec2>>) -> Self {
        let outline = Outline::new(&[], 1.0);
        let given = given::split(&lines);
        Self { given, network: Network::default(), outline, letters: None }
    }

    /// The lines for stones that take `pitch_mm`: they meet only at their ends, which those that meet share
    /// exactly; a closed one repeats its first place at the end, and a dot is one place.
    pub(crate) fn lines(&self, pitch_mm: f64) -> Vec<Vec<DVec2>> {
        let mut lines = knots::lines(self.network.clone(), pitch_mm, &self.outline);
        lines.extend(self.given.iter().cloned());
        for line in lines.iter_mut().filter(|line| line.len() > 2) {
            let last = line.last().copied();
            *line = simpler(line, TOLERANCE_MM);
            line.extend(last);
        }
        lines
    }

    /// Ends of strokes that have no room for a stone that takes `pitch_mm`: where, and how many times as
    /// large the art must be for it.
    pub(crate) fn cut_short(&self, pitch_mm: f64) -> Vec<(DVec2, f64)> {
        knots::cut_short(self.network.clone(), pitch_mm)
    }

    /// A place where stones that take `pitch_mm` cannot show the art, if there is one, and how many times as
    /// large it must be for them to; `None` where no size helps. Nothing once `watch` is stopped.
    pub(crate) fn too_small(
        &self,
        pitch_mm: f64,
        watch: &mut Watch<'_>,
    ) -> Option<(DVec2, Unreadable, Option<f64>)> {
        let whole = self.lines(0.0);
        let radii_mm = self.network.knots.iter().map(|knot| knot.radius_mm);
        let wide_mm = 2.0 * radii_mm.fold(0.0, f64::max);
        let wrong = |times: f64| {
            let (pitch_mm, left) = (pitch_mm / times, self.lines(pitch_mm / times));
            crowd::crowded(&left, pitch_mm).map(|at| (at, Unreadable::Crowded)).or_else(|| {
                short::too_short(&whole, &left, pitch_mm, wide_mm).map(|at| (at, Unreadable::Short))
            })
        };
        let (at, why) = wrong(1.0)?;
        let mut times = 1.0;
        for _ in 0..MOST_STEPS {
            if !watch.going() {
                return None;
            }
            times *= STEP;
            if wrong(times).is_none() {
                let between = times / STEP.sqrt();
                let enough = if wrong(between).is_none() { between } else { times };
                return Some((at, why, Some(enough)));
            }
        }
        Some((at, why, None))
    }
}

/// The same lines, or a complaint about more than anyone can follow with stones.
fn few(lines: Vec<Vec<DVec2>>, at: &FieldPath) -> Result<Vec<Vec<DVec2>>, Vec<Diagnostic>> {
    let corners: usize = lines.iter().map(Vec::len).sum();
    if corners <= MOST_CORNERS {
        return Ok(lines);
    }
    let message =
        format!("the lines of this drawing have {corners} corners, more than {MOST_CORNERS}");
    Err(vec![
        Diagnostic::error(at.clone(), message).hint("Simplify its lines in a drawing program."),
    ])
}

/// The lines of path data at their size, their middle at the origin.
fn path(
    art: &PlacedArt,
    surface: &Surface,
    at: &FieldPath,
) -> Result<Vec<Vec<DVec2>>, Vec<Diagnostic>> {
    let (drawing, _) = drawn(art, at)?;
    let paths: Vec<&BezPath> = drawing.filled.iter().map(|one| &one.path).collect();
    let bounds = paths.iter().map(|path| path.bounding_box()).reduce(|a, b| a.union(b));
    let scale = bounds.map_or(f64::NAN, |bounds| match size(art, surface) {
        Size::Width(width_mm) => width_mm / bounds.width(),
        Size::Height(height_mm) => height_mm / bounds.height(),
    });
    let (Some(bounds), true) = (bounds, scale.is_finite() && scale > 0.0) else {
        let message = "the path is no line that could be brought to this size";
        return Err(vec![Diagnostic::error(at.clone(), message).hint(
            "Draw at least one line; give a level one its `width`, and an upright one its `height`.",
        )]);
    };
    let to_mm = Affine::scale(scale) * Affine::translate(-bounds.center().to_vec2());
    let lines = paths.iter().flat_map(|path| polylines(&(to_mm * (*path).clone()), TOLERANCE_MM));
    Ok(lines.filter(|line| line.len() > 1).collect())
}
