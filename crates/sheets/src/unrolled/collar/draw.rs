//! Draws a collar: its border with the tab that closes it, and the windows to cut out.

use super::frame::Frame;
use super::marks::STROKE;
use super::windows::Window;
use super::{Collar, Cut, Slot};
use crate::Plan;
use crate::drawing::{Bounds, GUIDE, INK, Ink, Layer, Letters, Mark, Trace, WHITE};
use crate::unrolled::stone_marks::paper;
use crate::unrolled::{Occupied, Trim, Unrolled, dense};
use glam::DVec2;
use piece::Finish;
use std::f64::consts::{FRAC_PI_2, PI};

/// Width of the tab, and how much shorter it is at either end, mm.
const TAB_MM: f64 = 12.0;
const TAB_SLANT_MM: f64 = 3.0;
/// Radius of the rings that close when both ends meet, mm.
const RING_MM: f64 = 2.2;
/// A collar at least so high has words on its tab, mm.
const WORDY_MM: f64 = 34.0;

const CUT: Ink = Ink::line(INK, 0.25);

/// What a collar takes up where it is not moved.
pub(super) fn bounds(cut: &Cut<'_>) -> Bounds {
    let on = Unrolled::over(cut.surface, cut.band, cut.along_mm, DVec2::ZERO);
    [cut.along_mm.0, cut.along_mm.1]
        .into_iter()
        .flat_map(|along_mm| on.parallel(along_mm))
        .fold(Bounds::EMPTY, Bounds::with)
}

/// Draws a collar, moved by `offset`.
pub(super) fn drawn(plan: &Plan, cut: &Cut<'_>, offset: DVec2, letters: &Letters) -> Collar {
    let on = Unrolled::over(cut.surface, cut.band, cut.along_mm, offset);
    let frame = Frame { plan, cut, on, letters };
    let mut occupied = Occupied::default();
    let border = frame.border(&mut occupied);
    let windows = frame.windows(&mut occupied);
    let marks = frame.marks(&mut occupied);
    let sides = frame.sides(&mut occupied);
    let names = frame.names(&mut occupied);
    let levels = frame.levels(&mut occupied);
    let layers = vec![levels, border, windows, marks, sides, names];
    let mut profile = frame.tab().windows(2).flat_map(dense).collect::<Vec<_>>();
    profile.extend(dense(&frame.seam(-PI)));
    for along_mm in [cut.along_mm.0, cut.along_mm.1] {
        profile.extend(dense(&frame.on.parallel(along_mm)));
    }
    let part = &plan.piece.parts[cut.part].name;
    Collar {
        name: format!("Collar for {part}, {}: {}", frame.on.band.name, cut.zones(plan).join(", ")),
        how: cut.how(plan),
        layers,
        trim: Trim { names: Layer::new("none", "Nothing"), profile, occupied },
        error_mm: frame.on.error_mm(),
        places: frame.places(),
    }
}

