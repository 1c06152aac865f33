//! Filling a zone, or several that are joined, layer by layer.

use crate::asked::Asked;
use crate::coloured::{Coloured, coloured, dice};
use crate::drawer::Drawer;
use crate::edges::inward::Rings;
use crate::edges::line::Line;
use crate::edges::outline::Outline;
use crate::fill::{Engine, Ground, Obstacle, Order, Show, Spot};
use crate::going::Going;
use crate::joins::{Zoned, nearer_mm};
use crate::lay::OfPart;
use crate::limits::Limits;
use crate::measured::measured;
use crate::meter::Meter;
use crate::off_the_curve::off_the_curve;
use crate::pack::Pack;
use crate::pockets::Pockets;
use crate::rows::Rows;
use crate::sparse::Sparse;
use crate::{Stone, bare, blend, colour, in_vain, many, room, rules, winding};
use piece::{Diagnostic, FieldPath, Layout, Piece, Severity, StoneLayer};
use shape::{Area, Field, Shape, Surface, SurfacePoint};
use std::borrow::Cow;

/// Why a zone was not filled.
pub enum Halt {
    Stopped,
    Mend(Box<Diagnostic>),
}

/// Zones that are filled as one, most often a single one.
pub struct Filling<'a> {
    piece: &'a Piece,
    /// In order of work, at least one; all ask for the same stones, colours aside.
    zones: Vec<Zoned<'a>>,
    /// All of them together.
    area: Cow<'a, Area>,
    /// What they are filled on: the lowest of their surfaces. On a higher one stones lie farther apart.
    surface: &'a Surface,
    /// To tell in which of several zones a place lies; empty for a single one.
    fields: Vec<Field>,
}

impl<'a> Filling<'a> {
    /// Joins zones of one part.
    pub fn new(piece: &'a Piece, shape: &'a Shape, zones: Vec<Zoned<'a>>) -> Self {
        let mut lowest = zones[0].shape;
        for zoned in &zones {
            if zoned.shape.below_mm < lowest.below_mm {
                lowest = zoned.shape;
            }
        }
        let areas: Vec<&Area> = zones.iter().map(|zoned| &zoned.shape.area).collect();
        let (area, fields) = if let [area] = areas[..] {
            (Cow::Borrowed(area), Vec::new())
        } else {
            let bare = &shape.parts[lowest.part].surface;
            let field = |area: &&Area| Field::new(&lowest.surface, area);
            (Cow::Owned(Area::united(&areas, bare)), areas.iter().map(field).collect())
        };
        Self { piece, zones, area, surface: &lowest.surface, fields }
    }

