//! A scene as pixels: project, find what is seen, light it, resolve.
//!
//! Work goes by bands of sample rows, each on its own, so the picture is the same for any number of
//! threads.

use crate::backdrop::Backdrop;
use crate::contact::{Surround, surrounds};
use crate::facets::{Facet, Pavilion};
use crate::glints::{self, Flash};
use crate::raster::{Layer, NOTHING, Seen, Sides, project, sample_place};
use crate::resolve::{FINE, resolve};
use crate::shade::{Hit, Lights, clear_plastic, surface};
use crate::studio::Studio;
use crate::tone::{linear_colour, luminance, neutral};
use crate::weights::Weights;
use crate::{Camera, Image, Material, Mesh, Scene};
use glam::Vec3;
use rayon::prelude::*;
use std::sync::OnceLock;

/// Sample rows of a band.
const BAND: usize = 32;
/// Exposure of the picture.
const EXPOSURE: f32 = 1.12;
/// Light of a facet from which on it counts as a flash.
const FLASH: f32 = 7.0;

/// A portrait of a scene from the front and a little above.
pub fn render(scene: &Scene, width: usize, height: usize) -> Image {
    let camera = Camera::framing(scene, 0.0, Camera::portrait_pitch(scene), width, height);
    render_view(scene, &camera, width, height)
}

/// A picture of a scene as a camera sees it.
pub fn render_view(scene: &Scene, camera: &Camera, width: usize, height: usize) -> Image {
    if width == 0 || height == 0 {
        return Image { width, height, rgb: Vec::new() };
    }
    let studio = studio();
    let view = View::new(scene, camera, studio, width, height);
    let samples_across = width * FINE;
    let mut light = vec![Vec3::ZERO; samples_across * height * FINE];
    let flashes: Vec<Flash> = light
        .par_chunks_mut(samples_across * BAND)
        .enumerate()
        .map_init(
            || Band::new(samples_across * BAND),
            |band, (index, out)| view.light_band(index, band, out),
        )
        .collect::<Vec<_>>()
        .concat();
    let stars = glints::choose(flashes, view.stones, width);
    Image { width, height, rgb: resolve(&light, &stars, width, height) }
}

/// The room that pieces are photographed in, the same for all.
fn studio() -> &'static Studio {
    static STUDIO: OnceLock<Studio> = OnceLock::new();
    STUDIO.get_or_init(Studio::new)
}

/// Makes ready what every picture needs, so that it is there when the first one is asked for.
pub fn prepare() {
    studio();
}

/// Everything that all bands share.
struct View<'a> {
    scene: &'a Scene,
    lights: Lights<'a>,
    backdrop: Backdrop,
    pavilion: Pavilion,
    /// Linear colour of each mesh.
    colours: Vec<Vec3>,
    /// Which meshes have no detail finer than a pixel.
    plain: Vec<bool>,
    eye: Vec3,
    /// Ray of the top left corner, and its change for each sample across and down.
    rays: [Vec3; 3],
    /// Samples across and down.
    size: (usize, usize),
    opaque: Sorted,
    clear: [Sorted; 2],
    surrounds: Vec<Surround>,
    surrounds_in: Vec<Vec<u32>>,
    stones: usize,
}

/// Triangles and the bands they touch.
struct Sorted {
    seen: Vec<Seen>,
    in_band: Vec<Vec<u32>>,
}

/// Working room for one band.
struct Band {
    opaque: Layer,
    clear: Layer,
    open: Vec<f32>,
}

impl Band {
    fn new(samples: usize) -> Self {
        Self { opaque: Layer::new(samples), clear: Layer::new(samples), open: vec![1.0; samples] }
    }
}

impl<'a> View<'a> {
    fn new(
        scene: &'a Scene,
        camera: &Camera,
        studio: &'a Studio,
        width: usize,
        height: usize,
    ) -> Self {
        let eye = camera.eye_mm.as_vec3();
        let lights = Lights::new(studio, camera.back());
        let size = (width * FINE, height * FINE);
        let bands = size.1.div_ceil(BAND);
        let sorted = |clear: bool, sides: Sides| {
            let seen: Vec<Seen> = scene
                .meshes
                .iter()
                .enumerate()
                .filter(|(_, mesh)| (mesh.material == Material::ClearPlastic) == clear)
                .flat_map(|(i, mesh)| project(mesh, i as u32, camera, size, sides))
                .collect();
            let rows = |s: &Seen| {
                let [_, _, top, bottom] = s.bounds();
                (top, bottom)
            };
            let in_band = sort_into_bands(seen.iter().map(rows), bands);
            Sorted { seen, in_band }
        };
        let surrounds = surrounds(scene, camera, size);
        let surrounds_in = sort_into_bands(surrounds.iter().map(Surround::rows), bands);
        Self {
            backdrop: Backdrop::new(scene, &lights, width),
            lights,
            pavilion: Pavilion::new(),
            colours: scene.meshes.iter().map(|mesh| colour_of(mesh.material)).collect(),
            plain: scene.meshes.iter().map(|mesh| is_plain(mesh.material)).collect(),
            eye,
            rays: camera.rays(size.0, size.1),
            size,
            opaque: sorted(false, Sides::Outside),
            clear: [sorted(true, Sides::Inside), sorted(true, Sides::Outside)],
            surrounds,
            surrounds_in,
            stones: scene.meshes.iter().map(|mesh| mesh.stones.len()).sum(),
            scene,
        }
    }

