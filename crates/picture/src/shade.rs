//! Light from surfaces towards the eye: steel, paint, film, clear plastic; and what they share.

use crate::studio::{Studio, smoothstep};
use crate::tone::luminance;
use crate::{Material, flakes};
use glam::{Mat3, Vec3};

/// The studio as it stands round a piece: it turns and tilts with the camera, so that every side is
/// lit as well as the front of a tall piece is.
#[derive(Debug)]
pub(crate) struct Lights<'a> {
    studio: &'a Studio,
    studio_from_piece: Mat3,
}

/// Share of the camera's tilt that the studio follows: all of it, and a flat piece would mirror the
/// large cloth overhead.
const TILT: f32 = 0.35;
/// The studio is hung for a camera this far up, as the sine of the angle.
const HUNG_FOR: f32 = 0.225;

impl<'a> Lights<'a> {
    /// `back` is the way from the piece to the camera.
    pub(crate) fn new(studio: &'a Studio, back: Vec3) -> Self {
        let back = back.normalize_or(Vec3::X);
        let level = Vec3::new(back.x, back.y, 0.0).normalize_or(Vec3::X);
        let up = back.z.max(HUNG_FOR);
        // Tilt from the height the studio is hung for to the camera's: angles subtract.
        let along = |sine: f32| (1.0 - sine * sine).max(0.0).sqrt();
        let sine = up * along(HUNG_FOR) - along(up) * HUNG_FOR;
        let cosine = along(sine);
        let followed = level * cosine + Vec3::Z * sine;
        let front = level.lerp(followed, TILT).normalize();
        let right = Vec3::new(-level.y, level.x, 0.0);
        let rows = Mat3::from_cols(front, right, front.cross(right));
        Self { studio, studio_from_piece: rows.transpose() }
    }

    fn turned(&self, d: Vec3) -> Vec3 {
        self.studio_from_piece * d
    }

    /// Soft boxes and tiny lamps, sharp.
    pub(crate) fn sparkle(&self, towards: Vec3) -> Vec3 {
        self.studio.sparkle.light(self.turned(towards))
    }

    /// The same, a little soft.
    pub(crate) fn sparkle_soft(&self, towards: Vec3) -> Vec3 {
        self.studio.sparkle_soft.light(self.turned(towards))
    }

    /// Soft boxes alone.
    pub(crate) fn boxes(&self, towards: Vec3) -> Vec3 {
        self.studio.boxes.light(self.turned(towards))
    }

    /// Soft boxes as brushed steel mirrors them.
    pub(crate) fn brushed(&self, towards: Vec3) -> Vec3 {
        self.studio.brushed.light(self.turned(towards))
    }

    /// Soft boxes as satin mirrors them.
    pub(crate) fn satin(&self, towards: Vec3) -> Vec3 {
        self.studio.satin.light(self.turned(towards))
    }

    /// Mean light on a matt surface.
    pub(crate) fn matt(&self, normal: Vec3) -> Vec3 {
        self.studio.matt.light(self.turned(normal))
    }
}

/// A place that is looked at.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Hit {
    /// Where, mm.
    pub(crate) at: Vec3,
    /// Unit normal.
    pub(crate) normal: Vec3,
    /// Unit way to the eye.
    pub(crate) view: Vec3,
    /// How open to the studio it is, 0 to 1.
    pub(crate) open: f32,
}

/// The way a ray from `view` goes on after a mirror.
pub(crate) fn reflect(view: Vec3, normal: Vec3) -> Vec3 {
    normal * (2.0 * normal.dot(view)) - view
}

/// Share of light mirrored at a surface (Schlick, "An Inexpensive BRDF Model for Physically-based
/// Rendering", 1994); `straight` is the share at right angles.
pub(crate) fn fresnel(straight: f32, cosine: f32) -> f32 {
    let m = (1.0 - cosine).clamp(0.0, 1.0);
    straight + (1.0 - straight) * m * m * m * m * m
}

/// Light from a surface that is not a stone. `colour` is the material's, linear.
pub(crate) fn surface(hit: &Hit, material: Material, colour: Vec3, lights: &Lights<'_>) -> Vec3 {
    let light = match material {
        Material::Steel => steel(hit, lights),
        Material::CoatedSteel => {
            // Resin fills the scratches, and takes a little blue away.
            let below = steel(hit, lights) * Vec3::new(0.90, 0.885, 0.85);
            clear_coat(hit, below, lights)
        }
        Material::Paint { gloss, .. } => {
            let matt = colour * lights.matt(hit.normal) * 1.05;
            if gloss { clear_coat(hit, matt, lights) } else { satin(hit, matt, 0.75, lights) }
        }
        Material::Vinyl { gloss, .. } => {
            let matt = colour * lights.matt(hit.normal) * 1.08;
            if gloss { clear_coat(hit, matt, lights) } else { satin(hit, matt, 1.25, lights) }
        }
        Material::Glitter { flake_mm, gloss, .. } => {
            let flakes = flakes::light(hit, colour, flake_mm.max(0.05), lights);
            if gloss { clear_coat(hit, flakes, lights) } else { flakes }
        }
        // Stones and clear plastic are lit elsewhere; as surfaces they are plain.
        Material::Stone { .. } | Material::ClearPlastic => colour * lights.matt(hit.normal),
    };
    light * hit.open
}

