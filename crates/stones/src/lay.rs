//! From the piece to its stones: each zone filled, coloured and put in setting order.

use crate::asked::Asked;
use crate::drawer::Drawer;
use crate::fill::{Engine, Ground, Obstacle, Order, Spot};
use crate::inward::Rings;
use crate::limits::Limits;
use crate::meter::Meter;
use crate::outline::Outline;
use crate::pack::Pack;
use crate::pockets::Pockets;
use crate::quality::quality;
use crate::rows::Rows;
use crate::setting::in_order;
use crate::sparse::Sparse;
use crate::{Stone, Stones, ZoneStones, blend, colour, room, rules};
use glam::DVec3;
use piece::fnv::{EMPTY, fnv1a_64};
use piece::{
    Diagnostic, FieldPath, Finish, Layout, Piece, Settings, Severity, StoneFinish, StoneLayer,
};
use rand_pcg::Pcg64;
use rayon::prelude::*;
use shape::{Field, Shape, ZoneShape};
use std::collections::BTreeMap;
use std::f64::consts::PI;

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
    let mut drawer = Drawer::new(piece, settings);
    let lay = |part: usize, orders: &[(usize, &StoneFinish)], drawer: &mut Drawer<'_>| {
        let mut of_part = |done: f64| meter.tell(part, done);
        lay_part(piece, shape, settings, orders, drawer, &mut of_part)
    };
    let parts: Vec<OfPart> = if by_part.iter().flatten().any(|(_, one)| one.rules.from_drawer) {
        // One after the other: what a part takes is gone for the next.
        by_part.iter().enumerate().map(|(part, of)| lay(part, of, &mut drawer)).collect()
    } else {
        let beside = |(part, of): (usize, &Vec<_>)| lay(part, of, &mut drawer.clone());
        by_part.par_iter().enumerate().map(beside).collect()
    };
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
    drawer: &mut Drawer<'_>,
    progress: &mut dyn FnMut(f64) -> bool,
) -> OfPart {
    let mut obstacles: Vec<Obstacle> = Vec::new();
    let mut out = OfPart::default();
    for (done, &(zone, finish)) in orders.iter().enumerate() {
        let mut of_zone = |share: f64| progress(done as f64 + share);
        let filled = Zoned { piece, zone, finish, shape: &shape.zones[zone] }.fill(
            &mut obstacles,
            &mut out,
            drawer,
            &mut of_zone,
        );
        match filled {
            Ok(()) => {}
            Err(Halt::Stopped) => return out,
            Err(Halt::Mend(error)) => out.errors.push((zone, *error)),
        }
    }
    let areas = out.zones.iter().map(|filled| (filled.zone, filled.area_mm2)).collect();
    out.stones = in_order(piece, settings, &areas, out.stones);
    out
}

/// Why a zone was not filled.
enum Halt {
    Stopped,
    Mend(Box<Diagnostic>),
}

/// One zone with its stones to be.
struct Zoned<'a> {
    piece: &'a Piece,
    zone: usize,
    finish: &'a StoneFinish,
    shape: &'a ZoneShape,
}

