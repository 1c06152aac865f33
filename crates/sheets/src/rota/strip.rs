//! One week of the chart: a ruler of days with narrow nights, and beneath it rows of orders, spindles
//! and makers.

use super::axis::{Axis, DAYS, day_after, hour};
use super::blocks::{
    BAR, HAIR, HEADING, NAME, NIGHT, SMALL, SOFT, block, centred, fitted, plate, rectangle,
    resting, turning, window, words,
};
use super::captions::{Caption, LINE};
use super::lanes::{busy_until, rests_until, span};
use super::makers::{Look, NOBODY};
use super::rows::{About, Lane, PAD, Row, lane_height};
use super::{local, marks, said};
use crate::drawing::{GUIDE, INK, Ink, Layer, Letters, Mark, Trace, WHITE};
use crate::words::{clock, short_day};
use glam::DVec2;
use std::collections::BTreeSet;
use work::rota::Rota;

/// Height of the week's name and of the ruler of days, mm.
pub(super) const HEAD: f64 = 15.0;
/// Room for names at the left of the rows, mm.
pub(super) const LABELS: f64 = 46.0;

/// What every strip is drawn with.
pub(super) struct Pen<'a> {
    pub(super) rota: &'a Rota,
    pub(super) letters: &'a Letters,
    pub(super) looks: &'a [Look],
    /// Sittings that have an element of their own already; those that run on have another.
    pub(super) drawn: BTreeSet<usize>,
}

