//! A picture set in the stones at hand.
//!
//! It is drawn on the bare part, as art is: round the part by arc length at the stone's own parallel,
//! and by distance along the wall. A stone wants the mean light of the picture under its disc, a stone
//! beyond the picture the mean of its border. Light is diffused as it adds up, in linear light, and
//! each stone takes the colour that CIEDE2000 says is nearest.

use crate::Stone;
use crate::colour::Uncoloured;
use crate::colour::difference::{Light, linear};
use crate::colour::halftone::{Changes, Wanted, diffused, searched};
use crate::colour::hull::{Mix, nearest_mix};
use crate::colour::near::Near;
use crate::going::Going;
use glam::DVec3;
use piece::{Colour, Colouring, Finish, Piece, StonePicture};
use shape::{Surface, SurfacePoint};
use std::f64::consts::TAU;

/// Fewest and most samples across a stone's disc.
const SAMPLES: (f64, f64) = (6.0, 200.0);
/// A colour with less than this share of the mix wanted is left to others.
const LEAST_SHARE: f64 = 0.01;
/// Blur through which a picture in stones is judged: a Gaussian three stones wide at half height.
const JUDGED_PITCHES: f64 = 3.0 / 2.354_820_045;

/// A colour (index into `palette`) for each stone, out of `choice`.
pub fn set(
    stones: &Uncoloured<'_>,
    picture: &StonePicture,
    choice: &[usize],
    palette: &[Colour],
) -> Vec<usize> {
    let colours: Vec<Light> =
        choice.iter().map(|colour| Light::from_srgb(palette[*colour].srgb)).collect();
    let mixes: Vec<[f64; 3]> = colours.iter().map(|light| light.0).collect();
    let laid = Laid::new(picture, stones.surface);
    // What no mix of the stones can show would be handed on without end.
    let places = stones.at.iter().zip(stones.diameters_mm).enumerate();
    let mixed: Vec<Mix> = places
        .take_while(|(number, _)| stones.going.at(*number))
        .map(|(_, (at, diameter_mm))| nearest_mix(&mixes, laid.light(*at, *diameter_mm).0))
        .collect();
    if mixed.len() < stones.at.len() {
        return vec![choice[0]; stones.at.len()];
    }
    let mean_mm = stones.diameters_mm.iter().sum::<f64>() / stones.diameters_mm.len() as f64;
    let area = |diameter_mm: &f64| (diameter_mm / mean_mm) * (diameter_mm / mean_mm);
    let wanted = Wanted {
        depth: 3,
        targets: mixed.iter().flat_map(|mix| mix.light).collect(),
        weights: stones.diameters_mm.iter().map(area).collect(),
        colours: mixes.iter().map(|mix| mix.to_vec()).collect(),
        changes: Changes::All,
    };
    // Only colours of the mix: far ones that make up for each other would be coarse grain.
    let allowed = |number: usize, colour: usize| mixed[number].shares[colour] >= LEAST_SHARE;
    let choose = |number: usize, shown: &[f64]| {
        let shown = Light([shown[0], shown[1], shown[2]]);
        let far: Vec<f64> = colours.iter().map(|colour| colour.difference(shown)).collect();
        let few = (0..far.len()).filter(|colour| allowed(number, *colour));
        few.min_by(|a, b| far[*a].total_cmp(&far[*b])).unwrap_or(0)
    };
    let draft = diffused(stones, &wanted, choose);
    let chosen = searched(stones, &wanted, draft, allowed);
    chosen.into_iter().map(|index| choice[index]).collect()
}

/// A picture on a part.
struct Laid<'a> {
    picture: &'a StonePicture,
    bare: Surface,
    mm_per_pixel: f64,
    border: [f64; 3],
}

impl<'a> Laid<'a> {
    fn new(picture: &'a StonePicture, surface: &Surface) -> Self {
        let (wide, high) = picture.size;
        let rim = (0..wide)
            .flat_map(|x| [(x, 0), (x, high.saturating_sub(1))])
            .chain((0..high).flat_map(|y| [(0, y), (wide.saturating_sub(1), y)]));
        let (mut sum, mut count) = ([0.0; 3], 0.0);
        for (x, y) in rim {
            let Some(pixel) = picture.srgb.get(y * wide + x) else { continue };
            sum = plus(sum, linear(*pixel));
            count += 1.0;
        }
        Self {
            picture,
            bare: surface.grown(-surface.thickness_mm()),
            mm_per_pixel: picture.width_mm / wide.max(1) as f64,
            border: sum.map(|part| part / f64::max(count, 1.0)),
        }
    }

