//! From the piece to its stones: each zone filled, coloured and put in setting order.

use crate::fill::{Engine, Ground, Obstacle, Order, Spot};
use crate::meter::Meter;
use crate::order::{Lie, Place, patches};
use crate::pack::Pack;
use crate::rows::Rows;
use crate::{Stone, Stones, ZoneStones, colour, room};
use glam::DVec3;
use piece::fnv::{EMPTY, fnv1a_64};
use piece::{Diagnostic, FieldPath, Finish, Follow, Layout, Piece, Settings, StoneFinish};
use rand_pcg::Pcg64;
use rayon::prelude::*;
use shape::{Field, Shape, ZoneShape};
use std::collections::BTreeMap;
use std::f64::consts::PI;

/// Points by which the realised share of a size may miss the one asked for.
const SHARE_SLACK: f64 = 0.02;
/// Stones an hour of a practised hand, where the settings know no such stone; common practice, no
/// source.
const PRACTISED_PER_H: f64 = 300.0;

/// Fills every zone of stones, and divides them into patches that are set while the studio's glue
/// stays open. `progress` is told the share done, and stops the work by returning false. Parts, which
/// never touch each other's stones, are filled at the same time.
///
/// # Errors
/// A stone larger than its zone; stopped by `progress` (an empty list).
pub fn lay_stones(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    progress: &mut (dyn FnMut(f64) -> bool + Send),
) -> Result<Stones, Vec<Diagnostic>> {
    let mut by_part: BTreeMap<usize, Vec<(usize, &StoneFinish)>> = BTreeMap::new();
    for (zone, described) in piece.zones.iter().enumerate() {
        if let Finish::Stones(finish) = &described.finish {
            by_part.entry(described.part).or_default().push((zone, finish));
        }
    }
    let by_part: Vec<Vec<(usize, &StoneFinish)>> = by_part.into_values().collect();
    let meter = Meter::new(by_part.iter().map(Vec::len), progress);
    let lay = |(part, orders): (usize, &Vec<(usize, &StoneFinish)>)| {
        let mut of_part = |done: f64| meter.tell(part, done);
        lay_part(piece, shape, settings, orders, &mut of_part)
    };
    let parts: Vec<OfPart> = by_part.par_iter().enumerate().map(lay).collect();
    if meter.is_stopped() {
        return Err(Vec::new());
    }
    let mut out = Stones { stones: Vec::new(), zones: Vec::new(), notes: Vec::new() };
    let (mut notes, mut errors) = (Vec::new(), Vec::new());
    for part in parts {
        out.stones.extend(part.stones);
        out.zones.extend(part.zones);
        notes.extend(part.notes);
        errors.extend(part.errors);
    }
    // As the piece lists its zones.
    errors.sort_by_key(|(zone, _)| *zone);
    if !errors.is_empty() {
        return Err(errors.into_iter().map(|(_, error)| error).collect());
    }
    notes.sort_by_key(|(zone, _)| *zone);
    out.notes = notes.into_iter().map(|(_, note)| note).collect();
    out.zones.sort_by_key(|filled| filled.zone);
    Ok(out)
}

/// What filling the zones of one part gave, notes and errors with their zone.
#[derive(Default)]
struct OfPart {
    stones: Vec<Stone>,
    zones: Vec<ZoneStones>,
    notes: Vec<(usize, Diagnostic)>,
    errors: Vec<(usize, Diagnostic)>,
}