impl Frame<'_> {
    /// Corners of the tab from the upper to the lower end of the right side.
    fn tab(&self) -> [DVec2; 4] {
        let (from, to) = self.cut.along_mm;
        let slant_mm = TAB_SLANT_MM.min((to - from) / 4.0);
        let out = |along_mm: f64| {
            let wide = TAB_MM / self.cut.surface.around_scale_mm(along_mm).max(1.0);
            self.page(PI + wide, along_mm)
        };
        let [top, bottom] = self.seam(PI);
        [top, out(from + slant_mm), out(to - slant_mm), bottom]
    }

    /// The border to cut along, the tab, and the marks that close when both ends meet.
    fn border(&self, occupied: &mut Occupied) -> Layer {
        let mut layer = Layer::new("border", "Cut along the solid line; the tab goes beneath");
        let (from, to) = self.cut.along_mm;
        let mut outline = self.arc(-PI, PI, from);
        outline.extend(&self.tab()[1..3]);
        outline.extend(self.arc(PI, -PI, to));
        occupied.line(&outline);
        layer.marks.push(Mark::path(Trace::outline(outline), CUT));
        let [left, right] = [-PI, PI].map(|around| self.seam(around));
        layer.marks.push(Mark::path(Trace::line(right), Ink::dashed(INK, 0.2, 2.0, 1.0)));
        occupied.line(&left);
        occupied.line(&right);
        for share in [0.25, 0.75] {
            let (left, right) = (left[0].lerp(left[1], share), right[0].lerp(right[1], share));
            // Of the ring at the left end there is only the half on the paper.
            let turn = self.right(-PI, from);
            let half = (0..=16).map(|step| {
                let way = f64::from(step) / 16.0 * PI - FRAC_PI_2;
                left + turn.rotate(DVec2::new(libm::cos(way), libm::sin(way))) * RING_MM
            });
            layer.marks.push(Mark::path(Trace::line(half), STROKE));
            layer.marks.push(Mark::circle(right, RING_MM, STROKE));
            occupied.disc(left, RING_MM);
            occupied.disc(right, RING_MM);
        }
        let [_, top, bottom, _] = self.tab();
        let inner = self.seam(PI);
        let middle = (top + bottom + inner[0] + inner[1]) / 4.0;
        let down = (bottom - top).normalize_or(DVec2::Y);
        if (bottom - top).length() > WORDY_MM {
            let words = "tape the other end on the dashed line";
            let turn_rad = libm::atan2(down.y, down.x);
            layer.marks.push(Mark::path(self.write(words, middle, turn_rad), Ink::fill(GUIDE)));
        }
        occupied.line(&[top, bottom]);
        layer
    }

    /// Windows to cut out, and the decals in them.
    fn windows(&self, occupied: &mut Occupied) -> Layer {
        let mut layer = Layer::new(
            "windows",
            "Cut out; a decal goes where its shade is, a handle through a slot without one",
        );
        for window in &self.cut.windows {
            let outline = self.window(window);
            occupied.shapes(std::slice::from_ref(&outline));
            let ink = Ink::outlined(WHITE, INK, 0.25);
            layer.marks.push(Mark::path(Trace::outline(outline), ink));
        }
        for decal in self.cut.windows.iter().flat_map(|window| &window.decals) {
            let colour = match self.plan.piece.zones[decal.zone].finish {
                Finish::Vinyl { colour, .. }
                | Finish::Paint { colour, .. }
                | Finish::Glitter { colour, .. } => colour,
                Finish::Resin { .. } | Finish::Stones(_) => continue,
            };
            let mut outline = Trace::new();
            let laid = self.laid(decal);
            for one in &decal.form.loops {
                outline.append(&Trace::outline(one.iter().map(|place| laid.page(*place))));
            }
            if !outline.is_empty() {
                let shade = paper(self.plan.piece.colours[colour].srgb);
                layer.marks.push(Mark::path(outline, Ink::outlined(shade, GUIDE, 0.1)));
            }
        }
        if let Some(slot) = &self.cut.slot {
            let outline = self.slot(slot);
            occupied.shapes(std::slice::from_ref(&outline));
            let ink = Ink::outlined(WHITE, INK, 0.25);
            layer.marks.push(Mark::path(Trace::outline(outline), ink));
        }
        layer
    }

    fn window(&self, window: &Window) -> Vec<DVec2> {
        let (left, right) = self.span(window.around);
        let (from, to) = self.cut.along_mm;
        let (top, bottom) = (window.along_mm.0.max(from), window.along_mm.1.min(to));
        let lower = self.arc(right, left, bottom);
        self.arc(left, right, top).into_iter().chain(lower).collect()
    }

    fn slot(&self, slot: &Slot) -> Vec<DVec2> {
        let (top, bottom) = slot.along_mm;
        let half =
            |along_mm: f64| slot.half_mm / self.cut.surface.around_scale_mm(along_mm).max(1.0);
        let middle = self.off_middle(slot.around_rad);
        let upper = self.arc(middle - half(top), middle + half(top), top);
        let lower = self.arc(middle + half(bottom), middle - half(bottom), bottom);
        upper.into_iter().chain(lower).collect()
    }
}
