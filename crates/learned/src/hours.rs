//! Minutes by kind of step: set-up and a rate, each as a multiple of the standard.

use crate::figure::{Figure, Found, Subject};
use crate::robust::{Prior, Seen, Spread, fit};
use piece::hours::Craft;
use piece::records::StepRecord;
use piece::settings::Times;
use piece::{Records, Settings};

/// How far a studio's own pace may lie from a standard, as a share of it (common practice, no source:
/// practised hands set 300 to 500 stones an hour, half as much again).
pub(crate) const PACE_SD: f64 = 0.4;
/// How far one line may lie from what is usual, and how many lines that belief is worth (common practice,
/// no source).
pub(crate) const LINE: Spread = Spread { sd: 0.2, worth: 6.0 };
/// Least lines for a time that stands alone, and for two that have to be told apart.
const NEEDED: [usize; 2] = [4, 6];
/// A step never takes less than this share of its standard.
pub(crate) const LEAST: f64 = 0.05;

/// What a time of the settings is multiplied by.
#[derive(Clone, Copy)]
enum By {
    Count,
    SetUps,
}

/// The times that a kind of step is made of.
fn terms(craft: Craft, times: &Times) -> Vec<(&'static str, f64, By)> {
    match craft {
        Craft::Order => vec![("order", times.order_min, By::SetUps)],
        Craft::Prepare => vec![("prepare", times.prepare_min, By::Count)],
        Craft::Mask => vec![("mask", times.mask_min, By::Count)],
        Craft::Paint => vec![("paint_coat", times.paint_coat_min, By::Count)],
        Craft::Glitter => vec![("glitter", times.glitter_min, By::Count)],
        Craft::Pour => {
            vec![("pour", times.pour_min, By::Count), ("watch", times.watch_min, By::SetUps)]
        }
        Craft::Sand => vec![("sand", times.sand_min, By::Count)],
        Craft::Film => vec![
            ("vinyl_zone", times.vinyl_zone_min, By::SetUps),
            ("vinyl_shape", times.vinyl_shape_min, By::Count),
        ],
        Craft::Finish => vec![("finish", times.finish_min, By::Count)],
        Craft::Pack => vec![("pack", times.pack_min, By::Count)],
        // Setting has a room of its own; asking the customer is in no setting.
        Craft::Set | Craft::Approve => Vec::new(),
    }
}

/// The times of all steps but setting.
pub(crate) fn times(settings: &Settings, records: &Records) -> Vec<Figure> {
    let mut figures = Vec::new();
    for craft in Craft::ALL {
        // A time of nothing cannot be learned as a multiple.
        let terms: Vec<_> = terms(craft, &settings.times);
        let terms: Vec<_> = terms.into_iter().filter(|(_, min, _)| *min > 0.0).collect();
        let lines: Vec<_> = records.steps().filter(|step| step.craft == craft).collect();
        figures.extend(of_kind(&terms, &lines));
    }
    figures
}

fn of_kind(terms: &[(&'static str, f64, By)], lines: &[&StepRecord]) -> Vec<Figure> {
    let Some(needed) = terms.len().checked_sub(1).map(|more| NEEDED[more]) else {
        return Vec::new();
    };
    let missing = needed.saturating_sub(lines.len());
    let seen: Vec<Seen> = lines.iter().map(|line| against_standard(terms, line)).collect();
    let priors = vec![Prior { mean: 1.0, sd: PACE_SD }; terms.len()];
    let fitted = (missing == 0).then(|| fit(&seen, &priors, LINE));
    let figure = |(at, &(key, standard, _)): (usize, &(&'static str, f64, By))| {
        let found = fitted.as_ref().map(|fitted| {
            let mut factors = vec![0.0; terms.len()];
            factors[at] = 1.0;
            let (mean, sd) = fitted.of(&factors);
            let half = fitted.half_width(sd);
            let min = |multiple: f64| standard * multiple.max(LEAST);
            Found { value: min(mean), within: (min(mean - half), min(mean + half)) }
        });
        Figure { subject: Subject::Time(key), standard, records: lines.len(), missing, found }
    };
    terms.iter().enumerate().map(figure).collect()
}

/// A line as a multiple of what the standards make of it.
fn against_standard(terms: &[(&'static str, f64, By)], line: &StepRecord) -> Seen {
    let parts: Vec<f64> = terms
        .iter()
        .map(|(_, min, by)| match by {
            By::Count => min * f64::from(line.count),
            By::SetUps => min * f64::from(line.set_ups),
        })
        .collect();
    let whole: f64 = parts.iter().sum();
    Seen { y: line.minutes / whole, x: parts.iter().map(|part| part / whole).collect() }
}