/// Fills the zones of one part, in order; `progress` is told how many are behind.
fn lay_part(
    piece: &Piece,
    shape: &Shape,
    settings: &Settings,
    orders: &[(usize, &StoneFinish)],
    progress: &mut dyn FnMut(f64) -> bool,
) -> OfPart {
    let mut obstacles: Vec<Obstacle> = Vec::new();
    let mut next_patch = 1;
    let mut out = OfPart::default();
    for (done, &(zone, finish)) in orders.iter().enumerate() {
        let mut going = true;
        let mut of_all = |share: f64| {
            going = going && progress(done as f64 + share);
            going
        };
        let zone_shape = &shape.zones[zone];
        let path = FieldPath::root().key("zone").index(zone).key("stones");
        let name = &piece.zones[zone].name;
        if let Some(error) = room::too_many(zone_shape.area_mm2, finish, &path, name) {
            out.errors.push((zone, error));
            continue;
        }
        let field = Field::new(&zone_shape.surface, &zone_shape.area);
        // A stone of another zone may lie on a thicker or thinner stack: it is kept clear of where
        // it is and of where it would be on this surface.
        let around = obstacles_on(&obstacles, &out.stones, zone_shape);
        let Some(ground) = Ground::new(&zone_shape.surface, &field, &zone_shape.area, &around)
        else {
            out.errors.push((zone, room::empty(&path, name)));
            continue;
        };
        let order = order_of(piece, zone, finish);
        let spots = engine(finish).fill(&ground, &order, &mut of_all);
        if !going {
            return out;
        }
        if spots.is_empty() {
            out.errors.push((zone, room::none(&ground, finish, &path, name)));
            continue;
        }
        out.notes.extend(room::narrow(&ground, finish, &path, name).map(|note| (zone, note)));
        out.notes.extend(missed_blend(finish, &spots, &path).map(|note| (zone, note)));
        let patch_stones = set_while_open(finish, &spots, settings);
        let stones = stones_of(piece, zone, zone_shape, &spots, patch_stones, &mut next_patch);
        obstacles.extend(stones.iter().map(|stone| Obstacle {
            centre_mm: stone.centre_mm,
            diameter_mm: stone.diameter_mm,
            gap_mm: finish.gap_mm,
        }));
        out.zones.push(measured(zone, finish, zone_shape.area_mm2, &stones));
        out.stones.extend(stones);
    }
    out
}

fn engine(finish: &StoneFinish) -> &'static dyn Engine {
    match finish.layout {
        Layout::Rows { .. } => &Rows,
        Layout::Scatter => &Pack { rounds: None },
    }
}

fn order_of(piece: &Piece, zone: usize, finish: &StoneFinish) -> Order {
    Order {
        sizes: finish.sizes.iter().map(|(size, share)| (size.diameter_mm, *share)).collect(),
        gap_mm: finish.gap_mm,
        follow: match finish.layout {
            Layout::Rows { follow } => follow,
            Layout::Scatter => Follow::Level,
        },
        seed: [piece.seed, name_sum(&piece.zones[zone].name)],
    }
}

/// Stones that the studio's hands set while its glue stays open.
fn set_while_open(finish: &StoneFinish, spots: &[Spot], settings: &Settings) -> usize {
    let per_h = |name: &str| {
        let priced =
            settings.stones.iter().find(|one| one.material == finish.material && one.size == name);
        priced.map_or(PRACTISED_PER_H, |one| one.set_per_h)
    };
    let each: Vec<f64> = finish.sizes.iter().map(|(size, _)| 60.0 / per_h(&size.name)).collect();
    let mean_min = spots.iter().map(|spot| each[spot.size]).sum::<f64>() / spots.len() as f64;
    ((settings.glue.open_min / mean_min) as usize).max(1)
}

/// A zone draws by its name, so that it keeps its stones when others come and go.
fn name_sum(name: &str) -> u64 {
    fnv1a_64(EMPTY, name.as_bytes())
}

fn obstacles_on(set: &[Obstacle], stones: &[Stone], zone_shape: &ZoneShape) -> Vec<Obstacle> {
    set.iter()
        .zip(stones)
        .flat_map(|(obstacle, stone)| {
            let centre_mm = zone_shape.surface.world_from_surface(stone.at);
            [*obstacle, Obstacle { centre_mm, ..*obstacle }]
        })
        .collect()
}

