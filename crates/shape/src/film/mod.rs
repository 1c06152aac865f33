//! Film on a wall that is curved both ways: the flat form that strains it least, and how much.
//!
//! A flat sheet cannot lie on such a wall without being stretched or squeezed (Gauss, 1827). Each
//! connected shape is given the form on the sheet for which the sum of its squared strains is least
//! (a sheet that does not narrow as it is pulled); a film that shall lie without creases is laid taut,
//! and then stretches by the sum of greatest stretch and greatest squeeze. Read next: `lying.rs`.

mod banded;
mod basis;
mod grid;
mod lying;
mod outline;
mod relief;
mod samples;

use crate::sheet::Cone;
use crate::{Surface, SurfacePoint};
use glam::DVec2;
use grid::{Parted, Shape, extent};

/// An outer outline and its holes on the sheet, mm, y down.
pub type Outlines = Vec<Vec<[f64; 2]>>;

/// How much a film is strained where it lies, as shares of a length.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Strain {
    /// Greatest stretch.
    pub stretch: f64,
    /// Where that is.
    pub stretch_at: SurfacePoint,
    /// Greatest squeeze, as a positive share.
    pub squeeze: f64,
    /// Where that is.
    pub squeeze_at: SurfacePoint,
}

impl Strain {
    /// Greatest stretch of the same film when it is laid so taut that nothing is squeezed.
    pub fn taut(&self) -> f64 {
        self.stretch + self.squeeze
    }
}

/// Shapes of film brought to the sheet.
#[derive(Debug, Clone, PartialEq)]
pub struct FlatFilm {
    /// Shapes that keep their places to each other; what was cut through is placed by itself.
    pub groups: Vec<Vec<Outlines>>,
    /// That of the shape that is strained most.
    pub strain: Option<Strain>,
    /// Relief cuts: slits and cuts right through.
    pub cuts: usize,
    /// Widest wedge that the slits take out, mm.
    pub wedge_mm: f64,
}

/// Whether film that would strain too much is cut.
#[derive(Debug, Clone, Copy, PartialEq)]
pub enum Relief {
    /// Never.
    None,
    /// Until no piece of it strains more than this share when laid taut.
    Below(f64),
}

/// Brings shapes of film on one band, closed outlines whose `around` does not jump, to the sheet. The
/// sheet is that of the cone which lies nearest to the band where the film is; each shape has on it the
/// form that strains it least, turned and moved to where it would lie on the cone.
pub fn lie_flat(surface: &Surface, band: usize, shapes: &[Shape], relief: Relief) -> FlatFilm {
    let mut flat = FlatFilm { groups: vec![Vec::new()], strain: None, cuts: 0, wedge_mm: 0.0 };
    let Surface::Revolved(revolved) = surface else { return flat };
    let all: Shape = shapes.iter().flatten().cloned().collect();
    if all.is_empty() {
        flat.groups.clear();
        return flat;
    }
    let (low, high) = extent(&all);
    let sheet = Cone::over(revolved, band, (low.along_mm, high.along_mm));
    for shape in shapes {
        let (low, high) = extent(shape);
        let cone = Cone::over(revolved, band, (low.along_mm, high.along_mm));
        let whole = Parted::whole(surface, &cone, shape);
        let Some(strain) = strain(&whole, shape) else { continue };
        let cut = match relief {
            Relief::Below(limit) if strain.taut() > limit => {
                relief::relieved(revolved, surface, band, shape, limit)
            }
            Relief::Below(_) | Relief::None => None,
        };
        let Some(cut) = cut else {
            flat.groups[0].extend(placed(&whole, std::slice::from_ref(shape), &sheet));
            flat.told(strain);
            continue;
        };
        flat.cuts += cut.cuts;
        flat.wedge_mm = flat.wedge_mm.max(cut.wedge_mm);
        flat.told(cut.strain);
        for (index, pieces) in cut.pieces(surface).into_iter().enumerate() {
            let on_sheet = placed(&pieces.film, &pieces.shapes, &sheet);
            // What was cut through may lie over its neighbours on the sheet.
            if index == 0 && !cut.through() {
                flat.groups[0].extend(on_sheet);
            } else {
                flat.groups.push(on_sheet);
            }
        }
    }
    flat.groups.retain(|group| !group.is_empty());
    flat
}

