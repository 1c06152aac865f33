//! Mixing parts A and B: one mix for several coats, how exactly it can be measured, and what a wrong
//! ratio does.

use crate::{Mix, resin};
use piece::settings::{ResinProduct, Scale};
use piece::{Diagnostic, FieldPath};

/// How far the ratio of B to A may be off, as a share (common practice, no source).
pub const TOLERANCE: f64 = 0.05;

/// One coat of one piece.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Pour {
    /// Area covered, mm².
    pub area_mm2: f64,
    /// Film left, mm.
    pub film_mm: f64,
}

/// One mix for coats that are poured one right after the other: what is lost is lost once.
pub fn mix_for(pours: &[Pour], resin: &ResinProduct) -> Mix {
    let on_cups_mm3: f64 = pours.iter().map(|pour| pour.area_mm2 * pour.film_mm).sum();
    resin::mix(on_cups_mm3, 1.0, resin)
}

/// How far the ratio of B to A may be off either way, as shares of it.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct RatioError {
    /// Too little B: 0.02 is 2 % less.
    pub less: f64,
    /// Too much B.
    pub more: f64,
}

impl RatioError {
    /// The larger of the two.
    pub fn worst(&self) -> f64 {
        self.less.max(self.more)
    }

    /// Both parts read wrong by one step, in opposite ways.
    fn of(a: f64, b: f64, step: f64) -> Self {
        let more = if step < a { (b + step) / (a - step) * (a / b) - 1.0 } else { f64::INFINITY };
        Self { less: 1.0 - (b - step).max(0.0) / (a + step) * (a / b), more }
    }
}

/// Error of a mix whose parts are weighed on a scale, each to one step of its display.
pub fn weighed(mix: &Mix, scale: Scale) -> RatioError {
    RatioError::of(mix.a_g, mix.b_g, scale.readability_g)
}

/// Error of a mix whose parts are poured to the marks of a cup, each read to `mark_ml`.
pub fn by_marks(mix: &Mix, mark_ml: f64) -> RatioError {
    RatioError::of(mix.a_ml, mix.b_ml, mark_ml)
}

/// Least mass of A and B together worth weighing on this scale, g: with less, the ratio may be off by
/// more than `tolerance`, a share.
///
/// From (b + d)/(a − d) = (1 + tolerance) b/a with a step d.
pub fn least_mix_g(resin: &ResinProduct, scale: Scale, tolerance: f64) -> f64 {
    let b_share = {
        let b = resin::b_to_100_a_by_weight(resin);
        b / (100.0 + b)
    };
    let a_share = 1.0 - b_share;
    scale.readability_g / tolerance * (1.0 / b_share + (1.0 + tolerance) / a_share)
}

/// A mix is made larger than it need be by so much at most, for its ratio to be right, g (our choice: a
/// spoonful, to be let go).
const LET_GO_G: f64 = 10.0;

/// A mix that the scale can weigh within [`TOLERANCE`]: the same, or larger by at most 10 g, all of it
/// lost. One that would need more is left as it is, and [`scale_note`] tells of it.
pub fn worth_weighing(mix: Mix, resin: &ResinProduct, scale: Scale) -> Mix {
    let (now_g, least_g) = (mix.mixed_g(), least_mix_g(resin, scale, TOLERANCE));
    if now_g >= least_g || least_g - now_g > LET_GO_G || now_g <= 0.0 {
        return mix;
    }
    let times = least_g / now_g;
    Mix {
        on_cup_ml: mix.on_cup_ml,
        loss_ml: mix.mixed_ml() * times - mix.on_cup_ml,
        a_ml: mix.a_ml * times,
        b_ml: mix.b_ml * times,
        a_g: mix.a_g * times,
        b_g: mix.b_g * times,
    }
}

/// What a wrong ratio of hardener to resin does.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct OffRatio {
    /// The part that there is too little of, as a share of what the other needs; 1 is right.
    pub short: f64,
    /// Conversion of the short part at which the mix gels; `None` if it never does.
    pub gels_at: Option<f64>,
    /// Share of the other part that can ever react; the rest stays soft and sticky in it.
    pub reacts: f64,
}

/// What a ratio does that is `times` the right one: 1.1 is 10 % too much hardener.
///
/// Gel of a random network of epoxides of two and amines of four hands: the short part's conversion is
/// 1/√(3 r), r its share (Flory 1953 and Stockmayer 1943, from memory); no gel once that passes 1,
/// below a third.
pub fn off_ratio(times: f64) -> OffRatio {
    let short = if times > 0.0 { times.min(1.0 / times) } else { 0.0 };
    let gels_at = (3.0 * short >= 1.0).then(|| 1.0 / (3.0 * short).sqrt());
    OffRatio { short, gels_at, reacts: short }
}

/// What to say of a mix that is too small for the scale; nothing if it is not.
pub fn scale_note(mix: &Mix, resin: &ResinProduct, scale: Scale) -> Option<Diagnostic> {
    let error = weighed(mix, scale).worst();
    if error <= TOLERANCE + 1e-9 {
        return None;
    }
    let least_g = least_mix_g(resin, scale, TOLERANCE);
    let off =
        if error < 1.0 { format!("up to {:.0} %", 100.0 * error) } else { "any amount".to_owned() };
    Some(
        Diagnostic::warning(
            FieldPath::root().key("scale").key("readability"),
            format!(
                "a mix of {:.1} g weighed to {} g may have its ratio off by {off}",
                mix.mixed_g(),
                scale.readability_g
            ),
        )
        .hint(format!(
            "mix at least {:.0} g and let the rest go, coat several pieces from one mix, or \
             weigh on a finer scale",
            least_g.ceil()
        )),
    )
}
