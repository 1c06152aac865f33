//! Art on the surface: drawings scaled, turned and laid round a part.

use crate::boolean::{Loop, Plane, Region};
use crate::copies::rows;
use crate::ink::{Cut, Ink, Size, ink};
use crate::layers::{Layer, Mark};
use crate::lie::{laid, middle_scale};
use crate::reach::{check_corners, check_outside, check_plate};
use crate::watch::Watch;
use crate::{Surface, lettering, svg, traced};
use glam::DVec2;
use kurbo::BezPath;
use piece::{Art, ArtSize, Diagnostic, FieldPath, Lie, PlacedArt};
use std::f64::consts::TAU;
use std::rc::Rc;

/// One filled path of a drawing, y downwards.
#[derive(Debug, Clone)]
pub(crate) struct Filled {
    pub(crate) path: BezPath,
    pub(crate) even_odd: bool,
    /// What it is clipped to: each is a union of paths, and all of them apply. Many paths share one.
    pub(crate) clips: Vec<Rc<Vec<Filled>>>,
    /// What tells to which layers it belongs.
    pub(crate) mark: Mark,
    /// What single stones follow.
    pub(crate) spine: Spine,
}

/// What single stones follow in a filled path.
#[derive(Debug, Clone)]
pub(crate) enum Spine {
    /// The middle between its sides.
    Middle,
    /// The line whose stroke it is.
    Path(BezPath),
    /// Nothing: it is the inside of such a stroke.
    Nothing,
}

impl Filled {
    /// A path that nothing clips and that belongs to no layer, filled by the non-zero rule.
    pub(crate) fn plain(path: BezPath) -> Self {
        Self {
            path,
            even_odd: false,
            clips: Vec::new(),
            mark: Mark::default(),
            spine: Spine::Middle,
        }
    }
}

/// A drawing in its own units, y downwards.
#[derive(Debug, Clone, Default)]
pub(crate) struct Drawing {
    pub(crate) filled: Vec<Filled>,
    /// Height of a capital H, for lettering; in a line it stands on the baseline y = 0.
    pub(crate) capital: Option<f64>,
    /// Letters that stand below each other: there is no one baseline.
    pub(crate) stacked: bool,
}

/// The part that art is laid on.
pub(crate) struct Place<'a> {
    pub(crate) plane: &'a Plane,
    pub(crate) surface: &'a Surface,
    /// The whole part.
    pub(crate) part: &'a Region,
}

/// Art at its size on a flat sheet, neither mirrored nor turned.
pub(crate) struct Drawn {
    pub(crate) ink: Ink,
    /// The paths that it is drawn with.
    pub(crate) paths: Vec<Filled>,
    /// Height of a capital, for lettering, mm.
    pub(crate) capital_mm: Option<f64>,
}

/// Path of the art in a zone with this path.
pub(crate) fn path_of(art: &PlacedArt, zone: &FieldPath) -> FieldPath {
    zone.key(if matches!(art.art, Art::Lettering { .. }) { "lettering" } else { "art" })
}

/// The region that placed art covers, and the art as it is drawn. `at` is the path of the art.
///
/// # Errors
/// What is wrong with it; nothing once `watch` is stopped.
pub(crate) fn placed(
    art: &PlacedArt,
    place: &Place,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<(Region, Drawn), Vec<Diagnostic>> {
    let drawn = inked(art, place.surface, at, watch)?;
    let mut ink = drawn.ink.clone();
    turn(ink.loops.iter_mut().flatten(), art);
    let rows = rows(art, place.surface, at)?;
    let mut loops: Vec<Loop> = Vec::new();
    let mut wrong = Vec::new();
    for (index, row) in rows.iter().enumerate() {
        let flat = laid(&ink, art.lie, row.along_mm, place.surface);
        check_corners(&flat, rows.iter().map(|row| row.around.len()).sum(), at)?;
        let row_at = if index == 0 { at.clone() } else { at.key("rows") };
        if let Err(mut found) = check_outside(&flat, row, place, at, &row_at) {
            wrong.append(&mut found);
            break;
        }
        for around in &row.around {
            loops.extend(flat.iter().map(|one| {
                one.iter()
                    .map(|p| place.plane.corner(around + p.around, row.along_mm + p.along_mm))
                    .collect::<Loop>()
            }));
        }
    }
    if !wrong.is_empty() {
        return Err(wrong);
    }
    let region = place.plane.wrapped(&loops);
    if place.plane.half_turn.is_none() {
        check_plate(&region, place, at, watch)?;
    }
    Ok((region, drawn))
}

/// Art as it is drawn.
pub(crate) fn inked(
    art: &PlacedArt,
    surface: &Surface,
    at: &FieldPath,
    watch: &mut Watch<'_>,
) -> Result<Drawn, Vec<Diagnostic>> {
    let (drawing, layer) = drawn(art, at)?;
    let cut = Cut { size: size(art, surface), layer: layer.as_ref(), least_mm: least_mm(art) };
    let mut ink = ink(&drawing, cut, at, watch)?;
    if let Some(outline) = art.outline {
        ink = ink.outlined(outline);
    }
    // Drawings are scaled evenly.
    let scale = ink.to_mm.as_coeffs()[0];
    let capital_mm = drawing.capital.map(|capital| capital * scale);
    Ok(Drawn { ink, paths: drawing.filled, capital_mm })
}

/// The drawing of art in its own units, and which layer of it is taken. `at` is the path of the art.
pub(crate) fn drawn(
    art: &PlacedArt,
    at: &FieldPath,
) -> Result<(Drawing, Option<Layer>), Vec<Diagnostic>> {
    let drawing = match &art.art {
        Art::Path(data) => {
            svg::from_path_data(data, &at.key("path")).map_err(|wrong| vec![wrong])?
        }
        Art::Svg { file, text, .. } => {
            svg::from_file(file, text, &at.key("file")).map_err(|wrong| vec![wrong])?
        }
        Art::Traced(tracing) => traced::drawing(tracing, at).map_err(|wrong| vec![wrong])?,
        Art::Lettering { text, font } => {
            lettering::drawing(text, font, art.lie == Lie::Column, at)?
        }
    };
    let layer = match &art.art {
        Art::Svg { layer: Some(layer), file, .. } => {
            let at = at.key("layer");
            Some(Layer::find(layer, &drawing.filled, file, &at).map_err(|wrong| vec![wrong])?)
        }
        _ => None,
    };
    Ok((drawing, layer))
}

/// What art is scaled to.
pub(crate) fn size(art: &PlacedArt, surface: &Surface) -> Size {
    match art.size {
        ArtSize::WidthMm(width) => Size::Width(width),
        ArtSize::HeightMm(height) => Size::Height(height),
        ArtSize::RoundShare(share) => {
            Size::Width(share * TAU * middle_scale(surface, art.along_mm))
        }
    }
}

/// Width of the smallest islands and holes that are kept, mm.
fn least_mm(art: &PlacedArt) -> f64 {
    match &art.art {
        Art::Traced(tracing) => tracing.least_mm,
        _ => 0.0,
    }
}

/// Mirrors, then turns.
pub(crate) fn turn<'a>(places: impl Iterator<Item = &'a mut DVec2>, art: &PlacedArt) {
    let (sin, cos) = (libm::sin(art.turn_rad), libm::cos(art.turn_rad));
    for point in places {
        let across = if art.mirror { -point.x } else { point.x };
        // y grows downwards, so this turns clockwise for one who looks at it.
        *point = DVec2::new(across * cos - point.y * sin, across * sin + point.y * cos);
    }
}