/// Brings shapes of film on one band to the sheet in the form of one film that holds others too, such as
/// the other layers of an art, and places of it: whoever lays them on each other finds them where they
/// belong. `None` if there is nothing of it. The sheet is that of the cone nearest to all of them.
pub fn lie_among(
    surface: &Surface,
    band: usize,
    shapes: &[Shape],
    others: &[Shape],
    places: &[SurfacePoint],
) -> Option<(FlatFilm, Vec<[f64; 2]>)> {
    let Surface::Revolved(revolved) = surface else { return None };
    let own: Shape = shapes.iter().flatten().cloned().collect();
    let (low, high) = extent(&shapes.iter().chain(others).flatten().cloned().collect::<Vec<_>>());
    let scale_mm = surface.around_scale_mm(f64::midpoint(low.along_mm, high.along_mm)).max(1.0);
    let all = outline::united(shapes.iter().chain(others), scale_mm);
    let cone = Cone::over(revolved, band, (low.along_mm, high.along_mm));
    let film = Parted::whole(surface, &cone, &all);
    let inside = samples::samples(&own, extent(&own), grid::WHOLE_LINES);
    let strain = strained(&film, inside.iter().map(|one| one.at), &own)?;
    let placing = Placing::new(&film, &cone);
    let group = shapes.iter().map(|shape| placing.shape(shape)).collect();
    let flat = FlatFilm { groups: vec![group], strain: Some(strain), cuts: 0, wedge_mm: 0.0 };
    Some((flat, places.iter().map(|place| placing.place(*place)).collect()))
}

impl FlatFilm {
    fn told(&mut self, strain: Strain) {
        if self.strain.is_none_or(|most| strain.taut() > most.taut()) {
            self.strain = Some(strain);
        }
    }
}

/// Greatest stretch and squeeze of a film, looked for within it and on its edges; `None` if there is
/// nothing of it.
fn strain(film: &Parted<'_>, shape: &Shape) -> Option<Strain> {
    let inside = film.lying.cells().iter().flat_map(|cell| &cell.samples).map(|one| one.at);
    strained(film, inside, shape)
}

/// The same of a part of it, with these places in it.
fn strained(
    film: &Parted<'_>,
    inside: impl Iterator<Item = SurfacePoint>,
    shape: &Shape,
) -> Option<Strain> {
    let mut found: Option<Strain> = None;
    for at in inside.chain(shape.iter().flatten().copied()) {
        let here = film.stretched(at);
        let (stretch, squeeze) = (here.most.max(0.0), (-here.least).max(0.0));
        let most = found.get_or_insert(Strain { stretch, stretch_at: at, squeeze, squeeze_at: at });
        if stretch > most.stretch {
            (most.stretch, most.stretch_at) = (stretch, at);
        }
        if squeeze > most.squeeze {
            (most.squeeze, most.squeeze_at) = (squeeze, at);
        }
    }
    found
}

/// A film turned and moved as a whole to where it would lie on a sheet: the turn and move that bring its
/// samples nearest (least squares, in closed form in the plane).
struct Placing<'a> {
    film: &'a Parted<'a>,
    from: DVec2,
    turn: DVec2,
    to: DVec2,
}

impl<'a> Placing<'a> {
    fn new(film: &'a Parted<'a>, sheet: &Cone) -> Self {
        let cells = film.lying.cells().iter();
        let samples: Vec<(f64, DVec2, DVec2)> = cells
            .flat_map(|cell| &cell.samples)
            .map(|one| {
                let wanted = sheet.place(one.at.around, sheet.down_mm(one.at.along_mm));
                (one.weight, film.on_sheet(one.at), wanted)
            })
            .collect();
        let weight: f64 = samples.iter().map(|one| one.0).sum();
        let mean = |of: fn(&(f64, DVec2, DVec2)) -> DVec2| {
            let sum = samples.iter().map(|one| one.0 * of(one)).sum::<DVec2>();
            sum / weight.max(f64::MIN_POSITIVE)
        };
        let (from, to) = (mean(|one| one.1), mean(|one| one.2));
        let (dot, cross) =
            samples.iter().fold((0.0, 0.0), |(dot, cross), (weight, own, wanted)| {
                let (own, wanted) = (*own - from, *wanted - to);
                (dot + weight * own.dot(wanted), cross + weight * own.perp_dot(wanted))
            });
        Self { film, from, turn: DVec2::new(dot, cross).normalize_or(DVec2::X), to }
    }

    fn place(&self, at: SurfacePoint) -> [f64; 2] {
        (self.to + self.turn.rotate(self.film.on_sheet(at) - self.from)).to_array()
    }

    fn shape(&self, shape: &Shape) -> Outlines {
        shape.iter().map(|one| outline::followed(one, &|at| self.place(at))).collect()
    }
}

/// Shapes of a film on a sheet.
fn placed(film: &Parted<'_>, shapes: &[Shape], sheet: &Cone) -> Vec<Outlines> {
    let placing = Placing::new(film, sheet);
    shapes.iter().map(|shape| placing.shape(shape)).collect()
}
