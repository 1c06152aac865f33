//! Which file of the folder comes from where, written in order.

use crate::drawing::{Drawing, Letters};
use crate::pictures::Pictures;
use crate::{Plan, SheetError, calendar, cut, summary, tables, typeset, unrolled, workbook};
use core::time::Duration;
use serde_json::json;
use std::collections::BTreeMap;
use std::fs;
use std::panic::resume_unwind;
use std::path::Path;
use std::sync::atomic::{AtomicBool, Ordering};
use std::thread::{self, ScopedJoinHandle};

/// How often one asks whether to go on while the pictures are waited for.
const ASKS_EVERY: Duration = Duration::from_millis(50);

/// White round the drawing on the page of a wrap or collar, mm: most printers leave 3 to 6 mm bare.
const WRAP_MARGIN_MM: f64 = 10.0;

/// What every collar says of itself.
const COLLAR_ABOUT: &str = "True size in mm: one user unit is 1 mm. Cut along the solid lines, and the windows out; the \
     tab goes beneath the other end, which is taped on the dashed line so that the rings close.";

/// What every wrap says of itself.
const WRAP_ABOUT: &str = "True size in mm: one user unit is 1 mm. Each zone is drawn on the surface as it has grown when \
     the zone goes on; all line up at the front.";

/// Makes ready what every folder needs: worth a thread of its own while the plan is worked out.
pub fn prepare() {
    picture::prepare();
    typeset::prepare();
}

/// Writes every file of a plan into an empty folder that exists, and returns their names.
/// `progress` is told the name of the file it works on, while that takes long several times, and how
/// many are done of how many; it stops the work by returning false.
///
/// # Errors
/// The first file that could not be written, or [`SheetError::Stopped`].
pub fn write_sheets(
    plan: &Plan,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let stopped = AtomicBool::new(false);
    thread::scope(|scope| {
        // The pictures take as long as all drawings: they are made beside them.
        let pictures = scope.spawn(|| Pictures::of(plan, &|| !stopped.load(Ordering::Relaxed)));
        let written = write_beside(pictures, plan, folder, progress);
        // Nobody waits for pictures of a folder that is given up.
        stopped.store(written.is_err(), Ordering::Relaxed);
        written
    })
}

/// Writes every file, with the pictures when they are ready.
fn write_beside(
    pictures: ScopedJoinHandle<'_, Option<Pictures>>,
    plan: &Plan,
    folder: &Path,
    progress: &mut dyn FnMut(&str, usize, usize) -> bool,
) -> Result<Vec<String>, SheetError> {
    let letters = Letters::new();
    let cuts = cut::cut_files(plan);
    let wraps = plan.piece.parts.len();
    let collars = collars(plan, &letters);
    let of = 10 + cuts.len() + 2 * (wraps + collars.len());
    let mut desk = Desk::new(folder, of, progress);
    desk.of += usize::from(plan.timetable.is_some()) + usize::from(workbook::has_sides(plan));

    desk.file("stones.csv", || Ok(tables::stones_csv(plan)))?;
    desk.file("zones.csv", || Ok(tables::zones_csv(plan)))?;
    desk.file("coats.csv", || Ok(tables::coats_csv(plan)))?;
    desk.file("steps.csv", || Ok(tables::steps_csv(plan)))?;
    desk.file("bill.csv", || Ok(tables::bill_csv(plan)))?;
    desk.file("price.csv", || {
        Ok(tables::price_csv(&plan.settings, plan.bill.cost_used(), &plan.price))
    })?;
    if let Some(calendar) = calendar::calendar_ics(plan) {
        desk.file("calendar.ics", || Ok(calendar))?;
    }
    for (index, part) in plan.piece.parts.iter().enumerate() {
        desk.begins(&format!("wrap-{}.svg", part.name))?;
        let drawing = unrolled::wrap_drawing(plan, index, &letters);
        let title = format!("{}: {}, unrolled", plan.piece.title, part.name);
        let sheet =
            Sheet { stem: format!("wrap-{}", part.name), title, about: WRAP_ABOUT, drawing };
        desk.sheet(&plan.settings.studio, &sheet)?;
    }
    for sheet in &collars {
        desk.sheet(&plan.settings.studio, sheet)?;
    }
    for (name, text) in cuts {
        desk.file(&name, || Ok(text.into_bytes()))?;
    }
    // Asked until the first no.
    let mut goes_on = true;
    let contents = workbook::contents(plan, &letters, &mut || {
        goes_on = goes_on && desk.begins("workbook.pdf").is_ok();
        goes_on
    })?;
    if !goes_on {
        return Err(SheetError::Stopped);
    }
    while !pictures.is_finished() {
        desk.begins("preview.png")?;
        thread::park_timeout(ASKS_EVERY);
    }
    let pictures = pictures.join().unwrap_or_else(|panic| resume_unwind(panic));
    let Some(Pictures { glb, preview, views, paper }) = pictures else {
        return Err(SheetError::Stopped);
    };
    desk.file("piece.glb", || Ok(glb))?;
    desk.file("preview.png", || preview)?;
    if let Some(views) = views {
        desk.file("views.png", || views)?;
    }
    desk.file("workbook.pdf", || workbook::workbook_pdf(contents, paper?))?;
    desk.file("summary.json", || Ok(summary::summary_json(plan)))?;
    Ok(desk.done)
}

