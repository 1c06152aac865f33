//! The windows of a collar: where film and stencils of one thickness of coats go.

use crate::Plan;
use coats::{Unrolled, unrolled};
use glam::DVec2;
use piece::Finish;
use shape::{Sheet, Surface, SurfacePoint};
use std::borrow::Cow;
use std::f64::consts::{PI, TAU};

/// Paper left free round each decal, mm.
pub(crate) const CLEAR_MM: f64 = 2.0;
/// Windows nearer to each other than this become one: a narrower bridge of paper tears (own choice).
const BRIDGE_MM: f64 = 6.0;
/// A decal that leaves less than this of the way round free runs all round, mm.
const OPEN_MM: f64 = 25.0;

/// One copy of a zone's film or stencil.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Decal {
    pub(super) zone: usize,
    /// Where it lies round the part, from left to right; may run on beyond half a turn.
    pub(super) around: (f64, f64),
    pub(super) along_mm: (f64, f64),
    /// From where to where the form that it is cut in reaches on the paper, before it is laid: not quite
    /// where it lies if the wall is curved both ways.
    pub(super) taken: ((f64, f64), (f64, f64)),
    /// That form.
    pub(super) form: Form,
}

/// The form that a decal is cut in, mm from the place of the wall at `middle`, x to the right along the
/// parallel there, y down.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Form {
    /// Radians from the front, and mm along the wall.
    pub(super) middle: (f64, f64),
    pub(super) loops: Vec<Vec<DVec2>>,
    /// The level line through the middle of its height, on which the crosses of the cut file lie; `None`
    /// if it has none there.
    pub(super) level_mm: Option<f64>,
}

/// A hole for decals that lie close together.
#[derive(Debug, Clone, PartialEq)]
pub(super) struct Window {
    pub(super) decals: Vec<Decal>,
    /// As [`Decal`], with the room round it.
    pub(super) around: (f64, f64),
    pub(super) along_mm: (f64, f64),
}

/// Whether a zone is laid as a sheet with edges of its own: film, or a stencil for paint or glitter.
fn is_laid(plan: &Plan, zone: usize) -> bool {
    let zone = &plan.piece.zones[zone];
    match zone.finish {
        Finish::Vinyl { .. } => true,
        Finish::Paint { .. } | Finish::Glitter { .. } => zone.region.art.is_some(),
        Finish::Resin { .. } | Finish::Stones(_) => false,
    }
}

/// Every decal on a band of a part, in the order of work.
pub(super) fn decals(plan: &Plan, part: usize, band: usize) -> Vec<Decal> {
    let mut decals = Vec::new();
    for (zone, shape) in plan.shape.zones.iter().enumerate() {
        if shape.part != part || !is_laid(plan, zone) {
            continue;
        }
        let film = plan.coats.films.iter().find(|film| film.zone == zone);
        let copies: Cow<'_, [Unrolled]> = match film {
            Some(film) => Cow::Borrowed(&film.copies),
            // A stencil is whole, whatever film bears.
            None => Cow::Owned(unrolled(&plan.piece.zones[zone], shape, f64::INFINITY)),
        };
        let here: Vec<&Unrolled> = copies.iter().filter(|copy| copy.band == band).collect();
        // What is cut right through is one decal.
        let whole = here.chunk_by(|one, other| one.copy == other.copy);
        decals.extend(whole.map(|copy| decal(zone, copy, &shape.surface, film.is_none())));
    }
    decals
}

/// A decal of these groups of shapes, of which there is at least one.
fn decal(zone: usize, groups: &[&Unrolled], surface: &Surface, stencil: bool) -> Decal {
    let Unrolled { band, centre, extent: (around, along_mm), sheet_mm, .. } = *groups[0];
    let sheet = surface.sheet_over(band, sheet_mm);
    let middle_mm = f64::midpoint(along_mm.0, along_mm.1);
    let middle = on_sheet(&sheet, middle_mm);
    let places = || groups.iter().flat_map(|group| group.shapes.iter().flatten());
    let loops: Vec<Vec<DVec2>> = places()
        .map(|one| one.iter().map(|place| DVec2::from(*place) - middle).collect())
        .collect();
    let heights = loops
        .iter()
        .flatten()
        .fold((f64::INFINITY, f64::NEG_INFINITY), |heights, place| with(heights, place.y));
    let crosses = stencil || matches!(groups, [only] if only.crosses);
    let level_mm = crosses.then(|| f64::midpoint(heights.0, heights.1));
    let around = (around.0 + centre, around.1 + centre);
    let form = Form { middle: (centre, middle_mm), loops, level_mm };
    let taken = (around, along_mm);
    let mut decal = Decal { zone, around, along_mm, taken, form };
    decal.taken = decal.taken_on(&sheet);
    decal
}

