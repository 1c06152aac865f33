//! Placement of stones and wraps, cut into tiles that fit the page at true size.

use super::{Files, MARGIN_MM, notes_about, paper_mm, room_mm};
use crate::Plan;
use crate::drawing::{Drawing, Layer, Letters};
use crate::unrolled::{self, Placement, Tile, Trim, split};
use crate::{filled, stone_words, words};
use glam::DVec2;
use piece::{Colouring, Finish, StoneFinish};
use serde_json::{Value, json};
use std::collections::{BTreeMap, BTreeSet};

/// What the name of a tile and the space round it take on a page, mm.
const CAPTION_MM: f64 = 7.0;

/// Between two tiles side by side, mm; the same as in `pages/wrap.typ`.
const GUTTER_MM: f64 = 4.0;

/// How far a drawing reaches into the margin on either side, mm; the same as in the page designs.
const OUT_MM: f64 = 4.0;

/// Height that the margins, the head, the words and the ruler of a wrap page take, mm.
const WRAP_TAKEN_MM: f64 = 86.0;

/// Data of the placement pages: one entry for each zone of stones and band.
pub(super) fn placements(
    plan: &Plan,
    letters: &Letters,
    files: &mut Files,
    going: &mut dyn FnMut() -> bool,
) -> Vec<Value> {
    let mut pages = Vec::new();
    for (index, zone) in plan.piece.zones.iter().enumerate() {
        let Finish::Stones(finish) = &zone.finish else { continue };
        if !going() {
            break;
        }
        for placement in unrolled::placements(plan, index, letters) {
            pages.push(placement_page(plan, index, finish, placement, letters, files));
        }
    }
    pages
}

fn placement_page(
    plan: &Plan,
    zone: usize,
    finish: &StoneFinish,
    placement: Placement,
    letters: &Letters,
    files: &mut Files,
) -> Value {
    let stones = &placement.stones;
    let rows = stones.iter().map(|stone| stone.row).max().unwrap_or(0);
    let filled = plan.stones.zones.iter().find(|filled| filled.zone == zone);
    let mut sizes: BTreeMap<usize, usize> = BTreeMap::new();
    let mut colours: BTreeMap<usize, usize> = BTreeMap::new();
    for stone in stones {
        *sizes.entry(stone.size).or_default() += 1;
        *colours.entry(stone.colour).or_default() += 1;
    }
    let legend: Vec<_> = colours
        .iter()
        .map(|(&colour, &count)| {
            let marks = sizes.keys().map(|&size| {
                let diameter_mm = finish.sizes[size].diameter_mm;
                let layer = unrolled::colour_mark(
                    colour,
                    &plan.piece.colours[colour],
                    diameter_mm,
                    letters,
                );
                let file = format!("mark-{}.svg", files.len());
                let mark = Drawing { layers: vec![layer] };
                let bounds = mark.bounds().grown(0.1);
                files.insert(file.clone(), mark.tile(bounds).into_bytes());
                json!({ "file": file, "width_mm": bounds.size().x })
            });
            json!({
                "letter": plan.piece.colours[colour].letter,
                "name": plan.piece.colours[colour].name,
                "count": words::grouped(count),
                "marks": marks.collect::<Vec<_>>(),
            })
        })
        .collect();
    let sizes: Vec<_> = sizes
        .iter()
        .map(|(&size, &count)| {
            let of = &finish.sizes[size];
            json!({
                "name": of.name,
                "diameter": format!("{}\u{a0}mm", words::trimmed(of.diameter_mm, 2)),
                "count": words::grouped(count),
            })
        })
        .collect();
    let layers_told = layers_in_words(plan, finish, &placement);
    let (place, views) = placement.place;
    let view = (views > 1).then(|| view_in_words(&placement));
    let room = room_mm(plan);
    let tile_mm = DVec2::new(room.x + 2.0 * OUT_MM, room.y - 30.0);
    let revolved = plan.shape.zones[zone].surface.period().is_some();
    let (tiles, joins) = split(&placement.profile, tile_mm, revolved, &placement.occupied, letters);
    let mut layers = placement.drawing.layers;
    layers.push(joins);
    let pages = on_pages(tiles, DVec2::new(room.x + 2.0 * OUT_MM, f64::INFINITY));
    let shown = drawn(pages, &Drawing { layers }, "stones", files).concat();
    json!({
        "zone": plan.piece.zones[zone].name,
        "part": plan.piece.parts[plan.piece.zones[zone].part].name,
        "band": placement.band,
        "plate": plan.shape.zones[zone].surface.period().is_none(),
        "layout": filled.map_or("", |filled| &filled.layout),
        "layers": layers_told,
        "rules": stone_words::rules(finish),
        "material": finish.material.name(),
        "count": words::grouped(stones.len()),
        "stone_rows": if finish.layers.len() == 1 { rows } else { 0 },
        "gap": words::trimmed(finish.least_gap_mm(), 2),
        "first": place == 0,
        "view": view,
        "quality": filled.filter(|_| place == 0).map(|zone| filled::in_words(zone, finish)),
        "below_mm": words::trimmed(plan.shape.zones[zone].below_mm, 2),
        "error_mm": error(placement.error_mm),
        "legend": legend,
        "sizes": sizes,
        "rows": shown,
        "notes": if place == 0 { notes_about(plan, &format!("zone[{zone}]")) } else { json!([]) },
    })
}

