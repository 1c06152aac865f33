//! Letters as outlines, so that a drawing looks the same wherever it is opened and no program has
//! to have the typeface.

use super::Trace;
use crate::typeset::SANS_BOLD;
use glam::DVec2;
use skrifa::instance::{LocationRef, Size};
use skrifa::outline::{DrawSettings, OutlinePen};
use skrifa::{FontRef, MetadataProvider};
use std::cell::RefCell;
use std::collections::BTreeMap;
use std::rc::Rc;

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
    /// Letters met before: a sheet writes a few of them thousands of times.
    known: RefCell<BTreeMap<char, Rc<Glyph>>>,
}

/// A letter in font units, y up.
struct Glyph {
    advance: f64,
    strokes: Vec<Stroke>,
}

/// A step of an outline.
enum Stroke {
    Move([f32; 2]),
    Line([f32; 2]),
    Quadratic([[f32; 2]; 2]),
    Cubic([[f32; 2]; 3]),
    Close,
}

impl Letters {
    pub(crate) fn new() -> Self {
        let font = FontRef::new(SANS_BOLD).expect("the embedded typeface is whole");
        let metrics = font.metrics(Size::unscaled(), LocationRef::default());
        let capital = f64::from(metrics.cap_height.unwrap_or(metrics.ascent));
        Self { font, capital, known: RefCell::default() }
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
        let glyphs: Vec<_> = text.chars().map(|letter| self.glyph(letter)).collect();
        let width_mm = glyphs.iter().map(|glyph| glyph.advance).sum::<f64>() * scale;
        let start = match anchor {
            Anchor::Start => DVec2::ZERO,
            Anchor::Middle => DVec2::new(-width_mm / 2.0, capital_mm / 2.0),
        };
        let (sin, cos) = libm::sincos(turn_rad);
        let turn = DVec2::new(cos, sin);
        let mut trace = Trace::new();
        let mut along = start;
        for glyph in glyphs {
            // Font units run up, the page runs down.
            let page = |[x, y]: [f32; 2]| {
                at + turn.rotate(along + DVec2::new(f64::from(x), -f64::from(y)) * scale)
            };
            for stroke in &glyph.strokes {
                match stroke {
                    Stroke::Move(to) => trace.move_to(page(*to)),
                    Stroke::Line(to) => trace.line_to(page(*to)),
                    Stroke::Quadratic([control, to]) => {
                        trace.quadratic_to(page(*control), page(*to));
                    }
                    Stroke::Cubic([a, b, to]) => trace.cubic_to(page(*a), page(*b), page(*to)),
                    Stroke::Close => trace.close(),
                }
            }
            along.x += glyph.advance * scale;
        }
        trace
    }

    fn glyph(&self, letter: char) -> Rc<Glyph> {
        if let Some(glyph) = self.known.borrow().get(&letter) {
            return Rc::clone(glyph);
        }
        let Some(id) = self.font.charmap().map(letter) else {
            let glyph = Rc::new(boxed(self.capital));
            self.known.borrow_mut().insert(letter, Rc::clone(&glyph));
            return glyph;
        };
        let metrics = self.font.glyph_metrics(Size::unscaled(), LocationRef::default());
        let advance = f64::from(metrics.advance_width(id).unwrap_or(0.0));
        let mut glyph = Glyph { advance, strokes: Vec::new() };
        if let Some(outline) = self.font.outline_glyphs().get(id) {
            let settings = DrawSettings::unhinted(Size::unscaled(), LocationRef::default());
            // An outline that cannot be drawn leaves its place empty.
            let _ = outline.draw(settings, &mut glyph);
        }
        let glyph = Rc::new(glyph);
        self.known.borrow_mut().insert(letter, Rc::clone(&glyph));
        glyph
    }
}

/// The box in place of a letter that the typeface lacks; its own may be empty.
fn boxed(capital: f64) -> Glyph {
    let (wide, high, line) = (0.7 * capital as f32, capital as f32, 0.1 * capital as f32);
    let side = 0.1 * wide;
    let ring = |inset: f32, back: bool| {
        let (left, right, low, top) = (side + inset, wide - side - inset, inset, high - inset);
        let mut corners = [[left, low], [right, low], [right, top], [left, top]];
        if back {
            corners.reverse();
        }
        let lines = corners[1..].iter().map(|corner| Stroke::Line(*corner));
        std::iter::once(Stroke::Move(corners[0]))
            .chain(lines.collect::<Vec<_>>())
            .chain([Stroke::Close])
    };
    let strokes = ring(0.0, false).chain(ring(line, true)).collect();
    Glyph { advance: f64::from(wide), strokes }
}

impl OutlinePen for Glyph {
    fn move_to(&mut self, x: f32, y: f32) {
        self.strokes.push(Stroke::Move([x, y]));
    }

    fn line_to(&mut self, x: f32, y: f32) {
        self.strokes.push(Stroke::Line([x, y]));
    }

    fn quad_to(&mut self, cx: f32, cy: f32, x: f32, y: f32) {
        self.strokes.push(Stroke::Quadratic([[cx, cy], [x, y]]));
    }

    fn curve_to(&mut self, ax: f32, ay: f32, bx: f32, by: f32, x: f32, y: f32) {
        self.strokes.push(Stroke::Cubic([[ax, ay], [bx, by], [x, y]]));
    }

    fn close(&mut self) {
        self.strokes.push(Stroke::Close);
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::drawing::Bounds;

    #[test]
    fn a_letter_that_the_typeface_lacks_shows_as_a_box_as_high_as_a_capital() {
        let letters = Letters::new();
        let bounds = letters.write("נ", 5.0, Anchor::Start, DVec2::ZERO, 0.0).bounds();
        assert!((bounds.size().y - 5.0).abs() < 0.01 && bounds.size().x > 1.0, "{bounds:?}");
    }

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
