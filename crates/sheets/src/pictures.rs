//! Everything that is drawn of the piece in space: the 3D file, the portrait, the four sides, and
//! the same pictures for the workbook.

use crate::folder::failed;
use crate::pixels::packed;
use crate::{Plan, SheetError, views, workbook};
use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
use picture::sides::Sides;
use picture::{Image, Scene};
use serde_json::Value;
use std::panic::resume_unwind;
use std::thread;

/// Pixels of `preview.png`.
const PREVIEW: (usize, usize) = (1000, 1250);
/// Pixels of the picture of an option: 48 mm wide on paper at 250 dots to the inch.
const SMALL: (usize, usize) = (480, 600);
/// How hard `preview.png` is packed, of 9.
const PNG_LEVEL: u8 = 2;
/// Quality of the pictures in the workbook, of 100.
const JPEG_QUALITY: u8 = 92;

/// Files for the workbook, by name.
type Files = Vec<(String, Vec<u8>)>;

/// What comes of the piece in space.
pub(crate) struct Pictures {
    /// `piece.glb`.
    pub(crate) glb: Vec<u8>,
    /// `preview.png`.
    pub(crate) preview: Result<Vec<u8>, SheetError>,
    /// `views.png`; `None` for a piece of plates alone.
    pub(crate) views: Option<Result<Vec<u8>, SheetError>>,
    /// What the pages of the workbook ask for.
    pub(crate) paper: Result<Files, SheetError>,
}

impl Pictures {
    /// `None` when no longer `going`.
    pub(crate) fn of(plan: &Plan, going: &(dyn Fn() -> bool + Sync)) -> Option<Self> {
        let scene = picture::build_scene(&plan.piece, &plan.shape, &plan.stones);
        if !going() {
            return None;
        }
        thread::scope(|scope| {
            let sides =
                workbook::has_sides(plan).then(|| scope.spawn(|| drawn_sides(plan, &scene)));
            let image = picture::render(&scene, PREVIEW.0, PREVIEW.1);
            if !going() {
                return None;
            }
            let preview = png(&image);
            let portrait = paper("preview.jpg".to_owned(), &image);
            if !going() {
                return None;
            }
            let glb = crate::glb(&scene, &plan.piece.title);
            let sides =
                sides.map(|sides| sides.join().unwrap_or_else(|panic| resume_unwind(panic)));
            let (views, on_paper) = match sides {
                Some((views, on_paper)) => (Some(views), on_paper),
                None => (None, Ok(vec![(SIDES.to_owned(), Value::Null.to_string().into_bytes())])),
            };
            let paper = portrait.and_then(|portrait| {
                let mut files = on_paper?;
                files.push(portrait);
                Ok(files)
            });
            Some(Self { glb, preview, views, paper })
        })
    }
}

/// A small picture of the finished piece for a quote.
///
/// # Errors
/// It could not be packed.
pub(crate) fn portrait(plan: &Plan) -> Result<Vec<u8>, SheetError> {
    let scene = picture::build_scene(&plan.piece, &plan.shape, &plan.stones);
    let image = picture::render(&scene, SMALL.0, SMALL.1);
    paper("quote.pdf".to_owned(), &image).map(|(_, bytes)| bytes)
}

/// What the workbook's page of the four sides is filled with.
const SIDES: &str = "sides.json";

/// `views.png`, and the sides for the workbook.
fn drawn_sides(
    plan: &Plan,
    scene: &Scene,
) -> (Result<Vec<u8>, SheetError>, Result<Files, SheetError>) {
    let sides = Sides::of(scene);
    let files = sides.views.iter().map(|(side, _, image)| paper(workbook::side_file(*side), image));
    let files = files.collect::<Result<Files, SheetError>>().map(|mut files| {
        let about = workbook::pictures(plan, &sides).to_string();
        files.push((SIDES.to_owned(), about.into_bytes()));
        files
    });
    (views::views_png(&plan.piece.title, &sides), files)
}

/// A picture for paper: what a PDF takes in as it is, where a PNG is unpacked and packed anew.
fn paper(name: String, image: &Image) -> Result<(String, Vec<u8>), SheetError> {
    let mut bytes = Vec::new();
    let (width, height) = (image.width as u32, image.height as u32);
    JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY)
        .encode(&image.rgb, width, height, ExtendedColorType::Rgb8)
        .map_err(|source| failed("workbook.pdf", std::io::Error::other(source)))?;
    Ok((name, bytes))
}

fn png(image: &Image) -> Result<Vec<u8>, SheetError> {
    packed(&image.rgb, (image.width as u32, image.height as u32), Some(PNG_LEVEL))
        .map_err(|source| failed("preview.png", std::io::Error::other(source)))
}
