//! The forms of which the chart is put together: blocks of hands-on time, light bars, words.

use super::makers::{Look, Pattern};
use crate::drawing::{Anchor, Bounds, GUIDE, INK, Ink, Letters, Mark, Srgb, Trace, WHITE};
use glam::DVec2;

/// Turning: water in a creek.
pub(super) const TIDE: Srgb = [0xd3, 0xe2, 0xe2];
/// Line of the water.
pub(super) const WATER: Srgb = [0x7f, 0xa3, 0xa6];
/// Left alone to cure or dry.
pub(super) const DRY: Srgb = [0xe3, 0xd6, 0xba];
/// The night, and days on which nobody works.
pub(super) const NIGHT: Srgb = [0xf3, 0xef, 0xe6];
/// Words of less weight.
pub(super) const SOFT: Srgb = [0x5f, 0x6a, 0x66];
/// Between rows.
pub(super) const HAIR: Srgb = [0xd8, 0xd2, 0xc4];

/// Height of a block, mm.
pub(super) const BAR: f64 = 5.0;
/// Least width of anything, mm: what takes five minutes is seen too.
const LEAST: f64 = 0.7;
/// Height of capitals in small words, in names and in headings, mm.
pub(super) const SMALL: f64 = 1.55;
pub(super) const NAME: f64 = 2.1;
pub(super) const HEADING: f64 = 3.2;

/// A rectangle from its left end, top, right end and foot.
pub(super) fn rectangle(left: f64, top: f64, right: f64, foot: f64) -> Bounds {
    Bounds::new(DVec2::new(left, top), DVec2::new(right.max(left + LEAST), foot))
}

/// Hands-on time between two places: filled and patterned by its maker, or hollow once it is done. The
/// maker's tag stands on it where it fits.
pub(super) fn block(
    letters: &Letters,
    (left, right): (f64, f64),
    top: f64,
    look: &Look,
    fixed: bool,
) -> Vec<Mark> {
    let form = rectangle(left, top, right, top + BAR);
    let nobody = look.tag.is_empty();
    if fixed || nobody {
        let ink = if nobody { Ink::line(SOFT, 0.3) } else { Ink::outlined(WHITE, look.fill, 0.5) };
        let dashed = Ink { fill: Some(WHITE), dash_mm: Some((0.8, 0.6)), ..ink };
        let mut marks = vec![Mark::path(Trace::rectangle(form), if nobody { dashed } else { ink })];
        if fixed && form.size().x > 2.2 {
            let middle = (form.min + form.max) / 2.0;
            let tick = [DVec2::new(-0.8, 0.1), DVec2::new(-0.2, 0.8), DVec2::new(0.9, -0.8)];
            let tick = Trace::line(tick.map(|corner| middle + corner));
            marks.push(Mark::path(tick, Ink::line(INK, 0.4)));
        }
        return marks;
    }
    let mut marks = vec![Mark::path(Trace::rectangle(form), Ink::fill(look.fill))];
    marks.extend(pattern(form, look));
    // Blocks that touch stay apart to the eye.
    marks.push(Mark::path(Trace::rectangle(form), Ink::line(WHITE, 0.2)));
    let wide = width(letters, &look.tag, NAME);
    if form.size().x > wide + 0.8 {
        let middle = (form.min + form.max) / 2.0;
        let half = DVec2::new(wide / 2.0 + 0.4, NAME / 2.0 + 0.5);
        if look.pattern != Pattern::Plain {
            let plate = Bounds::new(middle - half, middle + half);
            marks.push(Mark::path(Trace::rectangle(plate), Ink::fill(look.fill)));
        }
        let tag = letters.write(&look.tag, NAME, Anchor::Middle, middle, 0.0);
        marks.push(Mark::path(tag, Ink::fill(look.on_fill)));
    }
    marks
}

/// The pattern of a look within a rectangle.
fn pattern(form: Bounds, look: &Look) -> Vec<Mark> {
    const STEP: f64 = 1.15;
    let ink = Ink::line(look.on_fill, 0.22);
    let size = form.size();
    let mut lines = Trace::new();
    let mut dots = Vec::new();
    // Slanted lines cross the rectangle's foot or top at every step, and are cut at its sides.
    let mut slanted = |rising: bool| {
        let mut start = STEP / 2.0 - size.y;
        while start < size.x {
            let (from, until) = (start.max(0.0), (start + size.y).min(size.x));
            let at = |x: f64| {
                let run = x - start;
                DVec2::new(form.min.x + x, if rising { form.max.y - run } else { form.min.y + run })
            };
            if until - from > 0.05 {
                lines.polyline([at(from), at(until)]);
            }
            start += 1.5 * STEP;
        }
    };
    match look.pattern {
        Pattern::Plain => {}
        Pattern::Rising => slanted(true),
        Pattern::Falling => slanted(false),
        Pattern::Level => {
            let mut y = form.min.y + STEP / 2.0;
            while y < form.max.y {
                lines.polyline([DVec2::new(form.min.x, y), DVec2::new(form.max.x, y)]);
                y += STEP;
            }
        }
        Pattern::Upright => {
            let mut x = form.min.x + STEP / 2.0;
            while x < form.max.x {
                lines.polyline([DVec2::new(x, form.min.y), DVec2::new(x, form.max.y)]);
                x += STEP;
            }
        }
        Pattern::Dotted => {
            let mut y = form.min.y + STEP / 2.0;
            while y < form.max.y {
                let mut x = form.min.x + STEP / 2.0;
                while x + 0.25 < form.max.x {
                    dots.push(Mark::circle(DVec2::new(x, y), 0.25, Ink::fill(look.on_fill)));
                    x += STEP;
                }
                y += STEP;
            }
        }
    }
    if !lines.is_empty() {
        dots.push(Mark::path(lines, ink));
    }
    dots
}

