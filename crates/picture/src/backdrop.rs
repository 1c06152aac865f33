//! What the piece stands on and before: a warm, plain sweep with a soft shadow.

use crate::shade::Lights;
use crate::studio::smoothstep;
use crate::tone::{linear_colour, luminance};
use crate::{Material, Scene};
use glam::Vec3;
use rayon::prelude::*;

/// Cells of the shadow map each way: most, least, and pixels of the picture's width for one.
const CELLS: (usize, usize) = (112, 56);
const PIXELS_A_CELL: usize = 6;
/// Directions round, and heights in each direction.
const ROUND: usize = 24;
const HEIGHTS: usize = 10;
/// Half the map's side over the farthest that anything reaches from the middle.
const SPREAD: f32 = 2.9;

/// The sweep behind and under a piece.
#[derive(Debug)]
pub(crate) struct Backdrop {
    /// Top, middle, and bottom of the picture.
    colours: [Vec3; 3],
    /// Cells of the shadow map each way.
    cells: usize,
    /// Half the side of the shadow map and the width of a cell, mm.
    half_mm: f32,
    cell_mm: f32,
    /// Share of the studio's light that reaches each cell of the table.
    lit: Vec<f32>,
    /// How dark the shadow is: clear plastic alone throws half of one.
    strength: f32,
}

impl Backdrop {
    /// Works the shadow out from what stands on the table, as finely as a picture so many pixels wide
    /// shows it.
    pub(crate) fn new(scene: &Scene, lights: &Lights<'_>, width: usize) -> Self {
        let cells = (width / PIXELS_A_CELL).clamp(CELLS.1, CELLS.0);
        let reach = scene
            .meshes
            .iter()
            .flat_map(|mesh| &mesh.positions)
            .fold(1.0_f32, |reach, p| reach.max(p.x.abs()).max(p.y.abs()));
        let half_mm = SPREAD * reach;
        let cell_mm = 2.0 * half_mm / cells as f32;
        let blockers = Blockers::new(scene, cells, half_mm, cell_mm);
        let rays = rays(lights);
        let whole: f32 = rays.iter().flat_map(|ray| ray.2).sum();
        let mut lit = vec![1.0_f32; cells * cells];
        lit.par_iter_mut().enumerate().with_min_len(64).for_each(|(cell, lit)| {
            *lit = rays.iter().map(|ray| blockers.reaching(cell, ray)).sum::<f32>() / whole;
        });
        let colours = [[246, 240, 233], [236, 226, 216], [214, 199, 185]].map(linear_colour);
        let clear = scene.meshes.iter().all(|mesh| !solid(&mesh.material));
        let strength = if clear { 0.5 } else { 0.96 };
        Self { colours, cells, half_mm, cell_mm, lit: softened(&lit, cells), strength }
    }

    /// Finished light (0 to 1) at a share of the picture across and down; `ray` leaves the eye.
    pub(crate) fn colour(&self, across: f32, down: f32, eye: Vec3, ray: Vec3) -> Vec3 {
        let [top, middle, bottom] = self.colours;
        let base = if down < 0.55 {
            top.lerp(middle, smoothstep(0.0, 0.55, down))
        } else {
            middle.lerp(bottom, smoothstep(0.55, 1.0, down))
        };
        let (x, y) = (across - 0.5, down - 0.5);
        let corners = 1.0 - 0.22 * (x * x + y * y);
        let shadow = if ray.z < 0.0 { self.shadow(eye - ray * (eye.z / ray.z)) } else { 0.0 };
        base * corners * (Vec3::ONE - Vec3::new(0.93, 0.965, 0.985) * shadow)
    }

    /// How much light is missing on the table, 0 to 1.
    fn shadow(&self, p: Vec3) -> f32 {
        let at = |v: f32| (v + self.half_mm) / self.cell_mm - 0.5;
        let (x, y) = (at(p.x), at(p.y));
        let last = self.cells as f32 - 1.0;
        if x < 0.0 || y < 0.0 || x >= last || y >= last {
            return 0.0;
        }
        let (column, row) = (x as usize, y as usize);
        let (fx, fy) = (x - column as f32, y - row as f32);
        let i = row * self.cells + column;
        let top = self.lit[i] + (self.lit[i + 1] - self.lit[i]) * fx;
        let next = i + self.cells;
        let below = self.lit[next] + (self.lit[next + 1] - self.lit[next]) * fx;
        let missing = 1.0 - (top + (below - top) * fy);
        // The map ends before the shadow does; let it run out.
        let edge = p.x.abs().max(p.y.abs()) / self.half_mm;
        self.strength * missing * (0.45 + 0.55 * missing) * smoothstep(1.0, 0.55, edge)
    }
}

fn solid(material: &Material) -> bool {
    !matches!(material, Material::Stone { .. } | Material::ClearPlastic)
}