/// The folder under way.
pub(crate) struct Desk<'a> {
    folder: &'a Path,
    pub(crate) done: Vec<String>,
    of: usize,
    progress: &'a mut dyn FnMut(&str, usize, usize) -> bool,
}

impl<'a> Desk<'a> {
    /// Nothing done yet of so many files.
    pub(crate) fn new(
        folder: &'a Path,
        of: usize,
        progress: &'a mut dyn FnMut(&str, usize, usize) -> bool,
    ) -> Self {
        Self { folder, done: Vec::new(), of, progress }
    }

    /// Writes both files of a drawing at true size.
    fn sheet(&mut self, studio: &str, sheet: &Sheet) -> Result<(), SheetError> {
        let Sheet { stem, title, about, drawing } = sheet;
        self.file(&format!("{stem}.svg"), || Ok(drawing.svg(title, about).into_bytes()))?;
        let name = format!("{stem}.pdf");
        self.file(&name, || wrap_pdf(&name, title, studio, drawing))
    }

    /// Tells the name of a file that is worked on, and asks whether to go on.
    fn begins(&mut self, name: &str) -> Result<(), SheetError> {
        let goes_on = (self.progress)(name, self.done.len(), self.of);
        if goes_on { Ok(()) } else { Err(SheetError::Stopped) }
    }

    /// Makes and writes one file, unless the caller has had enough.
    pub(crate) fn file(
        &mut self,
        name: &str,
        make: impl FnOnce() -> Result<Vec<u8>, SheetError>,
    ) -> Result<(), SheetError> {
        self.begins(name)?;
        let bytes = make()?;
        fs::write(self.folder.join(name), bytes).map_err(|source| failed(name, source))?;
        self.done.push(name.to_owned());
        Ok(())
    }
}

/// A drawing at true size that is written as SVG and on one page of its own size.
struct Sheet {
    /// Name of both files without the ending.
    stem: String,
    title: String,
    about: &'static str,
    drawing: Drawing,
}

/// The collars of every part that has any.
fn collars(plan: &Plan, letters: &Letters) -> Vec<Sheet> {
    let parts = plan.piece.parts.iter().enumerate();
    let sheet = |(index, part): (usize, &piece::Part)| {
        let drawing = unrolled::collar_drawing(plan, index, letters)?;
        let title = format!("{}: collars for {}", plan.piece.title, part.name);
        Some(Sheet { stem: format!("collar-{}", part.name), title, about: COLLAR_ABOUT, drawing })
    };
    parts.filter_map(sheet).collect()
}

pub(crate) fn failed(name: &str, source: std::io::Error) -> SheetError {
    SheetError::Write { file: name.to_owned(), source }
}

/// A wrap or collar on one page of its own size.
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