/// Which of several views of a zone this is.
fn view_in_words(placement: &Placement) -> Value {
    let layers: Vec<String> =
        placement.view.layers.iter().map(|layer| (layer + 1).to_string()).collect();
    let (place, views) = placement.place;
    json!({
        "layers": layers,
        "place": place + 1,
        "of": views,
        "patches": ranges(&placement.view.patches),
    })
}

/// Numbers as people list them: `1–4`, `7`.
fn ranges(numbers: &BTreeSet<u32>) -> Vec<String> {
    let mut ranges: Vec<(u32, u32)> = Vec::new();
    for &number in numbers {
        match ranges.last_mut() {
            Some((_, last)) if *last + 1 == number => *last = number,
            _ => ranges.push((number, number)),
        }
    }
    let range = |(from, to): (u32, u32)| {
        if from == to { from.to_string() } else { format!("{from}–{to}") }
    };
    ranges.into_iter().map(range).collect()
}

/// What is laid in which order, with how many stones of it lie on this view; empty where the sizes and
/// colours already say all.
fn layers_in_words(plan: &Plan, finish: &StoneFinish, placement: &Placement) -> Vec<Value> {
    let told = finish.layers.len() > 1
        || finish
            .layers
            .iter()
            .any(|one| one.grade.is_some() || one.colouring != Colouring::Mingled);
    if !told {
        return Vec::new();
    }
    let layer = |(index, layer)| {
        let count = placement.stones.iter().filter(|stone| stone.layer == index).count();
        json!({
            "words": stone_words::layer_in_full(&plan.piece, finish, layer),
            "count": words::grouped(count),
            "here": placement.view.layers.contains(&index),
        })
    };
    finish.layers.iter().enumerate().map(layer).collect()
}

/// Data of the wrap pages: one entry for each band of each part, on pages turned whichever way takes
/// fewer.
pub(super) fn wraps(
    plan: &Plan,
    letters: &Letters,
    files: &mut Files,
    going: &mut dyn FnMut() -> bool,
) -> Vec<Value> {
    let mut entries = Vec::new();
    for (index, part) in plan.piece.parts.iter().enumerate() {
        if !going() {
            break;
        }
        let revolved = plan.shape.parts[index].surface.period().is_some();
        for wrap in unrolled::band_wraps(plan, index, letters) {
            if !wrap.decorated {
                continue;
            }
            let layout = layout(paper_mm(&plan.settings), &wrap.trims, revolved, letters);
            let (turned, Layout { trim, pages, joins }) = layout;
            let names = trim.names.clone();
            let layers = wrap.layers.into_iter().chain([names, joins]).collect();
            let stem = format!("wrap-{index}-{}", entries.len());
            entries.push(json!({
                "part": part.name,
                "band": wrap.name,
                "turned": turned,
                "crests": wrap.crests,
                "error_mm": error(wrap.error_mm),
                "pages": drawn(pages, &Drawing { layers }, &stem, files),
                "notes": notes_about(plan, &format!("part[{index}]")),
            }));
        }
    }
    entries
}

