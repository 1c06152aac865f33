//! Paper collars: bands of paper at true size that wrap the grown wall from the rim or from the foot,
//! with a window where each decal goes.

mod draw;
mod frame;
mod marks;
mod windows;
mod words;

use crate::Plan;
use crate::drawing::{Drawing, Layer, Letters};
use crate::unrolled::Trim;
use crate::unrolled::stacked::stacked;
use draw::{bounds, drawn};
use glam::DVec2;
use shape::Surface;
use std::f64::consts::TAU;
use windows::{CLEAR_MM, Decal, Window, decals, fitted, runs_round, seam, windows};

/// Coats beneath decals of one collar differ by no more than this, mm: 0.3 mm of girth.
const SAME_MM: f64 = 0.05;
/// Paper beyond the last window, and least paper between a window and the edge that lies flush, mm.
const BORDER_MM: f64 = 12.0;
const EDGE_MM: f64 = 5.0;
/// Paper left free on either side of where a collar is closed, mm.
const SEAM_MM: f64 = 5.0;

/// Which end of the band a collar begins at.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum End {
    Start,
    Last,
}

/// A slot that lets a handle through, from it to the edge of the paper that slides over it.
struct Slot {
    around_rad: f64,
    /// Half as wide as it is, mm.
    half_mm: f64,
    along_mm: (f64, f64),
    /// Nothing holds the paper together above or below the handle.
    parts: bool,
}

impl Slot {
    /// That of a handle in paper that begins at one end of the band and reaches so far; `None` if it does
    /// not reach the handle.
    fn new(handle: &piece::Handle, end: End, (from, to): (f64, f64)) -> Option<Self> {
        let (top, bottom) = handle.along_mm;
        if top - CLEAR_MM >= to || bottom + CLEAR_MM <= from {
            return None;
        }
        let along_mm = match end {
            End::Start => (top - CLEAR_MM, to),
            End::Last => (from, bottom + CLEAR_MM),
        };
        // A strip too narrow to hold tears.
        let strip_mm = (along_mm.0 - from).max(to - along_mm.1);
        let parts = strip_mm < EDGE_MM;
        Some(Self {
            around_rad: handle.around_rad,
            half_mm: handle.width_mm / 2.0 + CLEAR_MM,
            along_mm: if parts { (from, to) } else { along_mm },
            parts,
        })
    }
}

/// A collar before it is drawn.
struct Cut<'a> {
    part: usize,
    band: usize,
    /// The part as it has grown when the decals go on.
    surface: &'a Surface,
    /// How thick the coats beneath are, mm.
    below_mm: f64,
    /// Which edge lies flush.
    end: End,
    /// From its upper to its lower edge along the bare wall, mm.
    along_mm: (f64, f64),
    windows: Vec<Window>,
    /// Where a handle stands.
    slot: Option<Slot>,
    /// What runs all round and begins where the collar ends.
    beside: Option<Decal>,
    /// Where it is closed, radians from the front.
    seam_rad: f64,
}

/// A collar.
pub(crate) struct Collar {
    /// What it is for.
    pub(crate) name: String,
    /// How to lay it on.
    pub(crate) how: String,
    /// Unrolled at true size.
    pub(crate) layers: Vec<Layer>,
    /// Where tiles may cut it.
    pub(crate) trim: Trim,
    /// Greatest error of a length, mm.
    pub(crate) error_mm: f64,
    /// What goes where, in words.
    pub(crate) places: Vec<String>,
}

/// The collars of a part; none for a plate, which its wrap fits as it is.
pub(crate) fn collars(plan: &Plan, part: usize, letters: &Letters) -> Vec<Collar> {
    cuts(plan, part).iter().map(|cut| drawn(plan, cut, DVec2::ZERO, letters)).collect()
}

/// Whether a part has any collar.
pub(crate) fn has_collars(plan: &Plan, part: usize) -> bool {
    !cuts(plan, part).is_empty()
}

