//! Which file of the folder comes from where, written in order.

use crate::drawing::{Drawing, Letters};
use crate::pixels::packed;
use crate::{Plan, SheetError, calendar, cut, summary, tables, typeset, unrolled, workbook};
use image::ExtendedColorType;
use image::codecs::jpeg::JpegEncoder;
use serde_json::json;
use std::collections::BTreeMap;
use std::fs;
use std::panic::resume_unwind;
use std::path::Path;
use std::thread::{self, ScopedJoinHandle};

/// Pixels of `preview.png`.
const PREVIEW: (usize, usize) = (1000, 1250);

/// How hard `preview.png` is packed, of 9.
const PNG_LEVEL: u8 = 2;

/// Quality of the picture on the workbook's cover, of 100.
const JPEG_QUALITY: u8 = 92;

/// White round the drawing on the page of a wrap, mm: most printers leave 3 to 6 mm bare.
const WRAP_MARGIN_MM: f64 = 10.0;

/// What every wrap says of itself.
const WRAP_ABOUT: &str = "True size in mm: one user unit is 1 mm. Each zone is drawn on the surface as it has grown when \
     the zone goes on; all line up at the front.";

/// Makes ready what every folder needs: worth a thread of its own while the plan is worked out.
pub fn prepare() {
    picture::prepare();
    typeset::prepare();
}

/// Writes every file of a plan into an empty folder that exists, and returns their names.
/// `progress` is told the name of the file it begins and how many are done of how many; it stops
/// the work by returning false.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_sheets(
    plan: &Plan,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    thread::scope(|scope| {
        // The picture takes as long as all drawings: it is made beside them.
        let picture = scope.spawn(|| picture(plan));
        write_beside(picture, plan, folder, progress)
    })
}

/// The piece in space and its picture.
struct Picture {
    glb: Vec<u8>,
    png: Result<Vec<u8>, png::EncodingError>,
    jpeg: Result<Vec<u8>, image::ImageError>,
}

fn picture(plan: &Plan) -> Picture {
    let scene = picture::build_scene(&plan.piece, &plan.shape, &plan.stones);
    let image = picture::render(&scene, PREVIEW.0, PREVIEW.1);
    Picture { glb: crate::glb(&scene, &plan.piece.title), png: png(&image), jpeg: jpeg(&image) }
}

/// Writes every file, with the picture's when it is ready.
fn write_beside(
    picture: ScopedJoinHandle<'_, Picture>,
    plan: &Plan,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let letters = Letters::new();
    let cuts = cut::cut_files(plan);
    let wraps = plan.piece.parts.len();
    let mut desk = Desk { folder, done: Vec::new(), of: 10 + cuts.len() + 2 * wraps, progress };
    if plan.timetable.is_some() {
        desk.of += 1;
    }

    desk.file("stones.csv", || Ok(tables::stones_csv(plan)))?;
    desk.file("zones.csv", || Ok(tables::zones_csv(plan)))?;
    desk.file("coats.csv", || Ok(tables::coats_csv(plan)))?;
    desk.file("steps.csv", || Ok(tables::steps_csv(plan)))?;
    desk.file("bill.csv", || Ok(tables::bill_csv(plan)))?;
    desk.file("price.csv", || Ok(tables::price_csv(plan)))?;
    if let Some(calendar) = calendar::calendar_ics(plan) {
        desk.file("calendar.ics", || Ok(calendar))?;
    }
    for (index, part) in plan.piece.parts.iter().enumerate() {
        let drawing = unrolled::wrap_drawing(plan, index, &letters);
        let title = format!("{}: {}, unrolled", plan.piece.title, part.name);
        desk.file(&format!("wrap-{}.svg", part.name), || {
            Ok(drawing.svg(&title, WRAP_ABOUT).into_bytes())
        })?;
        let name = format!("wrap-{}.pdf", part.name);
        desk.file(&name, || wrap_pdf(&name, &title, &plan.settings.studio, &drawing))?;
    }
    for (name, text) in cuts {
        desk.file(&name, || Ok(text.into_bytes()))?;
    }
    let contents = workbook::contents(plan, &letters);
    let Picture { glb, png, jpeg } = picture.join().unwrap_or_else(|panic| resume_unwind(panic));
    desk.file("piece.glb", || Ok(glb))?;
    let preview = png.map_err(|source| failed("preview.png", std::io::Error::other(source)))?;
    desk.file("preview.png", || Ok(preview))?;
    desk.file("workbook.pdf", || {
        let cover = jpeg.map_err(|source| failed("workbook.pdf", std::io::Error::other(source)))?;
        workbook::workbook_pdf(contents, cover)
    })?;
    desk.file("summary.json", || Ok(summary::summary_json(plan)))?;
    Ok(desk.done)
}

/// The folder under way.
struct Desk<'a> {
    folder: &'a Path,
    done: Vec<String>,
    of: usize,
    progress: &'a mut dyn FnMut(&str, usize, usize) -> bool,
}

impl Desk<'_> {
    /// Makes and writes one file, unless the caller has had enough.
    fn file(
        &mut self,
        name: &str,
        make: impl FnOnce() -> Result<Vec<u8>, SheetError>,
    ) -> Result<(), SheetError> {
        if !(self.progress)(name, self.done.len(), self.of) {
            return Err(SheetError::Stopped);
        }
        let bytes = make()?;
        fs::write(self.folder.join(name), bytes).map_err(|source| failed(name, source))?;
        self.done.push(name.to_owned());
        Ok(())
    }
}

pub(crate) fn failed(name: &str, source: std::io::Error) -> SheetError {
    SheetError::Write { file: name.to_owned(), source }
}

/// A wrap on one page of its own size.
fn wrap_pdf(
    name: &str,
    title: &str,
    studio: &str,
    drawing: &Drawing,
) -> Result<Vec<u8>, SheetError> {
    let view = drawing.bounds().grown(WRAP_MARGIN_MM);
    let data = json!({
        "title": title,
        "studio": studio,
        "width_mm": view.size().x,
        "height_mm": view.size().y,
    });
    let files = BTreeMap::from([
        ("data.json".to_owned(), data.to_string().into_bytes()),
        ("wrap.svg".to_owned(), drawing.tile(view).into_bytes()),
    ]);
    typeset::pdf(name, "wrap-sheet.typ", files)
}

/// The picture for paper: what a PDF takes in as it is, where a PNG is unpacked and packed anew.
fn jpeg(image: &picture::Image) -> Result<Vec<u8>, image::ImageError> {
    let mut bytes = Vec::new();
    let (width, height) = (image.width as u32, image.height as u32);
    JpegEncoder::new_with_quality(&mut bytes, JPEG_QUALITY).encode(
        &image.rgb,
        width,
        height,
        ExtendedColorType::Rgb8,
    )?;
    Ok(bytes)
}

fn png(image: &picture::Image) -> Result<Vec<u8>, png::EncodingError> {
    packed(&image.rgb, (image.width as u32, image.height as u32), Some(PNG_LEVEL))
}
