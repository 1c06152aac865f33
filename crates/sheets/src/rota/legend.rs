//! What the forms of the chart mean, in lines as wide as the chart.

use super::blocks::{BAR, SMALL, block, resting, turning, width, window, words};
use super::makers::{Look, NOBODY};
use super::marks;
use super::rows::spindles;
use crate::drawing::{Bounds, INK, Layer, Letters, Mark};
use work::rota::Rota;

/// Height of a line of the legend, mm.
const LINE: f64 = 7.0;
/// Width of a sample, and room behind each name, mm.
const SAMPLE: f64 = 7.0;
const ROOM: f64 = 5.0;
/// Height of capitals of the names, mm.
const NAME: f64 = SMALL + 0.15;

/// The legend from `top` down, and where it lies.
pub(super) fn legend(
    rota: &Rota,
    letters: &Letters,
    looks: &[Look],
    right: f64,
    top: f64,
) -> (Layer, Bounds) {
    let mut entries: Vec<(String, Box<Sample<'_>>)> = Vec::new();
    for (maker, look) in rota.makers.iter().zip(looks) {
        let sample = |x: f64, y: f64| block(letters, (x, x + 4.6), y, look, false);
        entries.push((maker.name.clone(), Box::new(sample)));
    }
    let mut add = |name: &str, sample| entries.push((name.to_owned(), sample));
    if rota.sittings.iter().any(|sitting| sitting.maker.is_none()) {
        add("nobody's hands", Box::new(|x, y| block(letters, (x, x + 4.6), y, &NOBODY, false)));
    }
    if rota.sittings.iter().any(|sitting| sitting.fixed) {
        let look = looks.first().unwrap_or(&NOBODY);
        add("done or under way", Box::new(move |x, y| block(letters, (x, x + 4.6), y, look, true)));
    }
    if spindles(rota) > 0 {
        add("turns", Box::new(|x, y| turning((x, x + 6.2), y + 0.8, y + BAR - 0.8)));
    }
    if rota.sittings.iter().any(|sitting| sitting.rests_until.is_some()) {
        add("cures or dries", Box::new(|x, y| resting((x, x + 6.0), y + BAR / 2.0)));
    }
    if rota.sittings.iter().any(|sitting| sitting.recoat.is_some()) {
        add("recoat without sanding", Box::new(|x, y| vec![window((x, x + 6.0), y + 3.0)]));
    }
    if rota.orders.iter().any(|order| order.leave_by.is_some()) {
        add("leave by", Box::new(|x, y| marks::flag(x + 2.0, y + 0.2, y + BAR - 0.2)));
    }
    add("leaves", Box::new(|x, y| marks::arrow((x + 3.0, y + BAR / 2.0))));
    if rota.orders.iter().any(|order| order.due.is_some()) {
        add("due", Box::new(|x, y| marks::diamond((x + 3.0, y + BAR / 2.0))));
    }
    add("nights and days off are shaded", Box::new(|x, y| super::blocks::shaded((x, x + 5.6), y)));

    let mut layer = Layer::new("legend", "What the forms mean");
    let (mut x, mut y) = (0.0, top);
    for (name, sample) in entries {
        let wide = SAMPLE + width(letters, &name, NAME);
        if x > 0.0 && x + wide > right {
            (x, y) = (0.0, y + LINE);
        }
        layer.marks.extend(sample(x, y));
        let at = (x + SAMPLE, y + (BAR + NAME) / 2.0);
        layer.marks.push(words(letters, &name, NAME, at, INK));
        x += wide + ROOM;
    }
    let bounds = super::blocks::rectangle(0.0, top, right, y + BAR);
    (layer, bounds.grown(0.3))
}

/// Draws a sample with its left end and top at a place, as high as a block.
type Sample<'a> = dyn Fn(f64, f64) -> Vec<Mark> + 'a;
