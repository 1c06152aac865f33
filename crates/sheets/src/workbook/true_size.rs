//! Placement of stones and wraps, cut into tiles that fit the page at true size.

use super::{Files, notes_about, room_mm};
use crate::Plan;
use crate::drawing::{Drawing, Letters};
use crate::unrolled::{self, Placement, split};
use crate::words;
use glam::DVec2;
use piece::{Finish, StoneFinish};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What the name of a tile and the space round it take on a page, mm.
const CAPTION_MM: f64 = 9.0;

/// Data of the placement pages: one entry for each zone of stones and band.
pub(super) fn placements(plan: &Plan, letters: &Letters, files: &mut Files) -> Vec<Value> {
    let mut pages = Vec::new();
    for (index, zone) in plan.piece.zones.iter().enumerate() {
        let Finish::Stones(finish) = &zone.finish else { continue };
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
    let mut patches: BTreeMap<u32, BTreeMap<usize, usize>> = BTreeMap::new();
    for stone in stones {
        *sizes.entry(stone.size).or_default() += 1;
        *colours.entry(stone.colour).or_default() += 1;
        *patches.entry(stone.patch).or_default().entry(stone.colour).or_default() += 1;
    }
    let by_letter = |counts: &BTreeMap<usize, usize>| -> Vec<Value> {
        counts
            .iter()
            .map(|(&colour, &count)| json!([plan.piece.colours[colour].letter, count]))
            .collect()
    };
    let legend: Vec<_> = colours
        .iter()
        .map(|(&colour, &count)| {
            let marks = sizes.keys().map(|&size| {
                let diameter_mm = finish.sizes[size].0.diameter_mm;
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
            let of = &finish.sizes[size].0;
            json!({
                "name": of.name,
                "diameter": format!("{}\u{a0}mm", words::trimmed(of.diameter_mm, 2)),
                "count": words::grouped(count),
            })
        })
        .collect();
    let patches: Vec<_> = patches
        .iter()
        .map(|(patch, counts)| {
            let total: usize = counts.values().sum();
            json!({ "patch": patch, "total": total, "colours": by_letter(counts) })
        })
        .collect();
    let room = room_mm(plan);
    json!({
        "zone": plan.piece.zones[zone].name,
        "part": plan.piece.parts[plan.piece.zones[zone].part].name,
        "band": placement.band,
        "plate": plan.shape.zones[zone].surface.period().is_none(),
        "layout": filled.map_or("", |filled| filled.layout),
        "material": words::material(finish.material),
        "count": words::grouped(stones.len()),
        "rows": rows,
        "gap": words::trimmed(finish.gap_mm, 2),
        "coverage": filled.map(|filled| words::percent(filled.coverage)),
        "below_mm": words::trimmed(plan.shape.zones[zone].below_mm, 2),
        "error_mm": error(placement.error_mm),
        "legend": legend,
        "sizes": sizes,
        "patches": patches,
        "tiles": tiles(placement.drawing, DVec2::new(room.x, room.y - 30.0), "stones", letters, files),
        "notes": notes_about(plan, &format!("zone[{zone}]")),
    })
}

/// Data of the wrap pages: one entry for each band of each part.
pub(super) fn wraps(plan: &Plan, letters: &Letters, files: &mut Files) -> Vec<Value> {
    let mut pages = Vec::new();
    for (index, part) in plan.piece.parts.iter().enumerate() {
        for wrap in unrolled::band_wraps(plan, index, letters) {
            if wrap.zones.is_empty() {
                continue;
            }
            pages.push(json!({
                "part": part.name,
                "band": wrap.name,
                "zones": wrap.zones,
                "error_mm": error(wrap.error_mm),
                "pages": on_pages(tiles(wrap.drawing, room_mm(plan), "wrap", letters, files), room_mm(plan).y),
                "notes": notes_about(plan, &format!("part[{index}]")),
            }));
        }
    }
    pages
}

/// An error worth telling of.
fn error(error_mm: f64) -> Option<String> {
    (error_mm >= 0.05).then(|| words::trimmed(error_mm, 1))
}

/// Tiles gathered into pages in their order, as many on each as its height takes.
fn on_pages(tiles: Vec<Value>, room_mm: f64) -> Vec<Vec<Value>> {
    let mut pages: Vec<Vec<Value>> = Vec::new();
    let mut left_mm = 0.0;
    for tile in tiles {
        let height_mm = tile["height_mm"].as_f64().unwrap_or(room_mm) + CAPTION_MM;
        match pages.last_mut() {
            Some(page) if height_mm <= left_mm => page.push(tile),
            _ => {
                pages.push(vec![tile]);
                left_mm = room_mm + CAPTION_MM;
            }
        }
        left_mm -= height_mm;
    }
    pages
}

fn tiles(
    mut drawing: Drawing,
    room_mm: DVec2,
    stem: &str,
    letters: &Letters,
    files: &mut Files,
) -> Vec<Value> {
    let (tiles, joins) = split(drawing.bounds().grown(1.0), room_mm, letters);
    drawing.layers.push(joins);
    tiles
        .into_iter()
        .map(|tile| {
            let file = format!("{stem}-{}.svg", files.len());
            files.insert(file.clone(), drawing.tile(tile.view).into_bytes());
            json!({
                "name": tile.name,
                "file": file,
                "width_mm": tile.view.size().x,
                "height_mm": tile.view.size().y,
            })
        })
        .collect()
}