impl Pen<'_> {
    /// Draws rows of a week from `top` down, and gives its layers and its foot.
    pub(super) fn strip(
        &mut self,
        axis: &Axis,
        rows: &[Row],
        id: &str,
        top: f64,
    ) -> (Vec<Layer>, f64) {
        let week = format!("Week of {}", axis.monday.strftime("%A %-d %B %Y"));
        let mut ground = Layer::new(id, &*week);
        let foot = top + HEAD + rows.iter().map(|row| row.height).sum::<f64>();
        self.ruler(axis, &mut ground.marks, &week, (top, foot));
        let mut layers = vec![ground];
        let mut at = top + HEAD;
        for (index, row) in rows.iter().enumerate() {
            let kind = std::mem::discriminant(&row.about);
            let first = index == 0 || std::mem::discriminant(&rows[index - 1].about) != kind;
            let (ink, wide) = if first { (INK, 0.4) } else { (HAIR, 0.25) };
            let line =
                Trace::line([DVec2::new(axis.left - LABELS, at), DVec2::new(axis.right(), at)]);
            layers[0].marks.push(Mark::path(line, Ink::line(ink, wide)));
            match &row.about {
                About::Order(order, lanes) => {
                    layers.extend(self.order(axis, (*order, lanes), at, id));
                }
                About::Spindle(number) => {
                    layers.push(self.spindle(axis, *number, (at, at + row.height), id));
                }
                About::Maker(maker, captions) => {
                    layers.push(self.maker(axis, (*maker, captions), (at, at + row.height), id));
                }
            }
            at += row.height;
        }
        (layers, foot)
    }

    /// Days and hours, with the nights and the days on which nobody works shaded.
    fn ruler(&self, axis: &Axis, marks: &mut Vec<Mark>, week: &str, (top, foot): (f64, f64)) {
        let start = axis.left - LABELS;
        marks.push(words(self.letters, week, HEADING, (start, top + HEADING), INK));
        let grid = top + HEAD;
        let hours = axis.daytime;
        let shade = |left: f64, right: f64| {
            Mark::path(Trace::rectangle(rectangle(left, grid, right, foot)), Ink::fill(NIGHT))
        };
        for day in 0..DAYS {
            let date = day_after(axis.monday, day);
            let left = axis.left + day as f64 * axis.day_mm;
            let at = |hour: f64| left + hours.share(hour) * axis.day_mm;
            let open = self.rota.makers.iter().flat_map(|maker| &maker.open);
            let works = open.into_iter().any(|(from, until)| {
                (local(self.rota, *from).date()..=local(self.rota, *until).date()).contains(&date)
            });
            if works {
                marks.push(shade(left, at(hours.from)));
                marks.push(shade(at(hours.until), left + axis.day_mm));
            } else {
                marks.push(shade(left, left + axis.day_mm));
            }
            let ink = if works { INK } else { SOFT };
            let middle = left + axis.day_mm / 2.0;
            marks.push(centred(self.letters, &short_day(date), NAME, (middle, grid - 6.6), ink));
            self.hours(marks, &at, (hours.from, hours.until), grid);
            let line = Trace::line([DVec2::new(left, grid - 8.6), DVec2::new(left, foot)]);
            marks.push(Mark::path(line, Ink::line(GUIDE, 0.3)));
        }
        let line =
            Trace::line([DVec2::new(axis.right(), grid - 8.6), DVec2::new(axis.right(), foot)]);
        marks.push(Mark::path(line, Ink::line(GUIDE, 0.3)));
        let line = Trace::line([DVec2::new(start, foot), DVec2::new(axis.right(), foot)]);
        marks.push(Mark::path(line, Ink::line(INK, 0.4)));
        let begins = local(self.rota, self.rota.begins);
        if axis.holds(begins) && hour(begins) > 0.0 {
            marks.push(marks::beginning(axis.x(begins), grid, foot));
        }
    }

    /// A tick at every hour of the day, and a number at every third.
    fn hours(
        &self,
        marks: &mut Vec<Mark>,
        at: &dyn Fn(f64) -> f64,
        (from, until): (f64, f64),
        grid: f64,
    ) {
        let step = if at(from + 3.0) - at(from) > 5.0 { 3 } else { 6 };
        for hour in from as u32..=until as u32 {
            let x = at(f64::from(hour));
            let told = hour % step == 0;
            let rise = if told { 1.4 } else { 0.8 };
            let line = Trace::line([DVec2::new(x, grid - rise), DVec2::new(x, grid)]);
            marks.push(Mark::path(line, Ink::line(GUIDE, 0.25)));
            if told {
                let name = hour.to_string();
                marks.push(centred(self.letters, &name, SMALL, (x, grid - 2.9), SOFT));
            }
        }
    }

    /// What an order's row shows: what rests, then a layer for each sitting, then marks and words.
    fn order(
        &mut self,
        axis: &Axis,
        (order, lanes): (usize, &[Lane]),
        top: f64,
        id: &str,
    ) -> Vec<Layer> {
        let told = &self.rota.orders[order];
        let mut ground = Layer::new(format!("{id}-order-{}", order + 1), &*told.title);
        self.label(&mut ground.marks, axis, order, top);
        let mut sittings = Vec::new();
        let mut over = Layer::new(format!("{id}-days-{}", order + 1), "Days and words");
        let mut at = top + PAD;
        for lane in lanes {
            let middle = at + BAR / 2.0;
            for &index in &lane.sittings {
                let sitting = &self.rota.sittings[index];
                let rest = (busy_until(sitting), rests_until(sitting));
                ground.marks.extend(
                    span(self.rota, axis, rest).into_iter().flat_map(|rest| resting(rest, middle)),
                );
                sittings.extend(self.sitting(axis, index, at));
            }
            over.marks.extend(self.captions(&lane.captions, at + BAR));
            at += lane_height(&lane.captions) + 0.6;
        }
        let (days, _) = marks::drawn(
            self.rota,
            told,
            axis,
            (top + 0.6, top + PAD + BAR / 2.0, top + PAD + BAR + 0.4),
        );
        over.marks.extend(days);
        let mut layers = vec![ground];
        layers.extend(sittings);
        layers.push(over);
        layers
    }

    /// A sitting in its order's row, with the time on the turner and the recoat window after it.
    fn sitting(&mut self, axis: &Axis, index: usize, top: f64) -> Option<Layer> {
        let sitting = &self.rota.sittings[index];
        let mut marks = Vec::new();
        if let Some((_, until)) = &sitting.turning {
            let turns = span(self.rota, axis, (sitting.at.0, *until));
            marks.extend(
                turns.into_iter().flat_map(|turns| turning(turns, top + 0.8, top + BAR - 0.8)),
            );
        }
        if let Some(open) = sitting.recoat.and_then(|open| span(self.rota, axis, open)) {
            marks.push(window(open, top + BAR));
        }
        if let Some(hands) = span(self.rota, axis, sitting.at) {
            let look = sitting.maker.map_or(&NOBODY, |maker| &self.looks[maker]);
            marks.extend(block(self.letters, hands, top, look, sitting.fixed));
        }
        if marks.is_empty() {
            return None;
        }
        let on = if self.drawn.insert(index) { "" } else { "-on" };
        let id = match on {
            "" => format!("sitting-{}", index + 1),
            _ => format!("sitting-{}{on}-{}", index + 1, axis.monday),
        };
        Some(Layer { marks, ..Layer::new(id, said::in_full(self.rota, sitting)) })
    }

    /// Number, title and days of an order at the left of its row.
    fn label(&self, marks: &mut Vec<Mark>, axis: &Axis, order: usize, top: f64) {
        let told = &self.rota.orders[order];
        let (left, right) = (axis.left - LABELS, axis.left - 2.0);
        let number = (order + 1).to_string();
        marks.push(words(self.letters, &number, NAME, (left, top + PAD + NAME), SOFT));
        let start = left + 5.5;
        let title = fitted(self.letters, &told.title, NAME, right - start);
        marks.push(words(self.letters, &title, NAME, (start, top + PAD + NAME), INK));
        let base = top + PAD + NAME + 1.6 + SMALL;
        let mut at = start;
        if said::late(told).is_some() {
            let (late, end) = plate(self.letters, "LATE", (start, base));
            marks.extend(late);
            at = end + 1.0;
        }
        let leaves = local(self.rota, told.leaves);
        let mut about = format!("leaves {} {}", short_day(leaves.date()), clock(leaves));
        if told.quantity > 1 {
            about = format!("{} \u{b7} {about}", said::pieces(told.quantity));
        }
        let about = fitted(self.letters, &about, SMALL, right - at);
        marks.push(words(self.letters, &about, SMALL, (at, base), SOFT));
    }

    /// What turns on a spindle.
    fn spindle(&self, axis: &Axis, number: u32, (top, foot): (f64, f64), id: &str) -> Layer {
        let name = format!("Spindle {number}");
        let mut layer = Layer::new(format!("{id}-spindle-{number}"), &*name);
        let middle = (top + foot) / 2.0;
        let left = axis.left - LABELS + 5.5;
        layer.marks.push(words(self.letters, &name, NAME, (left, middle + NAME / 2.0), INK));
        for sitting in &self.rota.sittings {
            let Some((numbers, until)) = &sitting.turning else { continue };
            let turns = span(self.rota, axis, (sitting.at.0, *until));
            let Some((from, until)) = turns.filter(|_| numbers.contains(&number)) else { continue };
            layer.marks.extend(turning((from, until), top + 0.8, foot - 0.8));
            let mut text = (sitting.order + 1).to_string();
            text.extend(sitting.part.iter().map(|part| format!(" {part}")));
            text.extend(sitting.mix.iter().map(|mix| format!(", mix {mix}")));
            let text = fitted(self.letters, &text, SMALL + 0.2, until - from - 1.2);
            if !text.is_empty() {
                let base = middle + SMALL / 2.0;
                let wide = super::blocks::width(self.letters, &text, SMALL + 0.2);
                // The water would run through the letters.
                let behind = rectangle(from + 0.3, top + 1.2, from + wide + 1.1, foot - 1.2);
                layer
                    .marks
                    .push(Mark::path(Trace::rectangle(behind), Ink::fill(super::blocks::TIDE)));
                layer.marks.push(words(self.letters, &text, SMALL + 0.2, (from + 0.7, base), INK));
            }
        }
        layer
    }

    /// A maker's hours and what she does in them.
    fn maker(
        &self,
        axis: &Axis,
        (maker, captions): (usize, &[Caption]),
        (top, foot): (f64, f64),
        id: &str,
    ) -> Layer {
        let (told, look) = (&self.rota.makers[maker], &self.looks[maker]);
        let mut layer = Layer::new(format!("{id}-maker-{}", maker + 1), &*told.name);
        let left = axis.left - LABELS;
        let at = top + PAD;
        let sample = (left, left + 4.4);
        layer.marks.extend(block(self.letters, sample, at, look, false));
        let name = fitted(self.letters, &told.name, NAME, LABELS - 8.0);
        let base = at + (BAR + NAME) / 2.0;
        layer.marks.push(words(self.letters, &name, NAME, (left + 5.5, base), INK));
        for open in told.open.iter().filter_map(|open| span(self.rota, axis, *open)) {
            let form = rectangle(open.0, top + 0.6, open.1, foot - 0.6);
            layer.marks.push(Mark::path(Trace::rectangle(form), Ink::outlined(WHITE, GUIDE, 0.25)));
        }
        for sitting in self.rota.sittings.iter().filter(|sitting| sitting.maker == Some(maker)) {
            let hands = span(self.rota, axis, sitting.at);
            layer.marks.extend(
                hands
                    .into_iter()
                    .flat_map(|hands| block(self.letters, hands, at, look, sitting.fixed)),
            );
        }
        layer.marks.extend(self.captions(captions, at + BAR));
        layer
    }

    fn captions(&self, captions: &[Caption], top: f64) -> Vec<Mark> {
        let caption = |caption: &Caption| {
            let base = top + LINE * (caption.line + 1) as f64 - 0.5;
            if caption.strong {
                plate(self.letters, &caption.text, (caption.left, base)).0
            } else {
                vec![words(self.letters, &caption.text, SMALL, (caption.left, base), INK)]
            }
        };
        captions.iter().flat_map(caption).collect()
    }
}