/// Whether a collar shows where the film or stencil of a zone goes.
pub(crate) fn in_collar(plan: &Plan, zone: usize) -> bool {
    cuts(plan, plan.piece.zones[zone].part).iter().any(|cut| {
        let held = cut.windows.iter().flat_map(|window| &window.decals).chain(&cut.beside);
        held.into_iter().any(|decal| decal.zone == zone)
    })
}

/// All collars of a part below each other, with a ruler to check the scale by; `None` if it has none.
pub(crate) fn collar_drawing(plan: &Plan, part: usize, letters: &Letters) -> Option<Drawing> {
    let cuts = cuts(plan, part);
    if cuts.is_empty() {
        return None;
    }
    let mut number = 0;
    Some(stacked(letters, &cuts, bounds, |cut, offset| {
        let collar = drawn(plan, cut, offset, letters);
        let mut layers = collar.layers;
        number += 1;
        for layer in &mut layers {
            layer.id = format!("collar-{number}-{}", layer.id);
        }
        (format!("{}. {}", collar.name, collar.how), layers)
    }))
}

/// What a part's collars are cut for.
fn cuts(plan: &Plan, part: usize) -> Vec<Cut<'_>> {
    let surface = &plan.shape.parts[part].surface;
    if surface.period().is_none() {
        return Vec::new();
    }
    (0..surface.bands().len()).flat_map(|band| cuts_of_band(plan, part, band)).collect()
}

fn cuts_of_band(plan: &Plan, part: usize, band: usize) -> Vec<Cut<'_>> {
    let below_mm = |decal: &Decal| plan.shape.zones[decal.zone].below_mm;
    let mut all = decals(plan, part, band);
    // Stable: decals on equal coats stay in the order of work.
    all.sort_by(|a, b| below_mm(a).total_cmp(&below_mm(b)));
    let mut cuts = Vec::new();
    while let Some(first) = all.first() {
        let limit_mm = below_mm(first) + SAME_MM;
        let group: Vec<Decal> = all.extract_if(.., |decal| below_mm(decal) <= limit_mm).collect();
        let thickest = group.iter().max_by(|a, b| below_mm(a).total_cmp(&below_mm(b)));
        let Some(zone) = thickest.map(|decal| &plan.shape.zones[decal.zone]) else { continue };
        let bench = Bench { plan, part, band, surface: &zone.surface, below_mm: zone.below_mm };
        let (round, held): (Vec<_>, Vec<_>) =
            group.into_iter().partition(|decal| runs_round(decal, &zone.surface));
        cuts.extend(bench.with_windows(&held));
        cuts.extend(round.into_iter().filter_map(|decal| bench.up_to(decal)));
    }
    cuts
}

/// Where collars for one band of one thickness are cut.
struct Bench<'a> {
    plan: &'a Plan,
    part: usize,
    band: usize,
    surface: &'a Surface,
    below_mm: f64,
}

impl<'a> Bench<'a> {
    fn ends_mm(&self) -> (f64, f64) {
        self.surface.bands()[self.band].along_mm
    }

