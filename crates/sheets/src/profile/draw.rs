//! Draws the parts: walls, axis, readings with leaders, heights and lengths of wall, handles.

use super::labels::spread;
use crate::drawing::{
    ACCENT, Anchor, Bounds, Drawing, GUIDE, INK, Ink, Layer, Letters, Mark, Trace,
};
use glam::DVec2;
use piece::settings::LengthUnit;
use piece::{Handle, Part, Piece, lengths};
use shape::measured::{Measured, MeasuredBand};
use shape::{PartShape, Shape, Surface, measured};

/// Height of capitals of dimensions and of names, mm.
const CAPITAL_MM: f64 = 1.9;
const NAME_MM: f64 = 3.2;
/// Least distance between two lines of words, mm.
const LINE_MM: f64 = 4.0;
/// From the widest place to the words beside it, mm.
const LEADER_MM: f64 = 9.0;
/// Between two parts, mm.
const APART_MM: f64 = 16.0;
/// Longest step along a wall that is drawn as one line, mm.
const STEP_MM: f64 = 1.0;
/// Half the length of the strokes that end a dimension, mm.
const SERIF_MM: f64 = 1.2;
/// Length of the line to check a print by, mm.
const CHECK_MM: f64 = 50.0;

const WALL: Ink = Ink::line(INK, 0.4);
const THIN: Ink = Ink::line(INK, 0.15);
const AXIS: Ink = Ink::dashed(GUIDE, 0.15, 4.0, 1.2);
const LEADER: Ink = Ink::line(GUIDE, 0.12);
const HANDLE: Ink = Ink::dashed(ACCENT, 0.3, 1.6, 0.9);

/// All parts side by side on one level, with a line to check the print by.
pub(super) fn parts(piece: &Piece, shape: &Shape, unit: LengthUnit) -> Drawing {
    let letters = Letters::new();
    let mut drawing = Drawing::default();
    let mut right_mm = 0.0;
    for (part, shape) in piece.parts.iter().zip(&shape.parts) {
        let layer = Sketch { part, shape, unit, letters: &letters }.layer();
        let bounds = layer.bounds();
        let shift = right_mm - bounds.min.x;
        let layer = Sketch { part, shape, unit, letters: &letters }.at(shift);
        right_mm += bounds.size().x + APART_MM;
        drawing.layers.push(layer);
    }
    let bounds = drawing.bounds();
    let at = DVec2::new(bounds.min.x, bounds.max.y + 8.0);
    let mut check = Layer::new("check", "50 mm: measure this before trusting a print");
    dimension(&mut check, at, at + DVec2::new(CHECK_MM, 0.0));
    let words = "This line is 50 mm on a print at true size.";
    let beside = at + DVec2::new(CHECK_MM + 3.0, CAPITAL_MM / 2.0);
    check.marks.push(Mark::path(
        letters.write(words, CAPITAL_MM, Anchor::Start, beside, 0.0),
        Ink::fill(INK),
    ));
    drawing.layers.push(check);
    drawing
}

/// A line from one place to another with strokes across its ends.
fn dimension(layer: &mut Layer, from: DVec2, to: DVec2) {
    let across = (to - from).perp().normalize_or_zero() * SERIF_MM;
    for line in [[from, to], [from - across, from + across], [to - across, to + across]] {
        layer.marks.push(Mark::path(Trace::line(line), THIN));
    }
}

/// One part while it is drawn.
struct Sketch<'a> {
    part: &'a Part,
    shape: &'a PartShape,
    unit: LengthUnit,
    letters: &'a Letters,
}