    /// Fills the zones, layer by layer.
    pub fn fill(
        &self,
        out: &mut OfPart,
        drawer: &mut Drawer<'_>,
        meter: &Meter<'_>,
        progress: &mut dyn FnMut(f64) -> bool,
    ) -> Result<(), Halt> {
        let mend = |error| Halt::Mend(Box::new(error));
        let (first, name) = (&self.zones[0], self.name());
        let name = name.as_str();
        let area_mm2 = self.zones.iter().map(|zoned| zoned.shape.area_mm2).sum();
        let edge_mm = self.area.edge_length_mm(self.surface);
        let field = Field::new(self.surface, &self.area);
        let limits = Limits::new(&first.finish.rules, self.surface);
        let strokes: Vec<Vec<SurfacePoint>> =
            self.zones.iter().flat_map(|zoned| zoned.shape.strokes.iter().cloned()).collect();
        let layers = first.finish.layers.len();
        let goes_on = || meter.goes_on();
        let asks = Going::new(&goes_on);
        let from = out.stones.len();
        for index in 0..layers {
            let mut going = true;
            let mut of_all = |share: f64| {
                going = going && progress((index as f64 + share) / layers as f64);
                going
            };
            let asked = first.asked(index);
            let path = layer_path(first, index);
            let mut notes = Vec::new();
            let mut heard = |found: Option<Diagnostic>| match found {
                Some(fault) if fault.severity == Severity::Error => Err(mend(fault)),
                found => {
                    notes.extend(found);
                    Ok(())
                }
            };
            heard(many::too_many((area_mm2, edge_mm), &asked, &path, name))?;
            // A stone of another zone may lie on a thicker or thinner stack: it is kept clear of
            // where it is and of where it would be on this surface.
            let around = obstacles_on(&out.obstacles, &out.stones, self.surface);
            let Some(mut ground) = Ground::new(self.surface, &field, &self.area, &around) else {
                return Err(mend(room::empty(&path, name)));
            };
            ground.limits = limits.as_ref();
            ground.strokes = &strokes;
            heard(winding::no_thread(&ground, &asked, &path, name))?;
            heard(in_vain::apart(&asked, &path, name))?;
            for found in rules::bare(&ground, &asked, &path, name) {
                heard(Some(found))?;
            }
            let of_each: Vec<Asked<'_>> =
                self.zones.iter().map(|zoned| zoned.asked(index)).collect();
            heard(
                drawer
                    .lacking(&of_each, &path, name)
                    .filter(|told| index == 0 || told.severity == Severity::Error),
            )?;
            let order = self.order(index, asked.layer, drawer.most(&of_each));
            let mut show = |spots: &[Spot]| {
                for (zoned, own) in self.zones.iter().zip(self.parted(spots.to_vec())) {
                    meter.show(&coloured(self.piece, zoned, index, &own, drawer, asks).stones);
                }
            };
            let show: Option<&mut Show<'_>> =
                if meter.is_watched() { Some(&mut show) } else { None };
            let mut spots = engine(order.layout).fill_shown(&ground, &order, &mut of_all, show);
            if !going {
                return Err(Halt::Stopped);
            }
            heard(rules::kept(&ground, &asked, &mut spots, &path, name))?;
            heard(winding::loose(&ground, &order, &spots, &path, name, &mut || meter.goes_on()))?;
            let mut kept = Vec::with_capacity(spots.len());
            let mut laid = Vec::with_capacity(spots.len());
            for (number, (zoned, mut own)) in self.zones.iter().zip(self.parted(spots)).enumerate()
            {
                let (zone_name, path) =
                    (&self.piece.zones[zoned.zone].name, layer_path(zoned, index));
                let bare = |own: &[Spot]| {
                    bare::share(&ground, &asked, own, &|at| self.owner(at) == number)
                };
                heard(drawer.kept(&of_each[number], &mut own, &path, zone_name, &bare))?;
                let Coloured { stones, changed } =
                    coloured(self.piece, zoned, index, &own, drawer, asks);
                heard(drawer.recoloured(&of_each[number], &changed, &path, zone_name))?;
                drawer.take(&of_each[number], &stones);
                kept.extend(own);
                laid.extend(stones);
            }
            if meter.is_stopped() {
                return Err(Halt::Stopped);
            }
            // Small stones find no pocket where the layers before left none.
            if kept.is_empty() {
                let told = in_vain::no_pocket(&asked, &path, name);
                let none = || room::none(&ground, &asked, &path, name, index > 0);
                heard(Some(told.unwrap_or_else(none)))?;
            }
            heard(room::narrow(&ground, &asked, &path, name).filter(|_| index == 0))?;
            heard(off_the_curve(self.surface, &asked, &laid, &path, name))?;
            for zoned in self.zones.iter().filter(|_| index == 0) {
                let (path, name) = (layer_path(zoned, index), &self.piece.zones[zoned.zone].name);
                heard(colour::told_by_letter(&self.piece.colours, zoned.finish, &path, name))?;
            }
            heard(blend::missed(&ground, &asked, &order.most, &kept, &path))?;
            out.notes.extend(notes.into_iter().map(|note| (first.zone, note)));
            out.obstacles.extend(laid.iter().map(|stone| Obstacle {
                centre_mm: stone.centre_mm,
                diameter_mm: stone.diameter_mm,
                gap_mm: asked.layer.gap_mm,
            }));
            out.stones.extend(laid);
        }
        let (others, own) = out.stones.split_at(from);
        if let Some(bare) = self.zones.iter().find(|z| own.iter().all(|one| one.zone != z.zone)) {
            let path = FieldPath::root().key("zone").index(bare.zone).key("stones");
            let bare = &self.piece.zones[bare.zone].name;
            return Err(mend(room::none_of_own(&path, bare)));
        }
        let near = self.near(&out.obstacles[..from], others);
        if let Some(ground) = Ground::new(self.surface, &field, &self.area, &near) {
            let zone_of = |at: SurfacePoint| self.zones[self.owner(at)].zone;
            out.zones.extend(measured(self.piece, &ground, &self.zones, own, &zone_of, asks));
        }
        if meter.is_stopped() { Err(Halt::Stopped) } else { Ok(()) }
    }