    /// One collar for the windows that are nearer to the start of the band, and one for the others.
    fn with_windows(&self, decals: &[Decal]) -> Vec<Cut<'a>> {
        let (from, to) = self.ends_mm();
        let (mut first, mut last) = (Vec::new(), Vec::new());
        for window in windows(decals, self.surface) {
            let free = (window.along_mm.0 - from, to - window.along_mm.1);
            // A strip too narrow to hold is no edge to begin at, unless the other is narrower still.
            let begins = (free.0 <= free.1 && free.0 >= EDGE_MM) || free.1 < EDGE_MM.min(free.0);
            if begins { first.push(window) } else { last.push(window) }
        }
        let down = first.iter().map(|window| window.along_mm.1).fold(from, f64::max) + BORDER_MM;
        let up = last.iter().map(|window| window.along_mm.0).fold(to, f64::min) - BORDER_MM;
        let held =
            [(End::Start, (from, down.min(to)), first), (End::Last, (up.max(from), to), last)];
        let held = held.into_iter().filter(|(.., windows)| !windows.is_empty());
        held.filter_map(|(end, along_mm, windows)| self.cut(end, along_mm, windows, None)).collect()
    }

    /// A collar that ends where something runs all round.
    fn up_to(&self, decal: Decal) -> Option<Cut<'a>> {
        let (from, to) = self.ends_mm();
        let (above, below) = (decal.along_mm.0 - from, to - decal.along_mm.1);
        let near = |mm: f64| if mm < EDGE_MM { f64::INFINITY } else { mm };
        if near(above).min(near(below)).is_infinite() {
            return None;
        }
        let (end, along_mm) = if near(above) <= near(below) {
            (End::Start, (from, decal.along_mm.0))
        } else {
            (End::Last, (decal.along_mm.1, to))
        };
        self.cut(end, along_mm, Vec::new(), Some(decal))
    }

    fn cut(
        &self,
        end: End,
        along_mm: (f64, f64),
        windows: Vec<Window>,
        beside: Option<Decal>,
    ) -> Option<Cut<'a>> {
        let radius_mm = |along_mm: f64| self.surface.around_scale_mm(along_mm).max(1.0);
        let clear_rad = SEAM_MM / radius_mm(along_mm.0).min(radius_mm(along_mm.1));
        let sheet = self.surface.sheet_over(self.band, along_mm);
        let windows = fitted(windows, self.surface, &sheet);
        let mut taken: Vec<_> = windows.iter().map(|window| window.around).collect();
        let handle = self.plan.piece.parts[self.part].handle.as_ref();
        let slot = handle.and_then(|handle| Slot::new(handle, end, along_mm));
        if let Some(slot) = &slot {
            let narrowest_mm = radius_mm(slot.along_mm.0).min(radius_mm(slot.along_mm.1));
            let half = slot.half_mm / narrowest_mm;
            taken.push((slot.around_rad - half, slot.around_rad + half));
        }
        let seam_rad = seam(&taken, clear_rad.min(TAU / 8.0))?;
        let (part, band, surface, below_mm) = (self.part, self.band, self.surface, self.below_mm);
        Some(Cut { part, band, surface, below_mm, end, along_mm, windows, slot, beside, seam_rad })
    }
}

impl Cut<'_> {
    /// What the edge that lies flush is called.
    fn flush(&self, plan: &Plan) -> &'static str {
        use piece::PartRole;
        let (start, last) = self.surface.along_range_mm();
        let role = plan.piece.parts[self.part].role;
        let edge_mm = if self.end == End::Start { self.along_mm.0 } else { self.along_mm.1 };
        match (self.end, role) {
            (End::Start, PartRole::Body) if edge_mm == start => "rim",
            (End::Start, _) if edge_mm == start => "inner edge",
            (End::Last, PartRole::Body) if edge_mm == last => "foot",
            (End::Last, _) if edge_mm == last => "lower edge",
            _ => "crease",
        }
    }

    /// Names of the zones it is for, each once, in the order of work.
    fn zones(&self, plan: &Plan) -> Vec<String> {
        let held = self.windows.iter().flat_map(|window| &window.decals).chain(&self.beside);
        let mut zones: Vec<usize> = held.map(|decal| decal.zone).collect();
        zones.sort_unstable();
        zones.dedup();
        zones.into_iter().map(|zone| plan.piece.zones[zone].name.clone()).collect()
    }

    /// How to lay it on, in words.
    fn how(&self, plan: &Plan) -> String {
        let side = if self.end == End::Start { "Upper" } else { "Lower" };
        let mut how = format!("{side} edge flush with the {}", self.flush(plan));
        if self.below_mm >= 0.005 {
            let below = crate::words::trimmed(self.below_mm, 2);
            how.push_str(&format!(", over coats of {below}\u{a0}mm"));
        }
        if let Some(decal) = &self.beside {
            let other = if self.end == End::Start { "lower" } else { "upper" };
            let zone = &plan.piece.zones[decal.zone].name;
            how.push_str(&format!("; {zone} begins along its {other} edge"));
        }
        how.push('.');
        match &self.slot {
            Some(slot) if slot.parts => {
                how.push_str(" The handle parts it: tape it down on both sides of the handle.");
            }
            Some(_) => how.push_str(" Its slot goes over the handle."),
            None => {}
        }
        how
    }
}
