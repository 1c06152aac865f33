//! What is lost of stones, resin, glitter and glue.
//!
//! The logarithm of what was used up against what stays on the pieces is estimated as one mean by
//! [`crate::robust`]; the prior is the share that the settings have.

use crate::figure::{Figure, Found, Subject};
use crate::robust::{FREEDOM, Fit, Prior, Seen, Spread, fit, upper_tenth};
use piece::records::Material;
use piece::{Records, Settings};

/// Least lines.
const NEEDED: usize = 5;
/// How many lines the belief in their spread is worth (common practice, no source).
const WORTH: f64 = 6.0;

/// How far a studio's own loss may lie from the settings', and one line from what is usual there, as
/// shares of what is used (common practice, no source).
fn spreads(material: Material) -> (f64, f64) {
    match material {
        Material::Stones => (0.05, 0.03),
        Material::Resin => (0.10, 0.08),
        Material::Glitter => (0.10, 0.10),
        Material::Glue => (0.25, 0.20),
    }
}

/// The share that the settings have, and whether it is a spare beyond what stays, or a loss of what is
/// used.
fn standard(settings: &Settings, material: Material) -> (f64, Subject) {
    match material {
        Material::Stones => (settings.spare_stones, Subject::Spare(material)),
        Material::Glitter => (settings.glitter.spare, Subject::Spare(material)),
        Material::Resin => (settings.resin.loss, Subject::Loss(material)),
        Material::Glue => (settings.glue.loss, Subject::Loss(material)),
    }
}

/// One figure for each material.
pub(crate) fn losses(settings: &Settings, records: &Records) -> Vec<Figure> {
    Material::ALL.into_iter().map(|material| loss(settings, records, material)).collect()
}

fn loss(settings: &Settings, records: &Records, material: Material) -> Figure {
    let (standard, subject) = standard(settings, material);
    let of_it = records.of_material(material);
    let seen: Vec<Seen> =
        of_it.map(|line| Seen { y: libm::log(line.used / line.planned), x: vec![1.0] }).collect();
    let missing = NEEDED.saturating_sub(seen.len());
    let (own_sd, line_sd) = spreads(material);
    let found = (missing == 0).then(|| match subject {
        Subject::Spare(_) => {
            let prior = Prior { mean: libm::log1p(standard), sd: own_sd };
            let fit = fit(&seen, &[prior], Spread { sd: line_sd, worth: WORTH });
            // The spare serves the next piece: a line may lie off as those before did.
            let enough = |mean: f64| libm::expm1(mean + line_upper(&fit)).clamp(0.0, 1.0);
            interval(&fit, enough)
        }
        _ => {
            let prior = Prior { mean: -libm::log1p(-standard), sd: own_sd };
            let fit = fit(&seen, &[prior], Spread { sd: line_sd, worth: WORTH });
            interval(&fit, |mean| (-libm::expm1(-mean)).clamp(0.0, 0.9))
        }
    });
    Figure { subject, standard, records: seen.len(), missing, found }
}

/// What one line exceeds its mean by one time in ten.
fn line_upper(fit: &Fit) -> f64 {
    fit.spread * upper_tenth(FREEDOM)
}

fn interval(fit: &Fit, share: impl Fn(f64) -> f64) -> Found {
    let (mean, sd) = fit.of(&[1.0]);
    let half = fit.half_width(sd);
    Found { value: share(mean), within: (share(mean - half), share(mean + half)) }
}
