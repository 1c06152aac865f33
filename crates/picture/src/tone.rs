//! From light to sRGB bytes and back.

use glam::Vec3;

/// Linear light of an sRGB byte, 0 to 1 (IEC 61966-2-1).
pub fn linear_from_srgb(byte: u8) -> f32 {
    let v = f32::from(byte) / 255.0;
    if v <= 0.04045 { v / 12.92 } else { libm::powf((v + 0.055) / 1.055, 2.4) }
}

/// Linear light of an sRGB colour.
pub fn linear_colour(srgb: [u8; 3]) -> Vec3 {
    Vec3::from_array(srgb.map(linear_from_srgb))
}

/// How bright a linear colour looks (BT.709 weights).
pub(crate) fn luminance(light: Vec3) -> f32 {
    light.dot(Vec3::new(0.2126, 0.7152, 0.0722))
}

/// Brings any light into 0 to 1 so that colours below four fifths keep their hue and strength and
/// brighter ones fade to white: the Khronos PBR Neutral tone mapper.
pub(crate) fn neutral(light: Vec3) -> Vec3 {
    const START: f32 = 0.8 - 0.04;
    const DESATURATION: f32 = 0.15;
    let least = light.min_element();
    let offset = if least < 0.08 { least - 6.25 * least * least } else { 0.04 };
    let colour = light - offset;
    let peak = colour.max_element();
    if peak < START {
        return colour;
    }
    let room = 1.0 - START;
    let new_peak = 1.0 - room * room / (peak + room - START);
    let fade = 1.0 - 1.0 / (DESATURATION * (peak - new_peak) + 1.0);
    (colour * (new_peak / peak)).lerp(Vec3::splat(new_peak), fade)
}

/// Looks sRGB bytes up by linear light.
#[derive(Debug)]
pub(crate) struct Encoder {
    levels: Vec<f32>,
}

impl Encoder {
    const STEPS: usize = 1 << 14;

    /// Fills the table.
    pub(crate) fn new() -> Self {
        let levels = (0..=Self::STEPS)
            .map(|i| {
                let v = i as f32 / Self::STEPS as f32;
                let s = if v <= 0.003_130_8 {
                    12.92 * v
                } else {
                    1.055 * libm::powf(v, 1.0 / 2.4) - 0.055
                };
                s * 255.0
            })
            .collect();
        Self { levels }
    }

    /// The byte for a linear light; outside 0 to 1 is cut off. `threshold` (0 to 1) is the share of
    /// a step from which on it is rounded up.
    pub(crate) fn byte(&self, light: f32, threshold: f32) -> u8 {
        let level = self.levels[(light.clamp(0.0, 1.0) * Self::STEPS as f32 + 0.5) as usize];
        (level + 1.0 - threshold) as u8
    }
}

/// Thresholds in a four by four pattern (Bayer, "An optimum method for two-level rendition of
/// continuous-tone pictures", 1973): soft gradients show no steps.
pub(crate) fn threshold(column: usize, row: usize) -> f32 {
    const PATTERN: [[u8; 4]; 4] = [[0, 8, 2, 10], [12, 4, 14, 6], [3, 11, 1, 9], [15, 7, 13, 5]];
    (f32::from(PATTERN[row % 4][column % 4]) + 0.5) / 16.0
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_srgb_byte_survives_the_way_to_light_and_back() {
        let encoder = Encoder::new();
        for byte in 0..=255 {
            assert_eq!(encoder.byte(linear_from_srgb(byte), 0.5), byte);
        }
        // 50 % grey, sRGB 188, is 0.5 in linear light (IEC 61966-2-1).
        assert!((linear_from_srgb(188) - 0.5).abs() < 0.003);
    }

    #[test]
    fn thresholds_are_even_so_that_the_mean_stays() {
        let sum: f32 = (0..16).map(|i| threshold(i % 4, i / 4)).sum();
        assert!((sum - 8.0).abs() < 1e-6);
        let encoder = Encoder::new();
        let light = linear_from_srgb(120) * 0.75 + linear_from_srgb(121) * 0.25;
        let mean: u32 =
            (0..16).map(|i| u32::from(encoder.byte(light, threshold(i % 4, i / 4)))).sum();
        assert_eq!(mean, 120 * 16 + 4);
    }

    #[test]
    fn toning_keeps_middle_colours_and_never_passes_white() {
        let paint = Vec3::new(0.5, 0.2, 0.1);
        assert!((neutral(paint) - (paint - 0.04)).length() < 1e-6);
        for k in 0..200 {
            let out = neutral(Vec3::new(0.01, 0.2, 1.0) * k as f32);
            assert!(out.max_element() <= 1.0 && out.min_element() >= 0.0, "{out}");
        }
    }
}