/// What stands in each cell of the shadow map.
struct Blockers {
    cells: usize,
    cell_mm: f32,
    /// Lowest and highest of it, mm; empty where `low > high`.
    heights: Vec<(f32, f32)>,
}

impl Blockers {
    fn new(scene: &Scene, cells: usize, half_mm: f32, cell_mm: f32) -> Self {
        let mut heights = vec![(f32::MAX, f32::MIN); cells * cells];
        let mut mark = |p: Vec3| {
            let at = |v: f32| (((v + half_mm) / cell_mm).max(0.0) as usize).min(cells - 1);
            let cell = &mut heights[at(p.y) * cells + at(p.x)];
            *cell = (cell.0.min(p.z), cell.1.max(p.z));
        };
        for mesh in scene.meshes.iter().filter(|mesh| mesh.stones.is_empty()) {
            for corners in mesh.triangles.iter().map(|t| t.map(|i| mesh.positions[i as usize])) {
                for k in 0..3 {
                    let (a, b) = (corners[k], corners[(k + 1) % 3]);
                    let steps = (a.distance(b) / cell_mm).ceil().clamp(1.0, 4.0 * cells as f32);
                    for step in 0..steps as u32 {
                        mark(a.lerp(b, step as f32 / steps));
                    }
                }
            }
        }
        Self { cells, cell_mm, heights }
    }

    /// Light that reaches a cell from one direction round.
    fn reaching(&self, cell: usize, ray: &Ray) -> f32 {
        let (cells, cell_mm) = (self.cells, self.cell_mm);
        let ((c, s), rise, weight) = ray;
        let mut open = [true; HEIGHTS];
        let (mut x, mut y) = ((cell % cells) as f32 + 0.5, (cell / cells) as f32 + 0.5);
        // Everything stands within a circle round the middle: only the ray's chord of it matters.
        let middle = cells as f32 / 2.0;
        let (dx, dy) = (middle - x, middle - y);
        let nearest = dx * c + dy * s;
        let aside = dx * s - dy * c;
        let radius = std::f32::consts::SQRT_2 * middle / SPREAD + 1.0;
        let half_chord = (radius * radius - aside * aside).max(0.0).sqrt();
        let start = ((nearest - half_chord) / 0.75).ceil().max(0.0);
        let steps = ((nearest + half_chord) / 0.75 - start).max(0.0) as u32;
        (x, y) = (x + start * 0.75 * c, y + start * 0.75 * s);
        let mut way = start * 0.75 * cell_mm;
        let size = cells as f32;
        for _ in 0..steps {
            if !((0.0..size).contains(&x) && (0.0..size).contains(&y)) {
                break;
            }
            let (low, high) = self.heights[y as usize * cells + x as usize];
            if low <= high {
                for k in 0..HEIGHTS {
                    let height = rise[k] * way;
                    open[k] &= height < low - 0.5 * cell_mm || height > high;
                }
            }
            x += 0.75 * c;
            y += 0.75 * s;
            way += 0.75 * cell_mm;
        }
        (0..HEIGHTS).map(|k| if open[k] { weight[k] } else { 0.0 }).sum()
    }
}

/// A direction round the table, the rise of the light at each height, and how much comes from there.
type Ray = ((f32, f32), [f32; HEIGHTS], [f32; HEIGHTS]);

fn rays(lights: &Lights<'_>) -> Vec<Ray> {
    (0..ROUND)
        .map(|i| {
            let (c, s) = crate::cut::circle((i as f32 + 0.5) / ROUND as f32);
            let (mut rise, mut weight) = ([0.0; HEIGHTS], [0.0; HEIGHTS]);
            for k in 0..HEIGHTS {
                let (ch, sh) = crate::cut::circle((k as f32 + 0.5) / HEIGHTS as f32 / 4.0);
                rise[k] = sh / ch;
                weight[k] = luminance(lights.satin(Vec3::new(c * ch, s * ch, sh))) * sh * ch;
            }
            ((c, s), rise, weight)
        })
        .collect()
}

/// The mean of each cell and its neighbours.
fn softened(lit: &[f32], cells: usize) -> Vec<f32> {
    let at = |x: usize, y: usize| lit[y.min(cells - 1) * cells + x.min(cells - 1)];
    (0..cells * cells)
        .map(|i| {
            let (x, y) = (i % cells, i / cells);
            let mut sum = 0.0;
            for (dy, wy) in [(0, 0.25), (1, 0.5), (2, 0.25)] {
                for (dx, wx) in [(0, 0.25), (1, 0.5), (2, 0.25)] {
                    sum += at((x + dx).saturating_sub(1), (y + dy).saturating_sub(1)) * wx * wy;
                }
            }
            sum
        })
        .collect()
}
