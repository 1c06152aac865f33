//! Samples to pixels: filter, stars, sRGB.

use crate::glints::{self, Flash};
use crate::tone::{Encoder, threshold};
use glam::Vec3;
use rayon::prelude::*;

/// Samples across and down for each pixel.
pub(crate) const FINE: usize = 2;

/// Weights of the four samples on either side of a pixel's middle, nearest first: the filter of
/// Mitchell and Netravali, "Reconstruction Filters in Computer Graphics", SIGGRAPH 1988, at a
/// quarter, three quarters, five and seven quarters of a pixel.
const FILTER: [f32; 4] = [0.391_059, 0.128_038, -0.011_719, -0.007_378];

/// Pixels, three bytes each, from samples of finished light.
pub(crate) fn resolve(light: &[Vec3], stars: &[Flash], width: usize, height: usize) -> Vec<u8> {
    let encoder = Encoder::new();
    let (across, down) = (width * FINE, height * FINE);
    let mut rgb = vec![0; width * height * 3];
    rgb.par_chunks_mut(width * 3).enumerate().for_each_init(
        || (vec![Vec3::ZERO; across], vec![Vec3::ZERO; width]),
        |(column_sums, pixels), (row, out)| {
            column_sums.fill(Vec3::ZERO);
            for (k, weight) in FILTER.iter().enumerate() {
                let above = (row * FINE).saturating_sub(k);
                let below = (row * FINE + 1 + k).min(down - 1);
                let above = &light[above * across..][..across];
                let below = &light[below * across..][..across];
                for ((sum, a), b) in column_sums.iter_mut().zip(above).zip(below) {
                    *sum += (*a + *b) * *weight;
                }
            }
            for (column, pixel) in pixels.iter_mut().enumerate() {
                *pixel = Vec3::ZERO;
                for (k, weight) in FILTER.iter().enumerate() {
                    let left = (column * FINE).saturating_sub(k);
                    let right = (column * FINE + 1 + k).min(across - 1);
                    *pixel += (column_sums[left] + column_sums[right]) * *weight;
                }
            }
            glints::add(stars, row, pixels);
            for (column, (bytes, pixel)) in out.chunks_exact_mut(3).zip(pixels.iter()).enumerate() {
                let threshold = threshold(column, row);
                for (byte, light) in bytes.iter_mut().zip(pixel.to_array()) {
                    *byte = encoder.byte(light, threshold);
                }
            }
        },
    );
    rgb
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn an_even_field_stays_even_to_its_edges() {
        // Half of full light is sRGB 187.5 (IEC 61966-2-1): dithered between 187 and 188.
        let rgb = resolve(&vec![Vec3::splat(0.5); 24 * 20], &[], 12, 10);
        assert_eq!(rgb.len(), 12 * 10 * 3);
        assert!(rgb.iter().all(|byte| (187..=188).contains(byte)), "{rgb:?}");
    }

    #[test]
    fn weights_of_both_sides_sum_to_one() {
        assert!((2.0 * FILTER.iter().sum::<f32>() - 1.0).abs() < 1e-5);
    }
}
