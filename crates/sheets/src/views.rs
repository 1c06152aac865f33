//! `views.png`: the piece from its four sides, each named, as one picture for the customer; and the
//! same sides for the workbook.

use crate::SheetError;
use crate::drawing::{Anchor, Drawing, INK, Ink, Layer, Letters, Mark, Trace};
use crate::pixels::packed;
use glam::{DVec2, DVec3};
use picture::Image;
use picture::sides::{Side, Sides};
use resvg::tiny_skia::{Color, Pixmap, Transform};
use resvg::usvg::{self, Tree};

/// Ground of the sheet: the sand of the page designs, sRGB.
const GROUND: [u8; 3] = [0xf3, 0xef, 0xe6];
/// White round the pictures and between them, pixels.
const MARGIN: usize = 36;
const GAP: usize = 14;
/// Height of a capital of the title and of the names, and the room that each line takes, pixels.
const TITLE: (f64, usize) = (22.0, 58);
const NAME: (f64, usize) = (14.0, 44);
/// Pictures no narrower than this, width over height, stand in two rows.
const WIDE: f64 = 0.85;
/// How hard the file is packed, of 9.
const PNG_LEVEL: u8 = 2;
/// SVG counts 96 pixels to the inch.
const PX_PER_MM: f32 = 96.0 / 25.4;

/// What a side is called.
pub(crate) fn name(side: Side) -> &'static str {
    match side {
        Side::Front => "Front",
        Side::Right => "Right side",
        Side::Back => "Back",
        Side::Left => "Left side",
    }
}

/// All sides below the title, as a PNG file.
///
/// # Errors
/// It cannot be drawn.
pub(crate) fn views_png(title: &str, sides: &Sides) -> Result<Vec<u8>, SheetError> {
    let letters = Letters::new();
    let (wide, high) = sides.size();
    let columns = if wide as f64 >= WIDE * high as f64 { 2 } else { 4 };
    let corner = |index: usize| {
        let (column, row) = (index % columns, index / columns);
        (MARGIN + column * (wide + GAP), MARGIN + TITLE.1 + row * (high + NAME.1))
    };
    let width = 2 * MARGIN + columns * wide + (columns - 1) * GAP;
    let height = 2 * MARGIN + TITLE.1 + 4 / columns * (high + NAME.1) - NAME.1 / 4;

    let mut words = Layer::new("words", "Title and names of the sides");
    let mut word = |trace: Trace| words.marks.push(Mark::path(trace, Ink::fill(INK)));
    let at = DVec2::new(MARGIN as f64, MARGIN as f64 + TITLE.0);
    let write = |capital: f64| letters.write(title, capital, Anchor::Start, at, 0.0);
    let room = (width - 2 * MARGIN) as f64 / write(TITLE.0).bounds().size().x.max(1.0);
    word(write(TITLE.0 * room.min(1.0)));
    for (index, (side, ..)) in sides.views.iter().enumerate() {
        let (left, top) = corner(index);
        let middle =
            DVec2::new(left as f64 + wide as f64 / 2.0, (top + high) as f64 + NAME.1 as f64 * 0.45);
        word(letters.write(name(*side), NAME.0, Anchor::Middle, middle, 0.0));
    }

    let mut rgb = ground(&Drawing { layers: vec![words] }, width, height)?;
    for (index, (.., image)) in sides.views.iter().enumerate() {
        lay(image, corner(index), &mut rgb, width);
    }
    packed(&rgb, (width as u32, height as u32), Some(PNG_LEVEL)).map_err(|error| refused(&error))
}

/// The sheet with its words, one pixel for each mm of the drawing.
fn ground(drawing: &Drawing, width: usize, height: usize) -> Result<Vec<u8>, SheetError> {
    let view = crate::drawing::Bounds::new(DVec2::ZERO, DVec2::new(width as f64, height as f64));
    let tree = Tree::from_data(drawing.tile(view).as_bytes(), &usvg::Options::default());
    let tree = tree.map_err(|error| refused(&error))?;
    let canvas = Pixmap::new(width as u32, height as u32);
    let mut canvas = canvas.ok_or_else(|| refused(&"no room"))?;
    let [r, g, b] = GROUND;
    canvas.fill(Color::from_rgba8(r, g, b, 255));
    let scale = Transform::from_scale(1.0 / PX_PER_MM, 1.0 / PX_PER_MM);
    resvg::render(&tree, scale, &mut canvas.as_mut());
    Ok(canvas.pixels().iter().flat_map(|at| [at.red(), at.green(), at.blue()]).collect())
}

/// Lays a picture on the sheet with its upper left corner at a place.
fn lay(image: &Image, (left, top): (usize, usize), rgb: &mut [u8], width: usize) {
    for (row, line) in image.rgb.chunks_exact(image.width * 3).enumerate() {
        let from = ((top + row) * width + left) * 3;
        rgb[from..from + line.len()].copy_from_slice(line);
    }
}

fn refused(reason: &dyn std::fmt::Display) -> SheetError {
    SheetError::Typeset { file: "views.png".to_owned(), reason: reason.to_string() }
}

/// Where in a picture quarter and half quarter turns of a level ring are seen, as shares of the
/// picture's width from the left, with their angle from the front in degrees: from the left limb of
/// the ring to the right one.
pub(crate) fn ticks(
    side: Side,
    camera: &picture::Camera,
    radius_mm: f64,
    z_mm: f64,
) -> Vec<(f64, f64)> {
    let middle = f64::from(side.degrees());
    [-90.0, -45.0, 0.0, 45.0, 90.0]
        .into_iter()
        .map(|off: f64| {
            let (sine, cosine) = libm::sincos((middle + off).to_radians());
            let place = DVec3::new(radius_mm * cosine, radius_mm * sine, z_mm);
            (camera.seen(place).0, (middle + off).rem_euclid(360.0))
        })
        .collect()
}
