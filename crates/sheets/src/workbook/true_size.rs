//! Placement of stones and wraps, cut into tiles that fit the page at true size.

use super::{Files, MARGIN_MM, notes_about, paper_mm, room_mm};
use crate::Plan;
use crate::drawing::{Drawing, Letters};
use crate::unrolled::{self, Occupied, Placement, split};
use crate::words;
use glam::DVec2;
use piece::{Finish, StoneFinish};
use serde_json::{Value, json};
use std::collections::BTreeMap;

/// What the name of a tile and the space round it take on a page, mm.
const CAPTION_MM: f64 = 7.0;

/// Between two tiles side by side, mm; the same as in `pages/wrap.typ`.
const GUTTER_MM: f64 = 4.0;

/// How far a drawing reaches into the margin on either side, mm; the same as in the page designs.
const OUT_MM: f64 = 4.0;

/// Height that the margins, the head, the words and the ruler of a wrap page take, mm.
const WRAP_TAKEN_MM: f64 = 86.0;

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
    let tile_mm = DVec2::new(room.x + 2.0 * OUT_MM, room.y - 30.0);
    let revolved = plan.shape.zones[zone].surface.period().is_some();
    let sheet = (placement.drawing, placement.profile, placement.occupied);
    let tiles = tiles(sheet, tile_mm, revolved, "stones", letters, files);
    json!({
        "zone": plan.piece.zones[zone].name,
        "part": plan.piece.parts[plan.piece.zones[zone].part].name,
        "band": placement.band,
        "plate": plan.shape.zones[zone].surface.period().is_none(),
        "layout": filled.map_or("", |filled| filled.layout),
        "material": finish.material.name(),
        "count": words::grouped(stones.len()),
        "stone_rows": rows,
        "gap": words::trimmed(finish.gap_mm, 2),
        "coverage": filled.map(|filled| words::percent(filled.coverage)),
        "below_mm": words::trimmed(plan.shape.zones[zone].below_mm, 2),
        "error_mm": error(placement.error_mm),
        "legend": legend,
        "sizes": sizes,
        "patches": patches,
        "rows": on_pages(tiles, DVec2::new(room.x + 2.0 * OUT_MM, f64::INFINITY)).concat(),
        "notes": notes_about(plan, &format!("zone[{zone}]")),
    })
}

/// Data of the wrap pages: one entry for each band of each part, on pages turned whichever way takes
/// fewer.
pub(super) fn wraps(plan: &Plan, letters: &Letters, files: &mut Files) -> Vec<Value> {
    let paper = paper_mm(plan);
    let taken = DVec2::new(2.0 * (MARGIN_MM - OUT_MM), WRAP_TAKEN_MM);
    let rooms = [paper - taken, DVec2::new(paper.y, paper.x) - taken];
    let mut entries = Vec::new();
    for (index, part) in plan.piece.parts.iter().enumerate() {
        let revolved = plan.shape.parts[index].surface.period().is_some();
        let turned = rooms.map(|room| unrolled::band_wraps(plan, index, room, letters));
        let [upright, across] = turned;
        for pair in upright.into_iter().zip(across) {
            if !pair.0.decorated {
                continue;
            }
            let ways = [pair.0, pair.1].into_iter().zip(rooms).enumerate();
            let ways = ways.map(|(way, (wrap, room))| {
                let sheet = (wrap.drawing, wrap.profile, wrap.occupied);
                let mut drawn = Files::new();
                let stem = format!("wrap-{index}-{}-{way}", entries.len());
                let tiles = tiles(sheet, room, revolved, &stem, letters, &mut drawn);
                let pages = on_pages(tiles, room);
                let value = json!({
                    "part": part.name,
                    "band": wrap.name,
                    "turned": way == 1,
                    "crests": wrap.crests,
                    "error_mm": error(wrap.error_mm),
                    "pages": pages,
                    "notes": notes_about(plan, &format!("part[{index}]")),
                });
                (pages.len(), value, drawn)
            });
            if let Some((_, value, drawn)) = ways.min_by_key(|(pages, _, _)| *pages) {
                files.extend(drawn);
                entries.push(value);
            }
        }
    }
    entries
}

/// An error worth telling of.
fn error(error_mm: f64) -> Option<String> {
    (error_mm >= 0.05).then(|| words::trimmed(error_mm, 1))
}

/// Tiles gathered into pages in their order: side by side where they fit, as many rows on each page
/// as its height takes.
fn on_pages(tiles: Vec<Value>, room_mm: DVec2) -> Vec<Vec<Vec<Value>>> {
    let mut pages: Vec<Vec<Vec<Value>>> = Vec::new();
    let (mut left_mm, mut row_mm, mut across_mm) = (0.0, 0.0, 0.0);
    for tile in tiles {
        let side = |name: &str, otherwise: f64| tile[name].as_f64().unwrap_or(otherwise);
        let width_mm = side("width_mm", room_mm.x) + GUTTER_MM;
        let height_mm = side("height_mm", room_mm.y) + CAPTION_MM;
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

/// A drawing, its profile and what is taken on it, as tiles.
fn tiles(
    (mut drawing, profile, occupied): (Drawing, Vec<DVec2>, Occupied),
    room_mm: DVec2,
    front: bool,
    stem: &str,
    letters: &Letters,
    files: &mut Files,
) -> Vec<Value> {
    let (tiles, joins) = split(&profile, room_mm, front, &occupied, letters);
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