/// A light bar for turning, with a tide line in it.
pub(super) fn turning((left, right): (f64, f64), top: f64, foot: f64) -> Vec<Mark> {
    let form = rectangle(left, top, right, foot);
    vec![
        Mark::path(Trace::rectangle(form), Ink::fill(TIDE)),
        Mark::path(tide_line((form.min.x, form.max.x), (top + foot) / 2.0), Ink::line(WATER, 0.3)),
    ]
}

/// Low waves between two places, each half a cubic that stays close to a sine.
fn tide_line((left, right): (f64, f64), y: f64) -> Trace {
    const WAVE: f64 = 3.0;
    const RISE: f64 = 0.45;
    let waves = ((right - left) / WAVE).floor().max(1.0);
    let half = (right - left) / waves / 2.0;
    // Control points at 0.3642 of half a wave and a slope of pi/2 follow a sine to 0.3 %.
    let (bend, steep) = (half * 0.3642, RISE * std::f64::consts::PI * 0.3642);
    let mut trace = Trace::new();
    trace.move_to(DVec2::new(left, y));
    for n in 0..(2.0 * waves) as u32 {
        let (x, up) = (left + half * f64::from(n), if n % 2 == 0 { -steep } else { steep });
        trace.cubic_to(
            DVec2::new(x + bend, y + up),
            DVec2::new(x + half - bend, y + up),
            DVec2::new(x + half, y),
        );
    }
    trace
}

/// A thin bar for what is left alone to cure or dry, ending on an upright line.
pub(super) fn resting((left, right): (f64, f64), y: f64) -> Vec<Mark> {
    let form = rectangle(left, y - 0.7, right, y + 0.7);
    let end = Trace::line([DVec2::new(right, y - 1.2), DVec2::new(right, y + 1.2)]);
    vec![Mark::path(Trace::rectangle(form), Ink::fill(DRY)), Mark::path(end, Ink::line(GUIDE, 0.3))]
}

/// A bracket for a recoat window.
pub(super) fn window((left, right): (f64, f64), y: f64) -> Mark {
    let corners = [(left, y - 0.9), (left, y), (right, y), (right, y - 0.9)];
    Mark::path(
        Trace::line(corners.map(|(x, y)| DVec2::new(x, y))),
        Ink::line(crate::drawing::ACCENT, 0.4),
    )
}

/// A sample of the night.
pub(super) fn shaded((left, right): (f64, f64), top: f64) -> Vec<Mark> {
    let form = rectangle(left, top, right, top + BAR);
    vec![Mark::path(Trace::rectangle(form), Ink::outlined(NIGHT, HAIR, 0.25))]
}

/// Words from a place on their base line.
pub(super) fn words(
    letters: &Letters,
    text: &str,
    capital: f64,
    at: (f64, f64),
    ink: Srgb,
) -> Mark {
    written(letters, text, (capital, Anchor::Start), at, ink)
}

/// Words about a middle.
pub(super) fn centred(
    letters: &Letters,
    text: &str,
    capital: f64,
    at: (f64, f64),
    ink: Srgb,
) -> Mark {
    written(letters, text, (capital, Anchor::Middle), at, ink)
}

fn written(
    letters: &Letters,
    text: &str,
    (capital, anchor): (f64, Anchor),
    at: (f64, f64),
    ink: Srgb,
) -> Mark {
    let at = DVec2::new(at.0, at.1);
    Mark::path(letters.write(text, capital, anchor, at, 0.0), Ink::fill(ink))
}

/// White words on a dark plate that begins at a place; what must not be missed. Gives its right end.
pub(super) fn plate(letters: &Letters, text: &str, at: (f64, f64)) -> (Vec<Mark>, f64) {
    let right = at.0 + width(letters, text, SMALL) + 1.4;
    let form = rectangle(at.0, at.1 - SMALL - 0.6, right, at.1 + 0.6);
    let marks = vec![
        Mark::path(Trace::rectangle(form), Ink::fill(INK)),
        words(letters, text, SMALL, (at.0 + 0.7, at.1), WHITE),
    ];
    (marks, right)
}

/// Width of words with capitals so high, mm.
pub(super) fn width(letters: &Letters, text: &str, capital: f64) -> f64 {
    let bounds = letters.write(text, capital, Anchor::Start, DVec2::ZERO, 0.0).bounds();
    if bounds.max.x.is_finite() { bounds.max.x } else { 0.0 }
}

/// As much of a text as fits, with an ellipsis where some is left out.
pub(super) fn fitted(letters: &Letters, text: &str, capital: f64, room: f64) -> String {
    if width(letters, text, capital) <= room {
        return text.to_owned();
    }
    let mut shown: Vec<char> = text.chars().collect();
    while shown.pop().is_some() {
        let short: String = shown.iter().collect::<String>().trim_end().to_owned() + "\u{2026}";
        if width(letters, &short, capital) <= room {
            return short;
        }
    }
    String::new()
}