/// Data of the collar pages: one entry for each collar, on pages turned whichever way takes fewer.
pub(super) fn collars(plan: &Plan, letters: &Letters, files: &mut Files) -> Vec<Value> {
    let mut entries = Vec::new();
    for part in 0..plan.piece.parts.len() {
        for collar in unrolled::collars(plan, part, letters) {
            let trims = [collar.trim];
            let (turned, Layout { pages, joins, .. }) =
                layout(paper_mm(&plan.settings), &trims, true, letters);
            let layers = collar.layers.into_iter().chain([joins]).collect();
            let stem = format!("collar-{part}-{}", entries.len());
            entries.push(json!({
                "name": collar.name,
                "how": collar.how,
                "turned": turned,
                "places": collar.places,
                "error_mm": error(collar.error_mm),
                "pages": drawn(pages, &Drawing { layers }, &stem, files),
            }));
        }
    }
    entries
}

/// A trimmed band on pages.
pub(crate) struct Layout<'a> {
    pub(crate) trim: &'a Trim,
    pub(crate) pages: Vec<Vec<Vec<Tile>>>,
    pub(crate) joins: Layer,
}

/// The fewest pages that a band goes on, and whether they are turned. Bare wall is left off where
/// that saves tiles.
pub(crate) fn layout<'a>(
    paper: DVec2,
    trims: &'a [Trim],
    revolved: bool,
    letters: &Letters,
) -> (bool, Layout<'a>) {
    let taken = DVec2::new(2.0 * (MARGIN_MM - OUT_MM), WRAP_TAKEN_MM);
    let on = |paper: DVec2| {
        let room = paper - taken;
        let trims = trims.iter().map(|trim| {
            let (tiles, joins) = split(&trim.profile, room, revolved, &trim.occupied, letters);
            (trim, tiles, joins)
        });
        let fewest = trims.min_by_key(|(_, tiles, _)| tiles.len());
        let (trim, tiles, joins) = fewest.expect("a band has at least one trim");
        Layout { trim, pages: on_pages(tiles, room), joins }
    };
    let (upright, across) = (on(paper), on(DVec2::new(paper.y, paper.x)));
    if across.pages.len() < upright.pages.len() { (true, across) } else { (false, upright) }
}

/// An error worth telling of.
pub(crate) fn error(error_mm: f64) -> Option<String> {
    (error_mm >= 0.05).then(|| words::trimmed(error_mm, 1))
}

/// Tiles gathered into pages in their order: side by side where they fit, as many rows on each page
/// as its height takes.
fn on_pages(tiles: Vec<Tile>, room_mm: DVec2) -> Vec<Vec<Vec<Tile>>> {
    let mut pages: Vec<Vec<Vec<Tile>>> = Vec::new();
    let (mut left_mm, mut row_mm, mut across_mm) = (0.0, 0.0, 0.0);
    for tile in tiles {
        let width_mm = tile.view.size().x + GUTTER_MM;
        let height_mm = tile.view.size().y + CAPTION_MM;
        let more_mm = f64::max(height_mm - row_mm, 0.0);
        match pages.last_mut() {
            Some(page) if width_mm <= across_mm && more_mm <= left_mm => {
                if let Some(row) = page.last_mut() {
                    row.push(tile);
                }
                left_mm -= more_mm;
                row_mm += more_mm;
                across_mm -= width_mm;
                continue;
            }
            Some(page) if height_mm <= left_mm => page.push(vec![tile]),
            _ => {
                pages.push(vec![vec![tile]]);
                left_mm = room_mm.y + CAPTION_MM;
            }
        }
        left_mm -= height_mm;
        row_mm = height_mm;
        across_mm = room_mm.x + GUTTER_MM - width_mm;
    }
    pages
}

/// The same pages with each tile as a picture and what the page design asks of it.
pub(crate) fn drawn(
    pages: Vec<Vec<Vec<Tile>>>,
    drawing: &Drawing,
    stem: &str,
    files: &mut Files,
) -> Vec<Vec<Vec<Value>>> {
    let mut draw = |tile: &Tile| {
        let file = format!("{stem}-{}.svg", files.len());
        files.insert(file.clone(), drawing.tile(tile.view).into_bytes());
        json!({
            "name": tile.name,
            "file": file,
            "width_mm": tile.view.size().x,
            "height_mm": tile.view.size().y,
        })
    };
    let mut row = |tiles: &Vec<Tile>| tiles.iter().map(&mut draw).collect();
    pages.iter().map(|rows| rows.iter().map(&mut row).collect()).collect()
}
