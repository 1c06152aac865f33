//! How different two colours look (CIEDE2000), and the light that colours send side by side.

use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, LinSrgb, Srgb, Xyz};
use piece::{Colour, Diagnostic, FieldPath, StoneFinish};

/// Two colours nearer than this are not told apart at a glance on small stones; common practice, no
/// source: about 1 is just seen side by side on large fields.
pub const NEAR: f64 = 5.0;

/// CIEDE2000 between two colours given as CIELAB (L*, a*, b*) under D65, with weights of 1 (CIE
/// 142-2001; Sharma, Wu and Dalal 2005).
pub fn ciede2000(a: [f64; 3], b: [f64; 3]) -> f64 {
    lab(a).difference(lab(b))
}

fn lab([l, a, b]: [f64; 3]) -> Lab<palette::white_point::D65, f64> {
    Lab::new(l, a, b)
}

/// CIEDE2000 between two sRGB colours.
pub fn difference(a: [u8; 3], b: [u8; 3]) -> f64 {
    Light::from_srgb(a).difference(Light::from_srgb(b))
}

/// The pairs of these colours (index into `colours`) that look alike: nearer than [`NEAR`].
pub fn near_colours(colours: &[Colour], among: &[usize]) -> Vec<(usize, usize)> {
    let pairs = among.iter().enumerate().flat_map(|(number, first)| {
        among[number + 1..].iter().map(move |second| (*first, *second))
    });
    pairs.filter(|(a, b)| difference(colours[*a].srgb, colours[*b].srgb) < NEAR).collect()
}

/// A warning of colours of one zone that look alike.
pub(crate) fn told_by_letter(
    colours: &[Colour],
    finish: &StoneFinish,
    path: &FieldPath,
    zone: &str,
) -> Option<Diagnostic> {
    let pairs: Vec<String> = near_colours(colours, &finish.colours())
        .into_iter()
        .map(|(a, b)| format!("{} and {}", named(&colours[a]), named(&colours[b])))
        .collect();
    (!pairs.is_empty()).then(|| {
        Diagnostic::warning(
            path.key("colours"),
            format!(
                "some colours of \"{zone}\" look alike and are told apart only by their letters: {}",
                pairs.join(", ")
            ),
        )
        .hint("Keep their trays apart and labelled, or choose colours farther from each other.")
    })
}

/// A colour by its name and its letter.
fn named(colour: &Colour) -> String {
    format!("{} ({})", colour.name, colour.letter)
}

/// Light as three numbers that add up where colours lie side by side, spaced about as they look:
/// CIELAB without its cube roots (Yy, Cx, Cz of Flohr, Kolpatzik, Balasubramanian, Carrara, Bouman
/// and Allebach 1993, "Model-based color image quantization"; from memory).
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Light(pub [f64; 3]);

/// White of sRGB, D65 for the 2 degree observer, Y = 1.
const WHITE: [f64; 3] = [0.95047, 1.0, 1.08883];

impl Light {
    /// Of an sRGB colour (IEC 61966-2-1).
    pub fn from_srgb([r, g, b]: [u8; 3]) -> Self {
        Self::from_linear(linear([r, g, b]))
    }

    /// Of linear light, 0 to 1 for red, green and blue of sRGB.
    pub fn from_linear([r, g, b]: [f64; 3]) -> Self {
        let xyz: Xyz<palette::white_point::D65, f64> = LinSrgb::new(r, g, b).into_color();
        let (x, y, z) = (xyz.x / WHITE[0], xyz.y / WHITE[1], xyz.z / WHITE[2]);
        Self([116.0 * y, 500.0 * (x - y), 200.0 * (y - z)])
    }

    /// CIELAB; light below none counts as none.
    fn lab(self) -> Lab<palette::white_point::D65, f64> {
        let [luma, across, blue] = self.0;
        let y = luma / 116.0;
        let (x, z) = (y + across / 500.0, y - blue / 200.0);
        let at_least = |value: f64, white: f64| value.max(0.0) * white;
        Xyz::new(at_least(x, WHITE[0]), at_least(y, WHITE[1]), at_least(z, WHITE[2])).into_color()
    }

    /// CIEDE2000.
    pub fn difference(self, other: Self) -> f64 {
        self.lab().difference(other.lab())
    }
}

/// Linear light of an sRGB colour, 0 to 1.
pub fn linear([r, g, b]: [u8; 3]) -> [f64; 3] {
    let light: LinSrgb<f64> = Srgb::new(r, g, b).into_linear();
    [light.red, light.green, light.blue]
}