/// The place at the front of a sheet so far along the wall.
fn on_sheet(sheet: &Sheet, along_mm: f64) -> DVec2 {
    sheet.sheet_from_surface(SurfacePoint { around: 0.0, along_mm })
}

impl Decal {
    /// From where to where it and its form reach on this sheet.
    fn taken_on(&self, sheet: &Sheet) -> ((f64, f64), (f64, f64)) {
        let (centre, middle_mm) = self.form.middle;
        let middle = on_sheet(sheet, middle_mm);
        let home = f64::midpoint(self.around.0, self.around.1);
        let turn = TAU * ((home - centre) / TAU).round();
        let places = self.form.loops.iter().flatten();
        places.fold((self.around, self.along_mm), |(around, along_mm), place| {
            let at = sheet.surface_from_sheet(middle + *place);
            (with(around, at.around + centre + turn), with(along_mm, at.along_mm))
        })
    }
}

/// Windows of paper that is unrolled on this sheet, wide enough for what lies in them.
pub(super) fn fitted(windows: Vec<Window>, surface: &Surface, sheet: &Sheet) -> Vec<Window> {
    let fit = |window: Window| {
        let (mut around, mut along_mm) = (window.around, window.along_mm);
        for decal in &window.decals {
            let taken = decal.taken_on(sheet);
            let wide = grown(taken.0, taken.1, surface);
            around = with(with(around, wide.0), wide.1);
            along_mm = with(with(along_mm, taken.1.0 - CLEAR_MM), taken.1.1 + CLEAR_MM);
        }
        Window { around, along_mm, ..window }
    };
    windows.into_iter().map(fit).collect()
}

/// A span that reaches to a value too.
fn with((low, high): (f64, f64), value: f64) -> (f64, f64) {
    (low.min(value), high.max(value))
}

/// Whether a decal runs all round, so that no window can hold it.
pub(super) fn runs_round(decal: &Decal, surface: &Surface) -> bool {
    let middle_mm = f64::midpoint(decal.along_mm.0, decal.along_mm.1);
    let free = TAU - (decal.around.1 - decal.around.0);
    free * surface.around_scale_mm(middle_mm) < OPEN_MM
}

/// Windows for decals: those that come close to each other are one.
pub(super) fn windows(decals: &[Decal], surface: &Surface) -> Vec<Window> {
    let mut windows: Vec<Window> = Vec::new();
    for decal in decals {
        let (around, along_mm) = decal.taken;
        let mut window = Window {
            decals: vec![decal.clone()],
            around: grown(around, along_mm, surface),
            along_mm: (along_mm.0 - CLEAR_MM, along_mm.1 + CLEAR_MM),
        };
        while let Some(at) = windows.iter().position(|other| near(&window, other, surface)) {
            window = joined(windows.remove(at), window);
        }
        windows.push(window);
    }
    windows
}

/// A span round the part with room at both ends, measured where the part is narrowest.
fn grown(around: (f64, f64), along_mm: (f64, f64), surface: &Surface) -> (f64, f64) {
    let radius = |along_mm: f64| surface.around_scale_mm(along_mm);
    let room = CLEAR_MM / radius(along_mm.0).min(radius(along_mm.1)).max(1.0);
    (around.0 - room, around.1 + room)
}

/// How far a span is to be turned to lie as near as can be to another.
fn turn_to(span: (f64, f64), other: (f64, f64)) -> f64 {
    let off = f64::midpoint(other.0, other.1) - f64::midpoint(span.0, span.1);
    TAU * (off / TAU).round()
}

fn near(one: &Window, other: &Window, surface: &Surface) -> bool {
    let turn = turn_to(one.around, other.around);
    let radius_mm = surface.around_scale_mm(f64::midpoint(one.along_mm.0, one.along_mm.1));
    let gap = (one.around.0 + turn - other.around.1).max(other.around.0 - one.around.1 - turn);
    let apart = (one.along_mm.0 - other.along_mm.1).max(other.along_mm.0 - one.along_mm.1);
    gap * radius_mm < BRIDGE_MM && apart < BRIDGE_MM
}