    /// The names of the zones, as they stand between quotation marks.
    fn name(&self) -> String {
        let names = self.zones.iter().map(|zoned| self.piece.zones[zoned.zone].name.as_str());
        names.collect::<Vec<_>>().join("\" joined with \"")
    }

    /// Which of the zones a place belongs to: the one that it lies in, on the very border the one that
    /// is nearest.
    fn owner(&self, at: SurfacePoint) -> usize {
        if let Some(inside) = self.fields.iter().position(|field| field.contains(at)) {
            return inside;
        }
        let mut nearest = (0, f64::NEG_INFINITY);
        for (number, field) in self.fields.iter().enumerate() {
            let inside_mm = field.clearance_mm(at);
            if inside_mm > nearest.1 {
                nearest = (number, inside_mm);
            }
        }
        nearest.0
    }

    /// The spots of each zone, its rows counted from 1.
    fn parted(&self, spots: Vec<Spot>) -> Vec<Vec<Spot>> {
        if self.zones.len() == 1 {
            return vec![spots];
        }
        let mut of_each = vec![Vec::new(); self.zones.len()];
        for spot in spots {
            of_each[self.owner(spot.at)].push(spot);
        }
        for own in &mut of_each {
            let before = own.iter().map(|spot: &Spot| spot.row).filter(|row| *row > 0).min();
            let before = before.map_or(0, |first| first - 1);
            own.iter_mut().for_each(|spot| spot.row = spot.row.saturating_sub(before));
        }
        of_each
    }

    fn order(&self, index: usize, layer: &StoneLayer, most: Vec<Option<usize>>) -> Order {
        let sizes = layer.sizes.iter();
        let sizes: Vec<(f64, f64)> = sizes
            .map(|(size, share)| (self.zones[0].finish.sizes[*size].diameter_mm, *share))
            .collect();
        let widest_mm = sizes.iter().map(|size| size.0).fold(0.0, f64::max);
        Order {
            gap_mm: layer.gap_mm
                + nearer_mm(&self.zones, &self.area, self.surface, widest_mm + layer.gap_mm),
            sizes,
            layout: layer.layout,
            blend: layer.blend,
            grade: layer.grade.clone(),
            most,
            seed: [self.piece.seed, dice(self.piece, &self.zones[0], index)],
        }
    }

    /// Stones of other zones that lie so near that they bear on the holes of these.
    fn near(&self, obstacles: &[Obstacle], stones: &[Stone]) -> Vec<Obstacle> {
        let Some((top, bottom)) = self.area.along_range_mm() else { return Vec::new() };
        let is_near = |stone: &Stone| {
            let along_mm = stone.at.along_mm;
            along_mm > top - 2.0 * stone.diameter_mm && along_mm < bottom + 2.0 * stone.diameter_mm
        };
        let pairs = obstacles.iter().zip(stones).filter(|(_, stone)| is_near(stone));
        let (obstacles, stones): (Vec<Obstacle>, Vec<Stone>) =
            pairs.map(|(obstacle, stone)| (*obstacle, stone.clone())).unzip();
        obstacles_on(&obstacles, &stones, self.surface)
    }
}

/// Where a layer stands in the piece file; a single one needs no list.
fn layer_path(zoned: &Zoned<'_>, layer: usize) -> FieldPath {
    let path = FieldPath::root().key("zone").index(zoned.zone).key("stones");
    if zoned.finish.layers.len() == 1 { path } else { path.index(layer) }
}

fn engine(layout: Layout) -> &'static dyn Engine {
    match layout {
        Layout::Rows { .. } => &Rows,
        Layout::Outline { .. } => &Outline,
        Layout::Rings => &Rings,
        Layout::Line => &Line,
        Layout::Sparse { .. } => &Sparse,
        Layout::Pockets => &Pockets,
        Layout::Scatter { .. } => &Pack,
    }
}

fn obstacles_on(set: &[Obstacle], stones: &[Stone], surface: &Surface) -> Vec<Obstacle> {
    set.iter()
        .zip(stones)
        .flat_map(|(obstacle, stone)| {
            let centre_mm = surface.world_from_surface(stone.at);
            [*obstacle, Obstacle { centre_mm, ..*obstacle }]
        })
        .collect()
}
