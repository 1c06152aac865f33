//! The finished piece as meshes.
//!
//! Every finish lies as far out as it does on the real piece. What lies under clear resin is drawn
//! at the resin's outer face, for that is where the eye sees its gloss and stones stand on it.

use crate::region::{Region, cuts};
use crate::shell::{shell, stand, whole_face};
use crate::strips::strips;
use crate::{Material, Mesh, StoneFrame};
use piece::{Finish, PartRole, Piece};
use shape::{Shape, Surface, SurfacePoint};
use std::collections::BTreeMap;
use stones::Stones;

/// The finished piece.
#[derive(Debug, Clone, PartialEq)]
pub struct Scene {
    /// Surfaces and stones; stones of one zone and colour are one mesh.
    pub meshes: Vec<Mesh>,
}

/// Least distance in which one layer is drawn over another, mm.
const APART_MM: f64 = 0.025;

/// The finished piece as meshes.
pub fn build_scene(piece: &Piece, shape: &Shape, stones: &Stones) -> Scene {
    let mut meshes = Vec::new();
    for part in 0..piece.parts.len() {
        Layers { piece, shape, part }.draw(&mut meshes);
    }
    meshes.extend(stone_meshes(piece, shape, stones));
    stand(&mut meshes);
    Scene { meshes }
}

/// What lies on one part.
struct Layers<'a> {
    piece: &'a Piece,
    shape: &'a Shape,
    part: usize,
}

/// A coat of resin over a part: its zone and how far out its outer face is, mm.
#[derive(Clone, Copy)]
struct Resin {
    zone: usize,
    outer_mm: f64,
}

impl Layers<'_> {
    fn draw(&self, meshes: &mut Vec<Mesh>) {
        let part = &self.piece.parts[self.part];
        let placed = &self.shape.parts[self.part];
        let blank = match (part.blank_colour, part.role) {
            (Some(colour), _) => {
                Material::Paint { srgb: self.piece.colours[colour].srgb, gloss: false }
            }
            (None, PartRole::Body) => Material::Steel,
            (None, PartRole::Lid | PartRole::Topper) => Material::ClearPlastic,
        };
        meshes.extend(shell(&part.name, part.role, blank, &placed.surface, placed.piece_from_part));
        let face = whole_face(&placed.surface);
        if blank != Material::ClearPlastic {
            // Only where resin lies on it does the blank need another mesh.
            let name = format!("{}/blank", part.name);
            self.draw_face(&name, blank, &face, &placed.surface, None, meshes);
        }
        let mut level_mm = 0.0_f64;
        for (i, zone) in self.zones() {
            let Some((material, film_mm)) = self.material(&zone.finish) else { continue };
            let zone_shape = &self.shape.zones[i];
            let below_mm = zone_shape.surface.thickness_mm();
            level_mm = (below_mm + film_mm).max(level_mm + APART_MM);
            let surface = zone_shape.surface.grown(level_mm - below_mm);
            let name = format!("{}/{}", part.name, zone.name);
            self.draw_face(&name, material, &zone_shape.area.loops, &surface, Some(i), meshes);
        }
    }

    fn zones(&self) -> impl Iterator<Item = (usize, &piece::piece::Zone)> {
        self.piece.zones.iter().enumerate().filter(|(_, zone)| zone.part == self.part)
    }

    /// What a finish looks like and how thick it is drawn, mm; `None` for resin and stones.
    fn material(&self, finish: &Finish) -> Option<(Material, f64)> {
        let srgb = |colour: usize| self.piece.colours[colour].srgb;
        let gloss = false;
        match *finish {
            Finish::Paint { colour, coats } => {
                Some((Material::Paint { srgb: srgb(colour), gloss }, 0.025 * f64::from(coats)))
            }
            Finish::Glitter { colour, flake_mm, .. } => {
                let flake_mm = flake_mm as f32;
                Some((Material::Glitter { srgb: srgb(colour), flake_mm, gloss }, 0.1))
            }
            Finish::Vinyl { colour, .. } => {
                Some((Material::Vinyl { srgb: srgb(colour), gloss }, 0.08))
            }
            Finish::Resin { .. } | Finish::Stones(_) => None,
        }
    }

    /// Draws a layer: as it is where it lies bare, glossy and at the outer face where resin covers
    /// it. `zone` is `None` for the blank, which is drawn here only where it is covered.
    fn draw_face(
        &self,
        name: &str,
        material: Material,
        loops: &[Vec<SurfacePoint>],
        surface: &Surface,
        zone: Option<usize>,
        meshes: &mut Vec<Mesh>,
    ) {
        let above = |i: usize| zone.is_none_or(|zone| i > zone);
        let resins: Vec<Resin> = self
            .zones()
            .filter_map(|(i, over)| match over.finish {
                Finish::Resin { coats, film_mm } if above(i) => {
                    let below_mm = self.shape.zones[i].surface.thickness_mm();
                    Some(Resin { zone: i, outer_mm: below_mm + f64::from(coats) * film_mm })
                }
                _ => None,
            })
            .collect();
        let covers: Vec<&[Vec<SurfacePoint>]> =
            resins.iter().map(|resin| self.shape.zones[resin.zone].area.loops.as_slice()).collect();
        let mut by_cover: BTreeMap<u64, Vec<_>> = BTreeMap::new();
        for strip in strips(loops, &covers, &cuts(surface)) {
            by_cover.entry(strip.covers).or_default().push(strip);
        }
        let pose = self.shape.parts[self.part].piece_from_part;
        for (covers, strips) in by_cover {
            let top = resins
                .iter()
                .enumerate()
                .filter(|(bit, _)| covers >> bit & 1 == 1)
                .map(|(_, resin)| *resin)
                .max_by(|a, b| a.outer_mm.total_cmp(&b.outer_mm));
            let (surface, material, name) = match top {
                None if zone.is_none() => continue,
                None => (surface.clone(), material, name.to_owned()),
                Some(resin) => {
                    // Later layers under the same resin are drawn over this one.
                    let later = self
                        .zones()
                        .filter(|(i, _)| above(*i) && *i < resin.zone)
                        .filter(|(_, zone)| self.material(&zone.finish).is_some())
                        .count();
                    let lift_mm = resin.outer_mm - APART_MM * later as f64 - surface.thickness_mm();
                    (surface.grown(lift_mm.max(0.0)), glossy(material), format!("{name}/coated"))
                }
            };
            let mut region = Region::new(name, material, &surface, pose);
            for strip in &strips {
                region.add(strip);
            }
            meshes.extend(region.finish());
        }
    }
}