    /// Mean light of the picture under a stone.
    fn light(&self, at: SurfacePoint, diameter_mm: f64) -> Light {
        let off = at.around - self.picture.around;
        let off = if self.bare.period().is_some() { off - TAU * (off / TAU).round() } else { off };
        let x = off * self.bare.around_scale_mm(at.along_mm);
        let y = at.along_mm - self.picture.along_mm;
        let (wide, high) = (self.picture.size.0 as f64, self.picture.size.1 as f64);
        let (x, y) = (x / self.mm_per_pixel + wide / 2.0, y / self.mm_per_pixel + high / 2.0);
        if !(0.0..wide).contains(&x) || !(0.0..high).contains(&y) {
            return Light::from_linear(self.border);
        }
        let radius = diameter_mm / 2.0 / self.mm_per_pixel;
        let across = (2.0 * radius).ceil().clamp(SAMPLES.0, SAMPLES.1);
        let step = |k: u32| radius * ((2.0 * f64::from(k) + 1.0) / across - 1.0);
        let (mut sum, mut count) = ([0.0; 3], 0.0);
        for row in 0..across as u32 {
            for column in 0..across as u32 {
                let (dx, dy) = (step(column), step(row));
                if dx * dx + dy * dy > radius * radius {
                    continue;
                }
                let (px, py) = ((x + dx).floor(), (y + dy).floor());
                if px < 0.0 || py < 0.0 || px >= wide || py >= high {
                    continue;
                }
                let pixel = py as usize * self.picture.size.0 + px as usize;
                let Some(srgb) = self.picture.srgb.get(pixel) else { continue };
                sum = plus(sum, linear(*srgb));
                count += 1.0;
            }
        }
        if count == 0.0 {
            return Light::from_linear(self.border);
        }
        Light::from_linear(sum.map(|part| part / count))
    }
}

fn plus(a: [f64; 3], b: [f64; 3]) -> [f64; 3] {
    [a[0] + b[0], a[1] + b[1], a[2] + b[2]]
}

/// How far the stones of a zone are from the pictures that its layers are to show: mean CIEDE2000
/// between the two, both blurred in linear light until three stones run into one. `None` if none of
/// the zone's layers shows a picture. `surface` is the one the stones are set on.
pub fn picture_difference(
    piece: &Piece,
    surface: &Surface,
    zone: usize,
    stones: &[Stone],
) -> Option<f64> {
    picture_difference_while(piece, surface, zone, stones, Going::always())
}

/// The same, of what was looked at while it was `going`.
pub fn picture_difference_while(
    piece: &Piece,
    surface: &Surface,
    zone: usize,
    stones: &[Stone],
    going: Going<'_>,
) -> Option<f64> {
    let Finish::Stones(finish) = &piece.zones[zone].finish else { return None };
    let (mut sum, mut count) = (0.0, 0.0);
    for (number, layer) in finish.layers.iter().enumerate() {
        let Colouring::Picture(picture) = &layer.colouring else { continue };
        let ours: Vec<&Stone> =
            stones.iter().filter(|stone| (stone.zone, stone.layer) == (zone, number)).collect();
        let laid = Laid::new(picture, surface);
        let wanted: Vec<Light> =
            ours.iter().map(|stone| laid.light(stone.at, stone.diameter_mm)).collect();
        let shown: Vec<Light> =
            ours.iter().map(|stone| Light::from_srgb(piece.colours[stone.colour].srgb)).collect();
        let centres: Vec<DVec3> = ours.iter().map(|stone| stone.centre_mm).collect();
        let areas: Vec<f64> =
            ours.iter().map(|stone| stone.diameter_mm * stone.diameter_mm).collect();
        let mean_mm =
            ours.iter().map(|stone| stone.diameter_mm).sum::<f64>() / ours.len().max(1) as f64;
        let pitch_mm = mean_mm + layer.gap_mm;
        let kernel = |away: f64| libm::exp(-away * away / (2.0 * JUDGED_PITCHES * JUDGED_PITCHES));
        let near = Near::new(&centres, pitch_mm, 2.5 * JUDGED_PITCHES, kernel, going);
        for index in (0..ours.len()).take_while(|index| going.at(*index)) {
            let blurred = |light: &[Light]| {
                let (mut mix, mut weight) =
                    (light[index].0.map(|part| part * areas[index]), areas[index]);
                for (other, kernel) in near.of(index) {
                    let share = kernel * areas[other];
                    mix = plus(mix, light[other].0.map(|part| part * share));
                    weight += share;
                }
                Light(mix.map(|part| part / weight))
            };
            sum += blurred(&wanted).difference(blurred(&shown));
            count += 1.0;
        }
    }
    (count > 0.0).then(|| sum / count)
}