    /// Lights one band of samples; gives the flashes of its stones.
    fn light_band(&self, index: usize, band: &mut Band, out: &mut [Vec3]) -> Vec<Flash> {
        let width = self.size.0;
        let top_row = index * BAND;
        let Band { opaque, clear, open } = band;
        opaque.nearness.resize(out.len(), 0.0);
        opaque.seen.resize(out.len(), NOTHING);
        open.resize(out.len(), 1.0);
        opaque.clear();
        open.fill(1.0);
        for id in &self.opaque.in_band[index] {
            self.opaque.seen[*id as usize].draw(*id, opaque, None, width, top_row);
        }
        let is_stone = |seen: u32| {
            let mesh = self.opaque.seen[seen as usize].mesh;
            !self.scene.meshes[mesh as usize].stones.is_empty()
        };
        for i in &self.surrounds_in[index] {
            self.surrounds[*i as usize].darken(open, opaque, is_stone, width, top_row);
        }
        let flashes = self.light_opaque(opaque, open, top_row, out);
        for side in &self.clear {
            if side.in_band[index].is_empty() {
                continue;
            }
            clear.nearness.resize(out.len(), 0.0);
            clear.seen.resize(out.len(), NOTHING);
            clear.clear();
            for id in &side.in_band[index] {
                let seen = &side.seen[*id as usize];
                seen.draw(*id, clear, Some(&opaque.nearness), width, top_row);
            }
            self.light_clear(clear, &opaque.nearness, &side.seen, top_row, out);
        }
        for light in out {
            *light = light.clamp(Vec3::ZERO, Vec3::ONE);
        }
        flashes
    }

    fn ray(&self, column: usize, row: usize) -> Vec3 {
        let [corner, across, down] = self.rays;
        let (x, y) = sample_place(column, row);
        corner + across * x + down * y
    }

    /// The ray through the middle of a pixel whose first sample this is.
    fn middle_ray(&self, column: usize, row: usize) -> Vec3 {
        let [corner, across, down] = self.rays;
        let half = FINE as f32 / 2.0;
        corner + across * (column as f32 + half) + down * (row as f32 + half)
    }

    /// Whether all samples of a pixel show one surface without detail of its own, so that one light
    /// does for all; `first` is the pixel's first sample.
    fn is_even(&self, layer: &Layer, open: &[f32], first: usize) -> bool {
        let id = layer.seen[first];
        let mesh = |id: u32| self.opaque.seen[id as usize].mesh;
        (id == NOTHING || self.plain[mesh(id) as usize])
            && [1, self.size.0, self.size.0 + 1].into_iter().all(|step| {
                let other = layer.seen[first + step];
                let same =
                    other == id || (id != NOTHING && other != NOTHING && mesh(other) == mesh(id));
                same && open[first + step] == open[first]
            })
    }

    fn light_opaque(
        &self,
        layer: &Layer,
        open: &[f32],
        top_row: usize,
        out: &mut [Vec3],
    ) -> Vec<Flash> {
        let width = self.size.0;
        let mut flashes = Vec::new();
        let mut now = (NOTHING, Face::Nothing);
        let mut flash = Flash { x: 0.0, y: 0.0, strength: 0.0 };
        let mut even = vec![false; width / FINE];
        for i in 0..out.len() {
            let (column, row) = (i % width, i / width);
            let first = i - column % FINE - row % FINE * width;
            if i == first {
                even[column / FINE] = self.is_even(layer, open, first);
            }
            let is_even = even[column / FINE];
            if is_even && i != first {
                out[i] = out[first];
                continue;
            }
            let id = layer.seen[i];
            if id != now.0 || column == 0 {
                if flash.strength > 2.5 * FLASH {
                    flashes.push(flash);
                }
                flash.strength = 0.0;
                now = (id, self.face(&self.opaque.seen, id));
            }
            let row = top_row + row;
            let ray = if is_even { self.middle_ray(column, row) } else { self.ray(column, row) };
            let at = self.eye + ray / layer.nearness[i].max(1e-9);
            let view = -ray.normalize();
            out[i] = match &now.1 {
                Face::Nothing => self.backdrop.colour(
                    (column as f32 + 0.5) / width as f32,
                    (row as f32 + 0.5) / self.size.1 as f32,
                    self.eye,
                    ray,
                ),
                Face::Facet(facet) => {
                    let light = facet.light(at, view, &self.pavilion, &self.lights);
                    let strength = luminance(light);
                    if strength > FLASH {
                        flash.strength += strength.min(24.0);
                        flash.x = (column as f32 + 0.5) / FINE as f32;
                        flash.y = (row as f32 + 0.5) / FINE as f32;
                    }
                    neutral(light * EXPOSURE)
                }
                Face::Smooth(face) => {
                    let mut hit = face.hit(at, view);
                    hit.open *= open[i];
                    neutral(surface(&hit, face.material, face.colour, &self.lights) * EXPOSURE)
                }
            };
        }
        flashes
    }

