//! Colours of a layer: mingled by shares, a gradient along a way, or a picture.

use super::{idle, sizes, way};
use crate::file::stones::{ColourEntry, LayerFile};
use crate::resolve::Bench;
use crate::resolve::colours::Palette;
use crate::{Colouring, FieldPath, Form};
use std::collections::BTreeSet;
use std::sync::Arc;

pub(super) fn colours(
    file: &LayerFile,
    form: Option<&Form>,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> (Vec<(usize, f64)>, Colouring) {
    idle(
        file.gradient.is_some() && file.picture.is_some(),
        "picture",
        "`gradient` and `picture` cannot stand together",
        "keep one of them, or make two zones of it",
        path,
        bench,
    );
    let gradient =
        file.gradient.as_ref().map(|typed| way::way(typed, form, &path.key("gradient"), bench));
    let picture =
        file.picture.as_ref().map(|typed| way::picture(typed, form, &path.key("picture"), bench));
    let Some(listed) = &file.colours else {
        for (key, given) in [("gradient", gradient.is_some()), ("picture", picture.is_some())] {
            let hint = format!("leave `{key}` out, or list several under `colours`");
            idle(given, key, "there is only one colour", &hint, path, bench);
        }
        let one = file.colour.iter();
        let colours =
            one.map(|name| (palette.find(&path.key("colour"), name, bench), 1.0)).collect();
        return (colours, Colouring::Mingled);
    };
    for (key, given) in [("gradient", gradient.is_some()), ("picture", picture.is_some())] {
        let hint = format!("leave `{key}` out, or list more colours");
        idle(given && listed.len() < 2, key, "there is only one colour", &hint, path, bench);
    }
    let path = path.key("colours");
    let found = found(listed, gradient.is_some(), &path, palette, bench);
    let typed: Vec<Option<f64>> =
        listed.iter().map(|one| one.share().map(|share| share.0)).collect();
    if gradient.is_none() {
        for (index, _) in listed.iter().enumerate().filter(|(_, one)| one.at().is_some()) {
            bench.error_hint(
                &path.index(index).key("at"),
                "there is no gradient on which this could be a place",
                "leave `at` out, or add `gradient`",
            );
        }
    }
    let with = |shares: Vec<f64>| found.iter().copied().zip(shares).collect();
    match (gradient, picture) {
        (Some(way), _) => {
            let why = "colours of a gradient have places, not shares";
            let hint = "write `at` for where the colour is pure, or leave both out";
            let shares = sizes::no_shares(&typed, why, hint, &path, bench);
            let at = stops(listed, &path, bench);
            let stops = at.into_iter().zip(found.iter().copied()).collect();
            (once(with(shares)), Colouring::Gradient { way, stops })
        }
        (None, Some(picture)) => {
            let why = "in a picture each colour has the share that the picture gives it";
            let shares = sizes::no_shares(&typed, why, "leave `share` out", &path, bench);
            (with(shares), Colouring::Picture(Arc::new(picture)))
        }
        (None, None) => (with(sizes::shares(&typed, &path, bench)), Colouring::Mingled),
    }
}

/// Each listed colour; one may come again only on a gradient.
fn found(
    listed: &[ColourEntry],
    again: bool,
    path: &FieldPath,
    palette: &mut Palette,
    bench: &mut Bench<'_>,
) -> Vec<usize> {
    let mut seen = BTreeSet::new();
    let mut colours = Vec::new();
    for (index, one) in listed.iter().enumerate() {
        let path = match one {
            ColourEntry::Name(_) => path.index(index),
            ColourEntry::Table(_) => path.index(index).key("colour"),
        };
        colours.push(palette.find(&path, one.name(), bench));
        if !seen.insert(one.name()) && !again {
            bench.error(&path, format!("the colour `{}` is listed twice", one.name()));
        }
    }
    colours
}

/// A list without what comes again, its shares scaled to sum to 1.
fn once(colours: Vec<(usize, f64)>) -> Vec<(usize, f64)> {
    let mut kept: Vec<(usize, f64)> = Vec::new();
    for (colour, share) in colours {
        match kept.iter_mut().find(|(other, _)| *other == colour) {
            Some(other) => other.1 += share,
            None => kept.push((colour, share)),
        }
    }
    kept
}

/// Where each colour is pure: as typed, 0 and 1 at the ends, and evenly between those that are typed.
fn stops(listed: &[ColourEntry], path: &FieldPath, bench: &mut Bench<'_>) -> Vec<f64> {
    let last = listed.len().saturating_sub(1);
    let mut at: Vec<Option<f64>> = listed.iter().map(|one| one.at().map(|at| at.0)).collect();
    for (index, place) in at.iter().enumerate() {
        if let Some(place) = place.filter(|place| *place > 1.0) {
            bench.error(
                &path.index(index).key("at"),
                format!("the place is {} %; a way ends at 100 %", (place * 1e4).round() / 1e2),
            );
        }
    }
    let mut before: Option<f64> = None;
    for (index, place) in at.iter().enumerate() {
        let (Some(place), Some(from)) = (place, before) else {
            before = place.or(before);
            continue;
        };
        if *place <= from {
            bench.error_hint(
                &path.index(index).key("at"),
                format!(
                    "the place {} % does not come after {} %",
                    (place * 1e4).round() / 1e2,
                    (from * 1e4).round() / 1e2
                ),
                "list the colours in the order in which they come along the way",
            );
        }
        before = Some(*place);
    }
    if let Some(first) = at.first_mut() {
        first.get_or_insert(0.0);
    }
    if let Some(end) = at.last_mut() {
        end.get_or_insert(1.0);
    }
    (0..at.len())
        .map(|index| {
            let known = |index: usize| at[index].map(|place| (index, place));
            let before = (0..=index).rev().find_map(known).unwrap_or((0, 0.0));
            let after = (index..=last).find_map(known).unwrap_or((last, 1.0));
            if before.0 == after.0 {
                before.1
            } else {
                let share = (index - before.0) as f64 / (after.0 - before.0) as f64;
                before.1 + share * (after.1 - before.1)
            }
        })
        .collect()
}
