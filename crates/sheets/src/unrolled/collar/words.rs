//! What stands on a collar in words: which edge lies flush, the four sides, what goes where, and how far
//! from the rim.

use super::End;
use super::frame::Frame;
use crate::drawing::{GUIDE, INK, Ink, Layer, Mark, Trace};
use crate::unrolled::Occupied;
use crate::unrolled::crests::angle;
use crate::words;
use glam::DVec2;
use piece::settings::LengthUnit;
use std::f64::consts::{FRAC_PI_2, PI, TAU};

/// From one line of words to the next, mm.
const LINE_MM: f64 = 2.6;

impl Frame<'_> {
    /// Strokes at the four sides along the edge that lies flush, and what to lay it flush with.
    pub(super) fn sides(&self, occupied: &mut Occupied) -> Layer {
        let mut layer =
            Layer::new("sides", "Front, right, back and left; the edge that lies flush");
        let (from, to) = self.cut.along_mm;
        let (edge, into) = if self.cut.end == End::Start { (from, 1.0) } else { (to, -1.0) };
        for quarter in 0..4 {
            let around = self.off_middle(f64::from(quarter) * FRAC_PI_2);
            let stroke = [self.page(around, edge), self.page(around, edge + into * 3.0)];
            occupied.line(&stroke);
            layer.marks.push(Mark::path(Trace::line(stroke), Ink::line(INK, 0.3)));
            let name = angle(f64::from(if quarter == 3 { -1 } else { quarter }) * FRAC_PI_2);
            let at = self.page(around, edge + into * 4.6);
            self.word(&mut layer, occupied, &name, at, around, edge);
        }
        let flush = format!("this edge flush with the {}", self.cut.flush(self.plan));
        self.along_edge(&mut layer, occupied, &flush, edge + into * 2.4);
        if let Some(decal) = &self.cut.beside {
            let other = if edge == from { to } else { from };
            let begins = format!("{} begins here", self.plan.piece.zones[decal.zone].name);
            self.along_edge(&mut layer, occupied, &begins, other - into * 2.4);
        }
        layer
    }

    /// The same words again and again along a parallel, wherever there is room.
    fn along_edge(&self, layer: &mut Layer, occupied: &mut Occupied, text: &str, along_mm: f64) {
        let mut last = f64::NEG_INFINITY;
        for step in -18..=18 {
            let around = f64::from(step) / 20.0 * PI;
            if around - last < 0.45 * PI {
                continue;
            }
            let at = self.page(around, along_mm);
            if self.word(layer, occupied, text, at, around, along_mm) {
                last = around;
            }
        }
    }

    /// The name of each decal beside the stroke at its middle, below its window or above it, where
    /// there is room.
    pub(super) fn names(&self, occupied: &mut Occupied) -> Layer {
        let mut layer = Layer::new("names", "What goes where");
        layer.words_whole = true;
        let (from, to) = self.cut.along_mm;
        for window in &self.cut.windows {
            for decal in &window.decals {
                let text = &self.plan.piece.zones[decal.zone].name;
                let middle = self.off_middle(f64::midpoint(decal.around.0, decal.around.1));
                let wide = self.write(text, DVec2::ZERO, 0.0).bounds().size().x / 2.0 + 1.6;
                let (above, below) = (window.along_mm.0, window.along_mm.1);
                let spots = [1.0, 1.8, 2.6]
                    .into_iter()
                    .flat_map(|lines| [below + lines * LINE_MM, above - lines * LINE_MM])
                    .filter(|along_mm| *along_mm > from + 1.5 && *along_mm < to - 1.5)
                    .flat_map(|along_mm| [1.0, -1.0].map(|side| (side, along_mm)));
                for (side, along_mm) in spots {
                    let radius_mm = self.cut.surface.around_scale_mm(along_mm).max(1.0);
                    let around = middle + side * wide / radius_mm;
                    let at = self.page(around, along_mm);
                    if self.word(&mut layer, occupied, text, at, around, along_mm) {
                        break;
                    }
                }
            }
        }
        layer
    }

    /// Level lines at round distances from the rim, numbered at both ends.
    pub(super) fn levels(&self, occupied: &mut Occupied) -> Layer {
        let mut layer = Layer::new("levels", "Level lines, measured along the wall from the rim");
        let (step_mm, inches) = match self.plan.settings.lengths {
            LengthUnit::Millimetres => (10.0, false),
            LengthUnit::Inches => (12.7, true),
        };
        let (from, to) = self.cut.along_mm;
        let hairline = Ink::dashed(GUIDE, 0.12, 1.5, 1.5);
        for count in (from / step_mm).ceil() as i64..=(to / step_mm).floor() as i64 {
            let along_mm = count as f64 * step_mm;
            if along_mm - from < 1.0 || to - along_mm < 1.0 {
                continue;
            }
            layer.marks.push(Mark::path(Trace::line(self.arc(-PI, PI, along_mm)), hairline));
            let name = if inches {
                words::trimmed(along_mm / 25.4, 1)
            } else {
                words::trimmed(along_mm, 0)
            };
            let off = 6.0 / self.cut.surface.around_scale_mm(along_mm).max(1.0);
            for around in [-PI + off, 0.5 * off, PI - off] {
                let right = self.right(around, along_mm);
                let at = self.page(around, along_mm) - right.perp() * 1.4;
                let number = self.write(&name, at, libm::atan2(right.y, right.x));
                if occupied.is_free(number.bounds().grown(0.3)) {
                    occupied.rectangle(number.bounds());
                    layer.marks.push(Mark::path(number, Ink::fill(GUIDE)));
                }
            }
        }
        layer
    }

    /// Where the decals of each zone go, in a line for the page, and which share a window.
    pub(super) fn places(&self) -> Vec<String> {
        let unit = self.plan.settings.lengths;
        let mut held: Vec<_> = self.cut.windows.iter().flat_map(|window| &window.decals).collect();
        // Stable: decals of one zone keep their order.
        held.sort_by_key(|decal| decal.zone);
        let rows =
            held.chunk_by(|a, b| a.zone == b.zone && (a.along_mm.0 - b.along_mm.0).abs() < 0.05);
        let rows = rows.map(|row| {
            let middles = row.iter().map(|decal| {
                let around = f64::midpoint(decal.around.0, decal.around.1);
                angle(around - TAU * (around / TAU).round())
            });
            format!(
                "{}: {} to {} from the rim, middle {}",
                self.name_of(row[0].zone),
                words::length(row[0].along_mm.0, unit),
                words::length(row[0].along_mm.1, unit),
                middles.collect::<Vec<_>>().join(", "),
            )
        });
        let mut places: Vec<String> = rows.collect();
        for together in self.sharing() {
            let mut names: Vec<&str> = together.iter().map(|zone| self.name_of(*zone)).collect();
            let last = names.pop().unwrap_or_default();
            places.push(format!(
                "{} and {last} share a window: lay them in this order, each by its own strokes",
                names.join(", ")
            ));
        }
        places
    }

    /// The zones that share a window, each such company once, in the order of work.
    fn sharing(&self) -> Vec<Vec<usize>> {
        let companies = self.cut.windows.iter().map(|window| {
            let mut zones: Vec<usize> = window.decals.iter().map(|decal| decal.zone).collect();
            zones.sort_unstable();
            zones.dedup();
            zones
        });
        let mut companies: Vec<Vec<usize>> = companies.filter(|zones| zones.len() > 1).collect();
        companies.sort_unstable();
        companies.dedup();
        companies
    }

    fn name_of(&self, zone: usize) -> &str {
        &self.plan.piece.zones[zone].name
    }
}