fn glossy(material: Material) -> Material {
    match material {
        Material::Steel => Material::CoatedSteel,
        Material::Paint { srgb, .. } => Material::Paint { srgb, gloss: true },
        Material::Glitter { srgb, flake_mm, .. } => {
            Material::Glitter { srgb, flake_mm, gloss: true }
        }
        Material::Vinyl { srgb, .. } => Material::Vinyl { srgb, gloss: true },
        other => other,
    }
}

/// One mesh for each zone and colour of stones, each stone turned and tilted a little.
fn stone_meshes(piece: &Piece, shape: &Shape, stones: &Stones) -> Vec<Mesh> {
    let mut groups: BTreeMap<(usize, usize), Vec<StoneFrame>> = BTreeMap::new();
    for (key, stone) in stones.stones.iter().enumerate() {
        let pose = shape.parts[stone.part].piece_from_part;
        let centre_mm = pose.transform_point3(stone.centre_mm).as_vec3();
        let normal = pose.transform_vector3(stone.normal).normalize().as_vec3();
        let frame =
            StoneFrame::set_by_hand(centre_mm, normal, stone.diameter_mm as f32, key as u32);
        groups.entry((stone.zone, stone.colour)).or_default().push(frame);
    }
    let name = |zone: usize, colour: usize| {
        let zone = &piece.zones[zone];
        format!("{}/{}/{}", piece.parts[zone.part].name, zone.name, piece.colours[colour].name)
    };
    groups
        .into_iter()
        .map(|((zone, colour), frames)| {
            Mesh::of_stones(name(zone, colour), piece.colours[colour].srgb, frames)
        })
        .collect()
}
