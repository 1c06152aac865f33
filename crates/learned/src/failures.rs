//! How many pieces fail: a beta distribution (Gelman et al., Bayesian Data Analysis, 3rd ed., 2.4).

use crate::figure::{Figure, Found, Subject};
use piece::hours::Craft;
use piece::{Records, Settings};
use statrs::distribution::{Beta, ContinuousCDF};

/// So many pieces would say as much as the share in the settings (common practice, no source).
const WORTH: f64 = 20.0;
/// Least pieces, good or spoilt.
const NEEDED: usize = 5;
/// Least weight of either outcome, so that a share of nothing can still be learned.
const LEAST: f64 = 0.1;

/// The share of pieces that fail: pieces in lines that failed, against those and the pieces packed.
pub(crate) fn failures(settings: &Settings, records: &Records) -> Figure {
    let pieces = |of: &dyn Fn(&piece::records::StepRecord) -> bool| -> u64 {
        records.steps().filter(|step| of(step)).map(|step| u64::from(step.pieces)).sum()
    };
    let failed = pieces(&|step| step.failed);
    let good = pieces(&|step| step.craft == Craft::Pack && !step.failed);
    let standard = settings.pricing.failure;
    let in_all = (failed + good) as usize;
    let missing = NEEDED.saturating_sub(in_all);
    let a = (standard * WORTH).max(LEAST) + failed as f64;
    let b = ((1.0 - standard) * WORTH).max(LEAST) + good as f64;
    let found = Beta::new(a, b).ok().filter(|_| missing == 0).map(|beta| Found {
        value: (a / (a + b)).min(0.9),
        within: (beta.inverse_cdf(0.1), beta.inverse_cdf(0.9)),
    });
    Figure { subject: Subject::Failure, standard, records: in_all, missing, found }
}
