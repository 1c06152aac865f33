//! Letters as outlines, so that a drawing looks the same wherever it is opened and no program has
//! to have the typeface.

use super::Trace;
use crate::typeset::SANS_BOLD;
use glam::DVec2;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, GlyphId, MetadataProvider};

/// Which point of a line of text is placed.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Anchor {
    /// Left end of the base line.
    Start,
    /// Middle of the line and of a capital's height.
    Middle,
}

/// Draws text in the sheets' bold sans.
pub(crate) struct Letters {
    font: FontRef<'static>,
    /// Height of a capital in font units.
    capital: f64,
}

impl Letters {
    pub(crate) fn new() -> Self {
        let font = FontRef::new(SANS_BOLD).expect("the embedded typeface is whole");
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let capital = f64::from(metrics.cap_height.unwrap_or(metrics.ascent));
        Self { font, capital }
    }

    /// Outlines of `text` with capitals `capital_mm` high, anchored at `at` and turned clockwise by
    /// `turn_rad`. A letter that the typeface lacks shows as its empty box.
    pub(crate) fn write(
        &self,
        text: &str,
        capital_mm: f64,
        anchor: Anchor,
        at: DVec2,
        turn_rad: f64,
    ) -> Trace {
        let scale = capital_mm / self.capital;
        let glyphs = self.glyphs(text);
        let width_mm = glyphs.iter().map(|&(_, advance)| advance).sum::<f64>() * scale;
        let start = match anchor {
            Anchor::Start => DVec2::ZERO,
            Anchor::Middle => DVec2::new(-width_mm / 2.0, capital_mm / 2.0),
        };
        let outlines = self.font.outline_glyphs();
        let (sin, cos) = libm::sincos(turn_rad);
        let turn = DVec2::new(cos, sin);
        let mut trace = Trace::new();
        let mut along = start;
        for (glyph, advance) in glyphs {
            if let Some(outline) = outlines.get(glyph) {
                let mut pen = Pen { trace: &mut trace, at, along, scale, turn };
                let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
                // An outline that cannot be drawn leaves its place empty.
                let _ = outline.draw(settings, &mut pen);
            }
            along.x += advance * scale;
        }
        trace
    }

    fn glyphs(&self, text: &str) -> Vec<(GlyphId, f64)> {
        let charmap = self.font.charmap();
        let metrics = self.font.glyph_metrics(Size::unscaled(), LocationRef::default());
        text.chars()
            .map(|letter| charmap.map(letter).unwrap_or(GlyphId::NOTDEF))
            .map(|glyph| (glyph, f64::from(metrics.advance_width(glyph).unwrap_or(0.0))))
            .collect()
    }
}

/// Brings font units (y up) onto the page (y down).
struct Pen<'a> {
    trace: &'a mut Trace,
    at: DVec2,
    along: DVec2,
    scale: f64,
    turn: DVec2,
}

impl Pen<'_> {
    fn page(&self, x: f32, y: f32) -> DVec2 {
        let upright = self.along + DVec2::new(f64::from(x), -f64::from(y)) * self.scale;
        self.at + self.turn.rotate(upright)
    }
}

impl OutlinePen for Pen<'_> {
    fn move_to(&mut self, x: f32, y: f32) {
        let to = self.page(x, y);
        self.trace.move_to(to);
    }

    fn line_to(&mut self, x: f32, y: f32) {
        let to = self.page(x, y);
        self.trace.line_to(to);
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        let (control, to) = (self.page(cx, cy), self.page(x, y));
        self.trace.quadratic_to(control, to);
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        let (a, b, to) = (self.page(ax, ay), self.page(bx, by), self.page(x, y));
        self.trace.cubic_to(a, b, to);
    }

    fn close(&mut self) {
        self.trace.close();
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Bounds;

    #[test]
    fn a_capital_is_as_high_as_asked_and_stands_where_asked() {
        let letters = Letters::new();
        let at = DVec2::new(10.0, 20.0);
        let bounds: Bounds = letters.write("H", 5.0, Anchor::Middle, at, 0.0).bounds();
        // An H is flat at both ends, so its outline is the height of a capital: to 1 % of 5 mm.
        assert!((bounds.size().y - 5.0).abs() < 0.05, "{bounds:?}");
        assert!(((bounds.min + bounds.max) / 2.0 - at).length() < 0.1, "{bounds:?}");
    }

    #[test]
    fn turned_text_is_as_long_as_upright_text() {
        let letters = Letters::new();
        let quarter = std::f64::consts::FRAC_PI_2;
        let flat = letters.write("tide", 3.0, Anchor::Start, DVec2::ZERO, 0.0).bounds().size();
        let turned =
            letters.write("tide", 3.0, Anchor::Start, DVec2::ZERO, quarter).bounds().size();
        assert!((flat.x - turned.y).abs() < 1e-9 && (flat.y - turned.x).abs() < 1e-9);
    }
}
