//! Stones on paper: circles at true size, told apart by letters or, where a letter does not fit, by
//! strokes; never by colour alone.

use crate::drawing::{Anchor, INK, Ink, Layer, Letters, Mark, Srgb, Trace};
use glam::DVec2;
use piece::Colour;

/// Least diameter that a letter is read in, mm.
const LETTER_FROM_MM: f64 = 2.2;

/// A stone on the page.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct PageStone {
    pub(crate) centre: DVec2,
    pub(crate) diameter_mm: f64,
    /// Index into the piece's colours.
    pub(crate) colour: usize,
    /// Layer of its zone, from 0.
    pub(crate) layer: usize,
    /// Patch within its part.
    pub(crate) patch: u32,
}

/// A colour on paper: light enough to read a letter and to save ink.
pub(super) fn paper(srgb: Srgb) -> Srgb {
    srgb.map(|part| 255 - ((255 - u16::from(part)) * 43 / 100) as u8)
}

/// Stones of other layers, so that a setter finds her place among them.
pub(super) const ASIDE: Ink = Ink::line([0xc4, 0xc8, 0xc1], 0.12);

/// Stones as rings that ask for nothing.
pub(super) fn rings(id: &str, title: &str, stones: &[PageStone], ink: Ink) -> Layer {
    let mut layer = Layer::new(id, title);
    let ring = |stone: &PageStone| Mark::circle(stone.centre, stone.diameter_mm / 2.0, ink);
    layer.marks.extend(stones.iter().map(ring));
    layer
}

/// Circles, then what tells their colours apart, colour by colour.
pub(crate) fn stone_layers(
    id: &str,
    title: &str,
    stones: &[PageStone],
    colours: &[Colour],
    letters: &Letters,
) -> [Layer; 2] {
    let mut circles = Layer::new(format!("{id}-stones"), title);
    let mut signs =
        Layer::new(format!("{id}-letters"), format!("{title}: letters of their colours"));
    for (index, colour) in colours.iter().enumerate() {
        let ink = Ink::outlined(paper(colour.srgb), INK, 0.1);
        for stone in stones.iter().filter(|stone| stone.colour == index) {
            circles.marks.push(Mark::circle(stone.centre, stone.diameter_mm / 2.0, ink));
            let (trace, ink) = sign(stone.centre, stone.diameter_mm, index, colour, letters);
            if !trace.is_empty() {
                signs.marks.push(Mark::path(trace, ink));
            }
        }
    }
    [circles, signs]
}

/// The letter of a colour in a stone, or the strokes that stand for it in a small one.
fn sign(
    at: DVec2,
    diameter_mm: f64,
    index: usize,
    colour: &Colour,
    letters: &Letters,
) -> (Trace, Ink) {
    let wide = 0.8 * diameter_mm / colour.letter.chars().count().max(1) as f64;
    if diameter_mm >= LETTER_FROM_MM {
        let capital_mm = (0.5 * diameter_mm).min(wide).min(3.0);
        return (
            letters.write(&colour.letter, capital_mm, Anchor::Middle, at, 0.0),
            Ink::fill(INK),
        );
    }
    (strokes(at, 0.3 * diameter_mm, index), Ink::line(INK, 0.18))
}

/// Strokes by the number of a colour: none, a bar, a post, a cross, then slanted; with one more ring
/// for every eight.
fn strokes(at: DVec2, arm_mm: f64, index: usize) -> Trace {
    let mut trace = Trace::new();
    let slant = (index / 4) % 2 == 1;
    // An eighth of a turn.
    let way = if slant { DVec2::splat(std::f64::consts::FRAC_1_SQRT_2) } else { DVec2::X };
    let (bar, post) = (way * arm_mm, way.perp() * arm_mm);
    if index % 4 == 1 || index % 4 == 3 {
        trace.polyline([at - bar, at + bar]);
    }
    if index % 4 >= 2 {
        trace.polyline([at - post, at + post]);
    }
    if slant && index.is_multiple_of(4) {
        trace.append(&Trace::circle(at, arm_mm * 0.4));
    }
    for ring in 0..index / 8 {
        trace.append(&Trace::circle(at, arm_mm * (1.0 - 0.17 * ring as f64)));
    }
    trace
}

/// What stands for a colour in stones of this diameter, as a small picture for a legend.
pub(crate) fn colour_mark(
    index: usize,
    colour: &Colour,
    diameter_mm: f64,
    letters: &Letters,
) -> Layer {
    let mut layer = Layer::new("legend", colour.name.clone());
    let ink = Ink::outlined(paper(colour.srgb), INK, 0.1);
    layer.marks.push(Mark::circle(DVec2::ZERO, diameter_mm / 2.0, ink));
    let (trace, ink) = sign(DVec2::ZERO, diameter_mm, index, colour, letters);
    if !trace.is_empty() {
        layer.marks.push(Mark::path(trace, ink));
    }
    layer
}

#[cfg(test)]
mod tests {
    use super::*;
    use std::collections::BTreeSet;

    #[test]
    fn forty_colours_of_small_stones_differ_without_colour() {
        let signs: BTreeSet<_> =
            (0..40).map(|index| strokes(DVec2::ZERO, 1.0, index).into_data()).collect();
        assert_eq!(signs.len(), 40);
    }

    #[test]
    fn paper_is_light_enough_for_ink_even_under_black() {
        // WCAG 2.2 asks 4.5:1 for text; relative luminance by its definition.
        let linear = |part: u8| {
            let share = f64::from(part) / 255.0;
            if share <= 0.04045 { share / 12.92 } else { libm::pow((share + 0.055) / 1.055, 2.4) }
        };
        let light = |[r, g, b]: Srgb| 0.2126 * linear(r) + 0.7152 * linear(g) + 0.0722 * linear(b);
        let contrast = (light(paper([0, 0, 0])) + 0.05) / (light(INK) + 0.05);
        assert!(contrast > 4.5, "{contrast}");
    }
}