impl Zoned<'_> {
    /// Fills the zone, layer by layer.
    fn fill(
        &self,
        obstacles: &mut Vec<Obstacle>,
        out: &mut OfPart,
        drawer: &mut Drawer<'_>,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Result<(), Halt> {
        let mend = |error| Halt::Mend(Box::new(error));
        let name = &self.piece.zones[self.zone].name;
        let field = Field::new(&self.shape.surface, &self.shape.area);
        let limits = Limits::new(&self.finish.rules, &self.shape.surface);
        let layers = self.finish.layers.len();
        let (from, obstacles_from) = (out.stones.len(), obstacles.len());
        for (index, layer) in self.finish.layers.iter().enumerate() {
            let mut going = true;
            let mut of_all = |share: f64| {
                going = going && progress((index as f64 + share) / layers as f64);
                going
            };
            let asked = Asked { finish: self.finish, layer };
            let path = FieldPath::root().key("zone").index(self.zone).key("stones");
            let path = if layers == 1 { path } else { path.index(index) };
            let mut notes = Vec::new();
            let mut heard = |found: Option<Diagnostic>| match found {
                Some(fault) if fault.severity == Severity::Error => Err(mend(fault)),
                found => {
                    notes.extend(found);
                    Ok(())
                }
            };
            heard(room::too_many(self.shape.area_mm2, &asked, &path, name))?;
            // A stone of another zone may lie on a thicker or thinner stack: it is kept clear of
            // where it is and of where it would be on this surface.
            let around = obstacles_on(obstacles, &out.stones, self.shape);
            let Some(mut ground) =
                Ground::new(&self.shape.surface, &field, &self.shape.area, &around)
            else {
                return Err(mend(room::empty(&path, name)));
            };
            ground.limits = limits.as_ref();
            heard(rules::bare(&ground, &asked, &path, name))?;
            let order = self.order(index, layer, drawer.most(&asked));
            let mut spots = engine(layer.layout).fill(&ground, &order, &mut of_all);
            if !going {
                return Err(Halt::Stopped);
            }
            heard(rules::kept(&ground, &asked, &mut spots, &path, name))?;
            heard(drawer.kept(&asked, &mut spots, &path, name))?;
            // Small stones find no pocket where the layers before left none.
            if spots.is_empty() && layer.layout != Layout::Pockets {
                return Err(mend(room::none(&ground, &asked, &path, name)));
            }
            heard(room::narrow(&ground, &asked, &path, name).filter(|_| index == 0))?;
            heard(
                colour::told_by_letter(&self.piece.colours, self.finish, &path, name)
                    .filter(|_| index == 0),
            )?;
            heard(blend::missed(&asked, &spots, &path))?;
            out.notes.extend(notes.into_iter().map(|note| (self.zone, note)));
            let stones = self.stones(index, &asked, &spots, drawer);
            drawer.take(&asked, &stones);
            obstacles.extend(stones.iter().map(|stone| Obstacle {
                centre_mm: stone.centre_mm,
                diameter_mm: stone.diameter_mm,
                gap_mm: layer.gap_mm,
            }));
            out.stones.extend(stones);
        }
        let (others, own) = out.stones.split_at(from);
        let near = self.near(&obstacles[..obstacles_from], others);
        let ground = Ground::new(&self.shape.surface, &field, &self.shape.area, &near);
        out.zones.extend(ground.map(|ground| self.measured(&ground, own)));
        Ok(())
    }

    fn order(&self, index: usize, layer: &StoneLayer, most: Vec<Option<usize>>) -> Order {
        let sizes = layer.sizes.iter();
        Order {
            sizes: sizes
                .map(|(size, share)| (self.finish.sizes[*size].diameter_mm, *share))
                .collect(),
            gap_mm: layer.gap_mm,
            layout: layer.layout,
            blend: layer.blend,
            grade: layer.grade.clone(),
            most,
            seed: [self.piece.seed, self.dice(index)],
        }
    }

    /// A zone draws by its name, so that it keeps its stones when others come and go.
    fn dice(&self, layer: usize) -> u64 {
        let of_zone = fnv1a_64(EMPTY, self.piece.zones[self.zone].name.as_bytes());
        if layer == 0 { of_zone } else { fnv1a_64(of_zone, &(layer as u64).to_le_bytes()) }
    }

    /// The stones of a layer, before they are put in setting order.
    fn stones(
        &self,
        layer: usize,
        asked: &Asked<'_>,
        spots: &[Spot],
        drawer: &Drawer<'_>,
    ) -> Vec<Stone> {
        let surface = &self.shape.surface;
        // From the rim down, so that colours grow from one front.
        let mut spots = spots.to_vec();
        spots.sort_by(|a, b| {
            (a.row.cmp(&b.row))
                .then(a.at.along_mm.total_cmp(&b.at.along_mm))
                .then(a.at.around.total_cmp(&b.at.around))
        });
        let centres: Vec<DVec3> =
            spots.iter().map(|spot| surface.world_from_surface(spot.at)).collect();
        let sizes = asked.sizes();
        let diameter = |spot: &Spot| sizes[spot.size].0.diameter_mm;
        let mean_mm = spots.iter().map(&diameter).sum::<f64>() / spots.len() as f64;
        let chance = Pcg64::new(u128::from(self.piece.seed), u128::from(self.dice(layer)));
        let uncoloured = colour::Uncoloured {
            surface,
            at: &spots.iter().map(|spot| spot.at).collect::<Vec<_>>(),
            centres_mm: &centres,
            diameters_mm: &spots.iter().map(&diameter).collect::<Vec<_>>(),
            pitch_mm: mean_mm + asked.layer.gap_mm,
        };
        let mut colours = colour::give(&uncoloured, asked.layer, &self.piece.colours, chance);
        drawer.recolour(asked, &spots, &mut colours);
        let stone = |(index, spot): (usize, &Spot)| Stone {
            zone: self.zone,
            part: self.shape.part,
            layer,
            patch: 0,
            row: spot.row,
            size: asked.layer.sizes[spot.size].0,
            diameter_mm: diameter(spot),
            colour: colours[index],
            at: spot.at,
            centre_mm: centres[index],
            normal: surface.normal(spot.at),
            around_mm: spot.at.around * surface.around_scale_mm(spot.at.along_mm),
        };
        spots.iter().enumerate().map(stone).collect()
    }

    /// Stones of other zones that lie so near that they bear on the holes of this one.
    fn near(&self, obstacles: &[Obstacle], stones: &[Stone]) -> Vec<Obstacle> {
        let Some((top, bottom)) = self.shape.area.along_range_mm() else { return Vec::new() };
        let is_near = |stone: &Stone| {
            let along_mm = stone.at.along_mm;
            along_mm > top - 2.0 * stone.diameter_mm && along_mm < bottom + 2.0 * stone.diameter_mm
        };
        let pairs = obstacles.iter().zip(stones).filter(|(_, stone)| is_near(stone));
        let (obstacles, stones): (Vec<Obstacle>, Vec<Stone>) =
            pairs.map(|(obstacle, stone)| (*obstacle, stone.clone())).unzip();
        obstacles_on(&obstacles, &stones, self.shape)
    }

    fn measured(&self, ground: &Ground<'_>, stones: &[Stone]) -> ZoneStones {
        let area_mm2 = self.shape.area_mm2;
        let gap_mm = |stone: &Stone| self.finish.layers[stone.layer].gap_mm;
        let covered = |grown: &dyn Fn(&Stone) -> f64| {
            let circle = |diameter_mm: f64| PI / 4.0 * diameter_mm * diameter_mm;
            stones.iter().map(|stone| circle(stone.diameter_mm + grown(stone))).sum::<f64>()
                / area_mm2
        };
        let words: Vec<&str> = self.finish.layers.iter().map(|layer| layer.layout.word()).collect();
        ZoneStones {
            zone: self.zone,
            layout: words.join("+"),
            area_mm2,
            count: stones.len(),
            coverage: covered(&|_| 0.0),
            effective_coverage: covered(&gap_mm),
            quality: quality(ground, self.finish, stones),
        }
    }
}

fn engine(layout: Layout) -> &'static dyn Engine {
    match layout {
        Layout::Rows { .. } => &Rows,
        Layout::Outline { .. } => &Outline,
        Layout::Rings => &Rings,
        Layout::Sparse { .. } => &Sparse,
        Layout::Pockets => &Pockets,
        Layout::Scatter => &Pack { rounds: None },
    }
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
