//! A bare band with a grid to test measurements by: level lines, lines down the wall, and a scale on
//! which the end of the paper shows how far the girth is off.

use super::stacked::stacked;
use super::{Occupied, Trim, Unrolled, dense};
use crate::drawing::{ACCENT, Anchor, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace};
use glam::DVec2;
use shape::{Surface, SurfacePoint};
use std::f64::consts::PI;

/// Between level lines, mm, and between lines down the wall, degrees.
const LEVEL_MM: f64 = 10.0;
const ROUND_DEG: i32 = 15;
/// How far the scale reaches beyond either side of its zero, mm.
const SCALE_MM: i32 = 8;
/// No numbers of degrees stand so near to its zero, mm.
const SCALED_MM: f64 = 16.0;
/// Paper beyond the zero of the scale, mm.
const FLAP_MM: f64 = 12.0;
/// Height of capitals, mm.
const CAPITAL_MM: f64 = 1.6;
const SMALL_MM: f64 = 1.2;
/// Numbers stand no closer than this, mm.
const ROOM_MM: f64 = 8.0;

const THIN: Ink = Ink::line(GUIDE, 0.1);
const HEAVY: Ink = Ink::line(GUIDE, 0.25);
const QUARTER: Ink = Ink::line(INK, 0.2);
const FRONT: Ink = Ink::line(ACCENT, 0.4);
const CUT: Ink = Ink::line(INK, 0.3);

/// One band under its grid.
pub(crate) struct Grid {
    pub(crate) name: String,
    pub(crate) layers: Vec<Layer>,
    pub(crate) trim: Trim,
    /// Greatest error of a length, mm.
    pub(crate) error_mm: f64,
    /// It is so nearly a full ring that there is no room for a scale at its end.
    pub(crate) is_ring: bool,
}

/// Each band of a round part under its grid.
pub(crate) fn grids(part: &str, surface: &Surface, letters: &Letters) -> Vec<Grid> {
    let bands = 0..surface.bands().len();
    bands.map(|band| grid(part, surface, band, DVec2::ZERO, letters)).collect()
}

/// All bands of a round part below each other, with a ruler to check the scale by.
pub(crate) fn grid_drawing(part: &str, surface: &Surface, letters: &Letters) -> Drawing {
    let bands: Vec<usize> = (0..surface.bands().len()).collect();
    let bounds = |&band: &usize| Unrolled::new(surface, band, DVec2::ZERO).bounds();
    stacked(letters, &bands, bounds, |&band, offset| {
        let grid = grid(part, surface, band, offset, letters);
        let mut layers = grid.layers;
        if bands.len() > 1 {
            let slug = crate::numbers::slug(&surface.bands()[band].name);
            layers.iter_mut().for_each(|layer| layer.id = format!("{slug}-{}", layer.id));
        }
        (grid.name, layers)
    })
}

fn grid(part: &str, surface: &Surface, band: usize, offset: DVec2, letters: &Letters) -> Grid {
    let on = Unrolled::new(surface, band, offset);
    let frame = Frame { surface, on, letters };
    let is_ring = frame.is_ring();
    let border = frame.border();
    let mut profile: Vec<DVec2> = frame.outline();
    profile = dense(&profile);
    let mut occupied = Occupied::default();
    let lines = frame.lines();
    let numbers = frame.numbers();
    let scale = if frame.is_ring() { frame.slit() } else { frame.scale() };
    for mark in numbers.marks.iter().chain(&scale.marks) {
        occupied.rectangle(mark.bounds);
    }
    Grid {
        name: format!("Grid for {part}, {}", frame.on.band.name),
        layers: vec![lines, scale, border, numbers],
        trim: Trim { names: Layer::new("none", "Nothing"), profile, occupied },
        error_mm: frame.on.error_mm(),
        is_ring,
    }
}

struct Frame<'a> {
    surface: &'a Surface,
    on: Unrolled,
    letters: &'a Letters,
}

