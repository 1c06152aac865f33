//! What marks are drawn with.

use crate::numbers::short;
use std::fmt::Write;

/// sRGB.
pub(crate) type Srgb = [u8; 3];

/// The ink of every sheet: nearly black, a little towards deep water.
pub(crate) const INK: Srgb = [0x1d, 0x2a, 0x2c];
/// Lines that guide and are not cut.
pub(crate) const GUIDE: Srgb = [0x8d, 0x93, 0x8a];
/// The paper.
pub(crate) const WHITE: Srgb = [0xff, 0xff, 0xff];
/// The one accent.
pub(crate) const ACCENT: Srgb = [0x4d, 0x63, 0x1f];

/// How a mark is inked.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Ink {
    pub(crate) fill: Option<Srgb>,
    pub(crate) stroke: Option<(Srgb, f64)>,
    pub(crate) dash_mm: Option<(f64, f64)>,
}

impl Ink {
    pub(crate) const fn fill(colour: Srgb) -> Self {
        Self { fill: Some(colour), stroke: None, dash_mm: None }
    }

    pub(crate) const fn line(colour: Srgb, width_mm: f64) -> Self {
        Self { fill: None, stroke: Some((colour, width_mm)), dash_mm: None }
    }

    pub(crate) const fn dashed(colour: Srgb, width_mm: f64, on_mm: f64, off_mm: f64) -> Self {
        Self { fill: None, stroke: Some((colour, width_mm)), dash_mm: Some((on_mm, off_mm)) }
    }

    pub(crate) const fn outlined(fill: Srgb, line: Srgb, width_mm: f64) -> Self {
        Self { fill: Some(fill), stroke: Some((line, width_mm)), dash_mm: None }
    }

    pub(super) fn attributes(&self) -> String {
        let hex = |[r, g, b]: Srgb| format!("#{r:02x}{g:02x}{b:02x}");
        let mut text = format!("fill=\"{}\"", self.fill.map_or_else(|| "none".to_owned(), hex));
        if self.fill.is_some() {
            text.push_str(" fill-rule=\"evenodd\"");
        }
        if let Some((colour, width_mm)) = self.stroke {
            let _ =
                write!(text, " stroke=\"{}\" stroke-width=\"{}\"", hex(colour), short(width_mm));
        }
        if let Some((on_mm, off_mm)) = self.dash_mm {
            let _ = write!(text, " stroke-dasharray=\"{} {}\"", short(on_mm), short(off_mm));
        }
        text
    }
}