impl Sketch<'_> {
    fn layer(&self) -> Layer {
        self.at(0.0)
    }

    /// The part with its axis at `axis_mm`, standing on level 0.
    fn at(&self, axis_mm: f64) -> Layer {
        let mut layer =
            Layer::new(format!("part-{}", self.part.name), format!("Part {}", self.part.name));
        match &self.shape.surface {
            Surface::Revolved(_) => {
                if let Some(measured) = measured(self.part, self.shape) {
                    self.revolved(&mut layer, axis_mm, &measured);
                }
            }
            Surface::Flat(flat) => {
                let size = flat.size_mm();
                let place = |p: &DVec2| DVec2::new(axis_mm + p.x, -size.y / 2.0 - p.y);
                for outline in flat.outline() {
                    layer.marks.push(Mark::path(Trace::outline(outline.iter().map(place)), WALL));
                }
                let half = size.x / 2.0;
                let below = |x: f64| DVec2::new(axis_mm + x, 5.0);
                dimension(&mut layer, below(-half), below(half));
                self.words(&mut layer, &self.length(size.x), below(-half) + DVec2::new(0.0, 5.0));
                let beside = |y: f64| DVec2::new(axis_mm + half + 5.0, y);
                dimension(&mut layer, beside(-size.y), beside(0.0));
                let middle = beside(-size.y / 2.0) + DVec2::new(2.5, CAPITAL_MM / 2.0);
                self.words(&mut layer, &self.length(size.y), middle);
                self.head(&mut layer, axis_mm - half, size.y, &["flat".to_owned()]);
            }
        }
        layer
    }

    fn length(&self, mm: f64) -> String {
        lengths::show(mm, self.unit)
    }

    fn words(&self, layer: &mut Layer, words: &str, at: DVec2) {
        let trace = self.letters.write(words, CAPITAL_MM, Anchor::Start, at, 0.0);
        layer.marks.push(Mark::path(trace, Ink::fill(INK)));
    }

    /// The name and lines of words above a part as high as `height_mm`.
    fn head(&self, layer: &mut Layer, left_mm: f64, height_mm: f64, lines: &[String]) {
        let top_mm = -height_mm - 8.0 - LINE_MM * lines.len() as f64;
        let name = DVec2::new(left_mm, top_mm);
        let trace = self.letters.write(&self.part.name, NAME_MM, Anchor::Start, name, 0.0);
        layer.marks.push(Mark::path(trace, Ink::fill(INK)));
        for (index, line) in lines.iter().enumerate() {
            self.words(layer, line, name + DVec2::new(0.0, LINE_MM * (index + 1) as f64 + 0.8));
        }
    }

    fn revolved(&self, layer: &mut Layer, axis_mm: f64, measured: &Measured) {
        let Surface::Revolved(wall) = &self.shape.surface else { return };
        let height_mm = self.shape.height_mm;
        let place = |side: f64, along_mm: f64| {
            DVec2::new(axis_mm + side * wall.radius_mm(along_mm), -wall.z_mm(along_mm))
        };
        let stops = wall.along_stops_mm(STEP_MM);
        let right = stops.iter().map(|along_mm| place(1.0, *along_mm));
        let left = stops.iter().rev().map(|along_mm| place(-1.0, *along_mm));
        layer.marks.push(Mark::path(Trace::outline(right.chain(left)), WALL));
        for band in &measured.bands[1..] {
            let start_mm = band.along_mm.0;
            let line = Trace::line([place(-1.0, start_mm), place(1.0, start_mm)]);
            layer.marks.push(Mark::path(line, THIN));
        }
        let axis = [DVec2::new(axis_mm, 4.0), DVec2::new(axis_mm, -height_mm - 4.0)];
        layer.marks.push(Mark::path(Trace::line(axis), AXIS));
        if let Some(handle) = &self.part.handle {
            self.handle(layer, axis_mm, handle);
        }
        let widest_mm = self.shape.surface.widest_mm();
        self.readings(layer, axis_mm, widest_mm, measured);
        let left_mm = self.bands(layer, axis_mm, widest_mm, measured);
        self.head(layer, left_mm, height_mm, &self.about(measured));
    }

    /// Family and capacity in words.
    fn about(&self, measured: &Measured) -> Vec<String> {
        let mut lines = Vec::new();
        if let Some((family, why)) = &measured.family {
            lines.push(format!("{family}: {why}"));
        }
        let outside = format!("the outside encloses {:.0} ml", self.shape.volume_ml);
        lines.push(match self.part.capacity_ml.filter(|ml| *ml > 0.0) {
            Some(ml) => format!(
                "{outside}, {:.2} times the {ml:.0} ml it is said to hold",
                self.shape.volume_ml / ml
            ),
            None => outside,
        });
        if let Some(handle) = &self.part.handle {
            let (from_mm, to_mm) = handle.along_mm;
            lines.push(format!(
                "handle (dashed) from {} to {} along the wall, {} wide, at {:.0} deg",
                self.length(from_mm),
                self.length(to_mm),
                self.length(handle.width_mm),
                handle.around_rad.to_degrees()
            ));
        }
        lines
    }

    /// Girth and diameter at each reading, on the right.
    fn readings(&self, layer: &mut Layer, axis_mm: f64, widest_mm: f64, measured: &Measured) {
        let heights: Vec<f64> = measured.readings.iter().map(|reading| -reading.z_mm).collect();
        // A wall can come back up: the words stand in order of height.
        let mut order: Vec<usize> = (0..heights.len()).collect();
        order.sort_by(|a, b| heights[*a].total_cmp(&heights[*b]));
        let wanted: Vec<f64> = order.iter().map(|index| heights[*index]).collect();
        let column_mm = axis_mm + widest_mm + LEADER_MM;
        for (index, at_mm) in order.into_iter().zip(spread(&wanted, LINE_MM)) {
            let reading = &measured.readings[index];
            let read_mm = reading.radius_mm - reading.off_mm;
            let dot = DVec2::new(axis_mm + read_mm, -reading.z_mm);
            layer.marks.push(Mark::circle(dot, 0.5, Ink::fill(INK)));
            let elbow = DVec2::new(column_mm - 3.0, at_mm);
            let start = DVec2::new(axis_mm + widest_mm + 2.0, dot.y);
            let leader = Trace::line([dot, start, elbow, DVec2::new(column_mm - 0.8, at_mm)]);
            layer.marks.push(Mark::path(leader, LEADER));
            let off = if reading.step_mm > 0.0 {
                format!(", wall {:+.2} mm of radius", crate::numbers::rounded(reading.off_mm, 2))
            } else {
                String::new()
            };
            let words = format!(
                "at {}: round {}, across {}{off}",
                self.length(reading.along_mm),
                self.length(std::f64::consts::TAU * read_mm),
                self.length(2.0 * read_mm)
            );
            self.words(layer, &words, DVec2::new(column_mm, at_mm + CAPITAL_MM / 2.0));
        }
    }

    /// Height of the part and of each band, on the left; gives where the words begin.
    fn bands(&self, layer: &mut Layer, axis_mm: f64, widest_mm: f64, measured: &Measured) -> f64 {
        let line_mm = axis_mm - widest_mm - 6.0;
        let mut top_mm = -self.shape.height_mm;
        let mut words: Vec<(f64, String)> = Vec::new();
        for band in &measured.bands {
            let end_mm = top_mm + band.height_mm;
            if band.height_mm > 0.05 {
                dimension(layer, DVec2::new(line_mm, top_mm), DVec2::new(line_mm, end_mm));
            }
            words.push(((top_mm + end_mm) / 2.0, self.band(band)));
            top_mm = end_mm;
        }
        if measured.bands.len() > 1 {
            words.push((top_mm, format!("whole height {}", self.length(self.shape.height_mm))));
        }
        let wanted: Vec<f64> = words.iter().map(|(at_mm, _)| *at_mm).collect();
        let wide = words.iter().map(|(_, words)| {
            let zero = DVec2::ZERO;
            self.letters.write(words, CAPITAL_MM, Anchor::Start, zero, 0.0).bounds().size().x
        });
        let left_mm = line_mm - 3.0 - wide.fold(0.0, f64::max);
        for ((_, words), at_mm) in words.iter().zip(spread(&wanted, LINE_MM)) {
            self.words(layer, words, DVec2::new(left_mm, at_mm + CAPITAL_MM / 2.0));
        }
        left_mm
    }

    fn band(&self, band: &MeasuredBand) -> String {
        let wall_mm = band.along_mm.1 - band.along_mm.0;
        let cone = || format!("cone of {:.1}°", 2.0 * band.lean_rad.to_degrees().abs());
        let form = band.form().map_or_else(cone, str::to_owned);
        format!(
            "{}: height {}, wall {}, {form}",
            band.name,
            self.length(band.height_mm),
            self.length(wall_mm)
        )
    }

    /// The window of a handle as seen from the front.
    fn handle(&self, layer: &mut Layer, axis_mm: f64, handle: &Handle) {
        let Surface::Revolved(wall) = &self.shape.surface else { return };
        let (from_mm, to_mm) = handle.along_mm;
        let steps = ((to_mm - from_mm) / STEP_MM).ceil().max(1.0) as usize;
        let seen = |side: f64, step: usize| {
            let along_mm = from_mm + (to_mm - from_mm) * step as f64 / steps as f64;
            let radius_mm = wall.radius_mm(along_mm);
            let half = side * handle.width_mm / 2.0 / radius_mm.max(f64::MIN_POSITIVE);
            let x_mm = radius_mm * libm::sin(handle.around_rad + half);
            DVec2::new(axis_mm + x_mm, -wall.z_mm(along_mm))
        };
        let down = (0..=steps).map(|step| seen(1.0, step));
        let up = (0..=steps).rev().map(|step| seen(-1.0, step));
        layer.marks.push(Mark::path(Trace::outline(down.chain(up)), HANDLE));
        let middle = Bounds::EMPTY.with(seen(0.0, 0)).with(seen(0.0, steps));
        layer.marks.push(Mark::path(Trace::line(middle.corners()), HANDLE));
    }
}