fn stones_of(
    piece: &Piece,
    zone: usize,
    zone_shape: &ZoneShape,
    spots: &[Spot],
    patch_stones: usize,
    next_patch: &mut u32,
) -> Vec<Stone> {
    let Finish::Stones(finish) = &piece.zones[zone].finish else { return Vec::new() };
    let surface = &zone_shape.surface;
    // From the rim down, so that colours grow from one front.
    let mut spots = spots.to_vec();
    spots.sort_by(|a, b| {
        (a.row.cmp(&b.row))
            .then(a.at.along_mm.total_cmp(&b.at.along_mm))
            .then(a.at.around.total_cmp(&b.at.around))
    });
    let centres: Vec<DVec3> =
        spots.iter().map(|spot| surface.world_from_surface(spot.at)).collect();
    let diameter = |spot: &Spot| finish.sizes[spot.size].0.diameter_mm;
    let mean_mm = spots.iter().map(&diameter).sum::<f64>() / spots.len() as f64;
    let shares: Vec<f64> = finish.colours.iter().map(|(_, share)| *share).collect();
    let chance = Pcg64::new(u128::from(piece.seed), u128::from(name_sum(&piece.zones[zone].name)));
    let colours = colour::mingle(&centres, mean_mm + finish.gap_mm, &shares, chance);
    let places: Vec<Place> = spots
        .iter()
        .map(|spot| Place { around: spot.at.around, along_mm: spot.at.along_mm, row: spot.row })
        .collect();
    let lie = Lie {
        round: surface.period().is_some(),
        stone_area_mm2: zone_shape.area_mm2 / spots.len() as f64,
        widest_mm: spots.iter().map(&diameter).fold(0.0, f64::max),
        patch_stones,
    };
    let mut stones = Vec::with_capacity(spots.len());
    for patch in patches(&places, &lie) {
        for index in patch {
            let spot = &spots[index];
            stones.push(Stone {
                zone,
                part: zone_shape.part,
                patch: *next_patch,
                row: spot.row,
                size: spot.size,
                diameter_mm: diameter(spot),
                colour: finish.colours[colours[index]].0,
                at: spot.at,
                centre_mm: centres[index],
                normal: surface.normal(spot.at),
                around_mm: spot.at.around * surface.around_scale_mm(spot.at.along_mm),
            });
        }
        *next_patch += 1;
    }
    stones
}

fn measured(zone: usize, finish: &StoneFinish, area_mm2: f64, stones: &[Stone]) -> ZoneStones {
    let covered = |grown_mm: f64| {
        let circle = |diameter_mm: f64| PI / 4.0 * diameter_mm * diameter_mm;
        stones.iter().map(|stone| circle(stone.diameter_mm + grown_mm)).sum::<f64>() / area_mm2
    };
    ZoneStones {
        zone,
        layout: match finish.layout {
            Layout::Rows { .. } => "rows",
            Layout::Scatter => "scatter",
        },
        area_mm2,
        count: stones.len(),
        coverage: covered(0.0),
        effective_coverage: covered(finish.gap_mm),
    }
}

/// Warnings about sizes whose realised share is off.
fn missed_blend(finish: &StoneFinish, spots: &[Spot], path: &FieldPath) -> Option<Diagnostic> {
    let mut missed = Vec::new();
    for (index, (size, share)) in finish.sizes.iter().enumerate() {
        let count = spots.iter().filter(|spot| spot.size == index).count();
        let is = count as f64 / spots.len() as f64;
        // One stone more or less is no fault of the blend.
        if (is - share).abs() > SHARE_SLACK.max(1.0 / spots.len() as f64) {
            missed.push(format!(
                "{} came to {:.0} % of the stones instead of {:.0} %",
                size.name,
                is * 100.0,
                share * 100.0
            ));
        }
    }
    (!missed.is_empty()).then(|| {
        Diagnostic::warning(
            path.key("sizes"),
            format!("the blend was not met: {}", missed.join(", ")),
        )
        .hint("Give the zone more room, or ask for fewer of the largest stones.")
    })
}