fn joined(one: Window, mut other: Window) -> Window {
    let turn = turn_to(other.around, one.around);
    let mut decals = one.decals;
    for decal in &mut other.decals {
        decal.around = (decal.around.0 + turn, decal.around.1 + turn);
    }
    decals.append(&mut other.decals);
    let union = |a: (f64, f64), b: (f64, f64)| (a.0.min(b.0), a.1.max(b.1));
    let turned = (other.around.0 + turn, other.around.1 + turn);
    Window {
        decals,
        around: union(one.around, turned),
        along_mm: union(one.along_mm, other.along_mm),
    }
}

/// Where a collar is closed: at the back if no window is near there, otherwise in the middle of the
/// widest gap between windows; `None` if there is none. Windows as spans round the part.
pub(super) fn seam(taken: &[(f64, f64)], clear_rad: f64) -> Option<f64> {
    let home = |around: f64| around - TAU * (around / TAU).round();
    let mut spans: Vec<(f64, f64)> = taken
        .iter()
        .map(|span| {
            let from = home(span.0);
            (from, from + (span.1 - span.0))
        })
        .collect();
    spans.sort_by(|a, b| a.0.total_cmp(&b.0));
    let covers = |span: &(f64, f64), at: f64| {
        [-TAU, 0.0, TAU]
            .iter()
            .any(|turn| span.0 - clear_rad < at + turn && at + turn < span.1 + clear_rad)
    };
    if !spans.iter().any(|span| covers(span, PI)) {
        return Some(PI);
    }
    let mut widest = (2.0 * clear_rad, None);
    let mut reach = f64::NEG_INFINITY;
    for (index, span) in spans.iter().enumerate() {
        reach = reach.max(span.1);
        let next = spans.get(index + 1).map_or(spans[0].0 + TAU, |next| next.0);
        if next - reach > widest.0 {
            widest = (next - reach, Some(home(f64::midpoint(reach, next))));
        }
    }
    widest.1
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::unrolled::cylinder;

    fn decal(zone: usize, around: (f64, f64), along_mm: (f64, f64)) -> Decal {
        let middle = (f64::midpoint(around.0, around.1), f64::midpoint(along_mm.0, along_mm.1));
        let form = Form { middle, loops: Vec::new(), level_mm: None };
        Decal { zone, around, along_mm, taken: (around, along_mm), form }
    }

    #[test]
    fn decals_close_together_share_a_window_across_the_back_too() {
        let surface = cylinder();
        // 40 mm radius: 0.1 rad are 4 mm.
        let apart = [decal(0, (0.0, 0.5), (20.0, 40.0)), decal(1, (1.0, 1.5), (20.0, 40.0))];
        assert_eq!(windows(&apart, &surface).len(), 2);
        let near = [decal(0, (0.0, 0.5), (20.0, 40.0)), decal(1, (0.7, 1.5), (20.0, 40.0))];
        let found = windows(&near, &surface);
        assert_eq!(found.len(), 1);
        // 2 mm of room are 0.05 rad here.
        assert!((found[0].around.0 + 0.05).abs() < 1e-9 && (found[0].around.1 - 1.55).abs() < 1e-9);
        assert_eq!(found[0].along_mm, (18.0, 42.0));
        let back = [decal(0, (2.9, 3.1), (20.0, 40.0)), decal(1, (-3.1, -2.9), (20.0, 40.0))];
        let found = windows(&back, &surface);
        assert_eq!(found.len(), 1);
        let wide = found[0].around.1 - found[0].around.0;
        assert!((wide - (TAU - 5.8 + 0.1)).abs() < 1e-9, "{wide}");
    }

    #[test]
    fn a_collar_closes_at_the_back_or_in_the_widest_gap() {
        assert_eq!(seam(&[(-0.5, 0.5)], 0.1), Some(PI));
        // One at the back leaves from 4.0 - 2 pi = -2.283 to 2.5: its middle is at 0.108.
        let found = seam(&[(2.5, 4.0)], 0.1).expect("a gap");
        assert!((found - (2.5 + 4.0 - TAU) / 2.0).abs() < 1e-9, "{found}");
        assert_eq!(seam(&[(-3.2, 3.05)], 0.1), None);
    }

    #[test]
    fn what_leaves_no_more_than_a_slit_runs_round() {
        let surface = cylinder();
        assert!(runs_round(&decal(0, (-PI, PI), (20.0, 40.0)), &surface));
        assert!(!runs_round(&decal(0, (-2.0, 2.0), (20.0, 40.0)), &surface));
    }
}