impl Frame<'_> {
    fn ends_mm(&self) -> (f64, f64) {
        self.on.band.along_mm
    }

    fn page(&self, around: f64, along_mm: f64) -> DVec2 {
        self.on.page(SurfacePoint { around, along_mm })
    }

    /// So many mm to the right of a place, along the parallel.
    fn beside(&self, around: f64, along_mm: f64, right_mm: f64) -> DVec2 {
        self.page(around + right_mm / self.radius_mm(along_mm), along_mm)
    }

    fn radius_mm(&self, along_mm: f64) -> f64 {
        self.surface.around_scale_mm(along_mm).max(1.0)
    }

    /// Turn of words that run along the parallel at a place.
    fn turn_rad(&self, around: f64, along_mm: f64) -> f64 {
        let right = self.page(around + 1e-3, along_mm) - self.page(around - 1e-3, along_mm);
        libm::atan2(right.y, right.x)
    }

    /// Level lines of the band, mm from the rim.
    fn levels_mm(&self) -> Vec<f64> {
        let (from, to) = self.ends_mm();
        let (first, last) = ((from / LEVEL_MM).ceil() as i64, (to / LEVEL_MM).floor() as i64);
        (first..=last).map(|count| count as f64 * LEVEL_MM).collect()
    }

    /// Whether the paper beyond its right end would lie on its left one.
    fn is_ring(&self) -> bool {
        let (from, to) = self.ends_mm();
        let open = |along_mm: f64| self.page(-PI, along_mm).distance(self.page(PI, along_mm));
        self.on.sheet.sector_rad().is_some_and(|sector| sector > PI)
            && open(from).min(open(to)) < 2.0 * FLAP_MM
    }

    fn outline(&self) -> Vec<DVec2> {
        let (from, to) = self.ends_mm();
        let mut outline = self.on.parallel(from);
        if !self.is_ring() {
            outline.push(self.beside(PI, from, FLAP_MM));
            outline.push(self.beside(PI, to, FLAP_MM));
        }
        outline.extend(self.on.parallel(to).into_iter().rev());
        outline.push(outline[0]);
        outline
    }

    fn border(&self) -> Layer {
        let mut layer = Layer::new("border", "Cut along this line");
        layer.marks.push(Mark::path(Trace::line(self.outline()), CUT));
        layer
    }

    fn lines(&self) -> Layer {
        let mut layer = Layer::new("grid", "Every 10 mm along and every 15 degrees round");
        let (from, to) = self.ends_mm();
        for along_mm in self.levels_mm() {
            let heavy = along_mm.rem_euclid(50.0) == 0.0;
            let ink = if heavy { HEAVY } else { THIN };
            layer.marks.push(Mark::path(Trace::line(self.on.parallel(along_mm)), ink));
        }
        for degrees in (-180 + ROUND_DEG..180).step_by(ROUND_DEG as usize) {
            let around = f64::from(degrees).to_radians();
            let ink = match degrees {
                0 => FRONT,
                _ if degrees % 90 == 0 => QUARTER,
                _ if degrees % 45 == 0 => HEAVY,
                _ => THIN,
            };
            let line = [self.page(around, from), self.page(around, to)];
            layer.marks.push(Mark::path(Trace::line(line), ink));
        }
        layer
    }

    /// Where a ring is slit open.
    fn slit(&self) -> Layer {
        let mut layer = Layer::new("scale", "Slit here");
        let (from, to) = self.ends_mm();
        let slit = [self.page(PI, from), self.page(PI, to)];
        layer.marks.push(Mark::path(Trace::line(slit), CUT));
        layer
    }

    /// The zero that the other end should meet, and the scale across it on every level line.
    fn scale(&self) -> Layer {
        let mut layer = Layer::new("scale", "Read here where the other end lies, mm");
        let (from, to) = self.ends_mm();
        let zero = [self.page(PI, from), self.page(PI, to)];
        layer.marks.push(Mark::path(Trace::line(zero), Ink::line(INK, 0.2)));
        let mut at_mm = self.levels_mm();
        at_mm.retain(|at| at - from > 4.0 && to - at > 4.0);
        at_mm.extend([from, to]);
        for along_mm in at_mm {
            let mut strokes = Trace::new();
            let into = if to - along_mm < 4.0 { -1.0 } else { 1.0 };
            for tick in -SCALE_MM..=SCALE_MM {
                let long = tick % 5 == 0;
                let reach = into * if long { 2.2 } else { 1.2 };
                let at = f64::from(tick);
                strokes.polyline([
                    self.beside(PI, along_mm, at),
                    self.beside(PI, along_mm + reach, at),
                ]);
                if long && tick != 0 {
                    let spot = self.beside(PI, along_mm + into * 3.3, at);
                    let name = if tick > 0 { format!("+{tick}") } else { format!("−{}", -tick) };
                    let turn_rad = self.turn_rad(PI, along_mm);
                    let text = self.letters.write(&name, SMALL_MM, Anchor::Middle, spot, turn_rad);
                    layer.marks.push(Mark::path(text, Ink::fill(INK)));
                }
            }
            layer.marks.push(Mark::path(strokes, Ink::line(INK, 0.12)));
        }
        layer
    }

    /// Angles along both ends, and distances from the rim at the four sides.
    fn numbers(&self) -> Layer {
        let mut layer = Layer::new("numbers", "Degrees to the right of the front; mm from the rim");
        let (from, to) = self.ends_mm();
        let mut write = |text: &str, around: f64, along_mm: f64, right_mm: f64, ink: Ink| {
            let at = self.beside(around, along_mm, right_mm);
            let turn_rad = self.turn_rad(around, along_mm);
            let text = self.letters.write(text, CAPITAL_MM, Anchor::Middle, at, turn_rad);
            layer.marks.push(Mark::path(text, ink));
        };
        for (along_mm, edge_mm) in [(from + 2.2, from), (to - 2.2, to)] {
            if to - from < 6.0 && edge_mm == to {
                continue;
            }
            let step_mm = f64::from(ROUND_DEG).to_radians() * self.radius_mm(along_mm);
            let every = [1, 3, 6].into_iter().find(|every| step_mm * f64::from(*every) >= ROOM_MM);
            let step: i32 = ROUND_DEG * every.unwrap_or(6);
            for degrees in (-180_i32..180).step_by(step as usize) {
                // The scale is there.
                if f64::from(180 - degrees).to_radians() * self.radius_mm(along_mm) < SCALED_MM
                    && !self.is_ring()
                {
                    continue;
                }
                let around = f64::from(degrees).to_radians();
                let name = match degrees.rem_euclid(360) {
                    0 => "front".to_owned(),
                    degrees => format!("{degrees}°"),
                };
                let wide = if degrees == 0 { 3.2 } else { 2.6 };
                let ink = Ink::fill(if degrees == 0 { ACCENT } else { INK });
                write(&name, around, along_mm, wide, ink);
            }
        }
        for along_mm in self.levels_mm() {
            if along_mm - from < 5.0 || to - along_mm < 5.0 {
                continue;
            }
            let quarter_mm = PI / 2.0 * self.radius_mm(along_mm);
            for quarter in (-2..2).filter(|quarter| quarter % 2 == 0 || quarter_mm > 12.0) {
                let name = crate::words::trimmed(along_mm, 0);
                let around = f64::from(quarter) * PI / 2.0;
                write(&name, around, along_mm - 1.4, 2.2, Ink::fill(INK));
            }
        }
        layer
    }
}