    fn light_clear(
        &self,
        layer: &Layer,
        behind: &[f32],
        seen: &[Seen],
        top_row: usize,
        out: &mut [Vec3],
    ) {
        let width = self.size.0;
        let mut now = (NOTHING, Face::Nothing);
        for (i, out) in out.iter_mut().enumerate() {
            let id = layer.seen[i];
            if id == NOTHING {
                continue;
            }
            if id != now.0 {
                now = (id, self.face(seen, id));
            }
            if let Face::Smooth(face) = &now.1 {
                let ray = self.ray(i % width, top_row + i / width);
                let at = self.eye + ray / layer.nearness[i];
                let hit = face.hit(at, -ray.normalize());
                let gap_mm = 1.0 / behind[i].max(1e-9) - 1.0 / layer.nearness[i];
                *out = clear_plastic(&hit, *out, gap_mm, &self.lights);
            }
        }
    }

    fn face(&self, seen: &[Seen], id: u32) -> Face {
        if id == NOTHING {
            return Face::Nothing;
        }
        let seen = seen[id as usize];
        let mesh = &self.scene.meshes[seen.mesh as usize];
        let colour = self.colours[seen.mesh as usize];
        let ids = mesh.triangles[seen.triangle as usize].map(|i| i as usize);
        let corners = ids.map(|i| mesh.positions[i]);
        if let Some(stone) = stone_of(mesh, seen.triangle as usize) {
            let key = seen.mesh << 20 ^ stone as u32;
            return Face::Facet(Facet::new(mesh.stones[stone], corners, colour, key));
        }
        let flat = (corners[1] - corners[0]).cross(corners[2] - corners[0]).normalize_or(Vec3::Z);
        let normals =
            if mesh.normals.is_empty() { [flat; 3] } else { ids.map(|i| mesh.normals[i]) };
        let open = if mesh.open.is_empty() { [1.0; 3] } else { ids.map(|i| mesh.open[i]) };
        let weights = Weights::new(corners);
        Face::Smooth(SmoothFace { weights, normals, open, material: mesh.material, colour })
    }
}

/// Which stone of a mesh a triangle belongs to.
fn stone_of(mesh: &Mesh, triangle: usize) -> Option<usize> {
    let each = mesh.triangles.len().checked_div(mesh.stones.len())?;
    Some((triangle / each.max(1)).min(mesh.stones.len() - 1))
}

/// The triangle being lit.
enum Face {
    Nothing,
    Facet(Facet),
    Smooth(SmoothFace),
}

struct SmoothFace {
    weights: Weights,
    normals: [Vec3; 3],
    open: [f32; 3],
    material: Material,
    colour: Vec3,
}

impl SmoothFace {
    fn hit(&self, at: Vec3, view: Vec3) -> Hit {
        let w = self.weights.at(at);
        let [a, b, c] = self.normals;
        let normal = (a * w[0] + b * w[1] + c * w[2]).normalize_or(a);
        let open = self.open[0] * w[0] + self.open[1] * w[1] + self.open[2] * w[2];
        Hit { at, normal, view, open: open.clamp(0.0, 1.0) }
    }
}

fn colour_of(material: Material) -> Vec3 {
    match material {
        Material::Paint { srgb, .. }
        | Material::Glitter { srgb, .. }
        | Material::Vinyl { srgb, .. }
        | Material::Stone { srgb } => linear_colour(srgb),
        Material::Steel | Material::CoatedSteel | Material::ClearPlastic => Vec3::splat(0.6),
    }
}

fn is_plain(material: Material) -> bool {
    !matches!(material, Material::Glitter { .. } | Material::Stone { .. })
}

/// Which of a list of row spans touch each band, in the order of the list.
fn sort_into_bands(spans: impl Iterator<Item = (i32, i32)>, bands: usize) -> Vec<Vec<u32>> {
    let mut sorted = vec![Vec::new(); bands];
    for (i, (top, bottom)) in spans.enumerate() {
        if bottom < 0 {
            continue;
        }
        let first = top.max(0) as usize / BAND;
        let last = (bottom as usize / BAND).min(bands - 1);
        for band in sorted.iter_mut().take(last + 1).skip(first) {
            band.push(i as u32);
        }
    }
    sorted
}