/// Poured resin over `below`: sharp reflections on a surface that is never quite even.
fn clear_coat(hit: &Hit, below: Vec3, lights: &Lights<'_>) -> Vec3 {
    let sway = |k: Vec3| wave(hit.at.dot(k)) * 0.006;
    let uneven = Vec3::new(
        sway(Vec3::new(0.013, 0.029, 0.021)),
        sway(Vec3::new(0.031, -0.012, 0.017)),
        sway(Vec3::new(-0.011, 0.019, 0.026)),
    );
    let normal = (hit.normal + uneven).normalize();
    let mirrored = fresnel(0.045, normal.dot(hit.view));
    let light = lights.boxes(reflect(hit.view, normal));
    // Lamps are far brighter than the range of the picture: their mirror images
    // in a coat come out brighter than those of the walls, yet let lettering be read.
    let glare = 1.0 + 0.04 * luminance(light);
    below * (1.0 - mirrored) + light * (glare * mirrored)
}

/// Dried paint or film: broad, weak reflections.
fn satin(hit: &Hit, below: Vec3, strength: f32, lights: &Lights<'_>) -> Vec3 {
    let mirrored = fresnel(0.04, hit.normal.dot(hit.view)) * strength;
    let mirrored = mirrored.min(0.5);
    below * (1.0 - mirrored) + lights.satin(reflect(hit.view, hit.normal)) * mirrored
}

/// Steel brushed round the axis: each reflection is drawn out along the wall.
fn steel(hit: &Hit, lights: &Lights<'_>) -> Vec3 {
    let level = Vec3::new(-hit.normal.y, hit.normal.x, 0.0);
    let round =
        if level.length_squared() > 1e-3 { level } else { Vec3::new(-hit.at.y, hit.at.x, 0.0) };
    let round = round.normalize_or(Vec3::Y);
    let along = round.cross(hit.normal).normalize_or(Vec3::Z);
    let mut sum = Vec3::ZERO;
    for (offset, weight) in SPREAD {
        let normal = (hit.normal + along * offset).normalize();
        sum += lights.brushed(reflect(hit.view, normal)) * weight;
    }
    let soft = lights.satin(reflect(hit.view, hit.normal));
    let grazing = fresnel(0.0, hit.normal.dot(hit.view));
    let colour = Vec3::new(0.70, 0.69, 0.675).lerp(Vec3::ONE, grazing);
    // Scratches run on round the wall, fine ones and coarser ones.
    let height = hit.at.dot(along) + hit.at.dot(hit.normal) * 0.3;
    let grain = 1.0 + 0.16 * scratch(height * 2.7, 1) + 0.09 * scratch(height * 0.9, 2);
    colour * (sum * 0.55 + soft * 0.45) * grain
}

/// How far scratches lean light along the wall, as tangents, and the share of each.
const SPREAD: [(f32, f32); 7] = [
    (-0.24, 0.06),
    (-0.16, 0.12),
    (-0.08, 0.20),
    (0.0, 0.24),
    (0.08, 0.20),
    (0.16, 0.12),
    (0.24, 0.06),
];

/// A number between -1/2 and 1/2 that changes smoothly from one whole place to the next.
fn scratch(place: f32, kind: u32) -> f32 {
    let whole = place.floor();
    let at = |step: f32| crate::chance::units([(whole + step) as i32 as u32, 0x57ee1, kind])[0];
    at(0.0) + (at(1.0) - at(0.0)) * (place - whole) - 0.5
}

/// Clear plastic `gap_mm` before what lies behind it. Where it lies close on a wall there is nothing
/// between the two to be seen.
pub(crate) fn clear_plastic(hit: &Hit, behind: Vec3, gap_mm: f32, lights: &Lights<'_>) -> Vec3 {
    let apart = smoothstep(0.4, 3.0, gap_mm);
    let normal = if hit.normal.dot(hit.view) < 0.0 { -hit.normal } else { hit.normal };
    let cosine = normal.dot(hit.view).max(0.02);
    let mirrored = fresnel(0.045, cosine);
    // A thin wall is crossed on a longer way the flatter it is looked at.
    let milky = (0.055 / cosine).min(0.5);
    let glow = lights.matt(normal) * Vec3::new(0.90, 0.95, 0.96) * 0.55;
    let through = behind * Vec3::new(0.93, 0.95, 0.955);
    let seen = through.lerp(glow, milky) * (1.0 - mirrored)
        + lights.boxes(reflect(hit.view, normal)) * mirrored;
    behind.lerp(seen, apart)
}

/// A smooth wave of period one between -1 and 1, close to a sine.
fn wave(turns: f32) -> f32 {
    let t = turns - turns.floor();
    let half = if t < 0.5 { t } else { t - 0.5 };
    let arch = 16.0 * half * (0.5 - half);
    if t < 0.5 { arch } else { -arch }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn mirrors_turn_the_ray_over_the_normal() {
        let view = Vec3::new(0.6, 0.0, 0.8);
        assert!(reflect(view, Vec3::Z).distance(Vec3::new(-0.6, 0.0, 0.8)) < 1e-6);
        // All light is mirrored at grazing, ((n-1)/(n+1))^2 = 0.04 of it straight on for n = 1.5
        // (Fresnel; any optics handbook).
        assert!((fresnel(0.04, 0.0) - 1.0).abs() < 1e-6);
        assert!((fresnel(0.04, 1.0) - (0.5_f32 / 2.5).powi(2)).abs() < 1e-6);
    }

    #[test]
    fn the_wave_is_close_to_a_sine() {
        for i in 0..100 {
            let t = i as f32 / 37.0;
            assert!((wave(t) - (t * std::f32::consts::TAU).sin()).abs() < 0.06, "{t}");
        }
    }
}
