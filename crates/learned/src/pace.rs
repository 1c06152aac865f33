//! Stones an hour by size and layout, and the set-up of a sitting.
//!
//! The time of a line, as a multiple of what the standards make of it, is set-up times its own multiple
//! and stones times (all + size + layout): sizes and layouts are pulled towards all stones by their
//! normal priors, those with few lines the most (partial pooling; Gelman et al., Bayesian Data Analysis, 3rd ed., chapter 5, here with
//! the spread between sizes fixed).

use crate::figure::{Figure, Found, Subject};
use crate::hours::{LEAST, LINE, PACE_SD};
use crate::robust::{Fit, Prior, Seen, fit};
use piece::hours::Craft;
use piece::records::StepRecord;
use piece::settings::STONES_PER_H;
use piece::{Records, Settings};
use std::collections::BTreeSet;

/// How far a size, and a layout, may lie from all stones (common practice, no source).
const SIZE_SD: f64 = 0.2;
const LAYOUT_SD: f64 = 0.15;
/// How far laying out tools may lie from its standard (common practice, no source).
const SET_UP_SD: f64 = 0.5;
/// Least lines of setting, and of one size or layout for a figure of its own.
const NEEDED: usize = 6;
const NEEDED_OF_ONE: usize = 3;

/// What the columns of the regression stand for.
struct Columns {
    sizes: Vec<String>,
    layouts: Vec<&'static str>,
}

impl Columns {
    fn of(lines: &[&StepRecord]) -> Self {
        let sizes: BTreeSet<&String> =
            lines.iter().flat_map(|line| line.stones.iter().map(|(size, _)| size)).collect();
        let mut layouts: BTreeSet<&'static str> =
            lines.iter().filter_map(|line| line.layout).collect();
        // One layout cannot be told apart from all stones.
        if layouts.len() < 2 {
            layouts.clear();
        }
        Self { sizes: sizes.into_iter().cloned().collect(), layouts: layouts.into_iter().collect() }
    }

    fn priors(&self) -> Vec<Prior> {
        let about = |mean: f64, sd: f64| Prior { mean, sd };
        let mut priors = vec![about(1.0, SET_UP_SD), about(1.0, PACE_SD)];
        priors.extend(self.sizes.iter().map(|_| about(0.0, SIZE_SD)));
        priors.extend(self.layouts.iter().map(|_| about(0.0, LAYOUT_SD)));
        priors
    }

    /// A line as a multiple of what the standards make of it.
    fn seen(&self, settings: &Settings, line: &StepRecord) -> Seen {
        let minutes_of = |size: &str, count: u32| f64::from(count) * 60.0 / per_h(settings, size);
        let set_up = settings.times.sitting_setup_min * f64::from(line.set_ups);
        let stones: f64 = line.stones.iter().map(|(size, count)| minutes_of(size, *count)).sum();
        let whole = set_up + stones;
        let mut x = vec![set_up / whole, stones / whole];
        x.extend(self.sizes.iter().map(|own| {
            let of_it = line.stones.iter().filter(|(size, _)| size == own);
            of_it.map(|(size, count)| minutes_of(size, *count)).sum::<f64>() / whole
        }));
        x.extend(
            self.layouts
                .iter()
                .map(|own| if line.layout == Some(own) { stones / whole } else { 0.0 }),
        );
        Seen { y: line.minutes / whole, x }
    }

    /// What sums up to the multiple of a size; of one without lines enough, that of all stones.
    fn factors(&self, size: Option<&str>) -> Vec<f64> {
        let mut factors = vec![0.0; 2 + self.sizes.len() + self.layouts.len()];
        factors[1] = 1.0;
        if let Some(at) = self.sizes.iter().position(|own| Some(own.as_str()) == size) {
            factors[2 + at] = 1.0;
        }
        factors
    }
}

/// Stones of a size that the settings set in an hour.
fn per_h(settings: &Settings, size: &str) -> f64 {
    let known = settings.stones.iter().find(|price| price.size == size);
    known.map(|price| price.set_per_h).filter(|per_h| *per_h > 0.0).unwrap_or(STONES_PER_H)
}

/// The set-up of a sitting, all stones, each size of the settings or the records, each layout.
pub(crate) fn setting(settings: &Settings, records: &Records) -> Vec<Figure> {
    let lines: Vec<_> = records.steps().filter(|step| step.craft == Craft::Set).collect();
    let missing = NEEDED.saturating_sub(lines.len());
    let columns = Columns::of(&lines);
    let seen: Vec<Seen> = lines.iter().map(|line| columns.seen(settings, line)).collect();
    let fitted = (missing == 0).then(|| fit(&seen, &columns.priors(), LINE));
    let records = lines.len();
    let mut figures = Vec::new();
    if settings.times.sitting_setup_min > 0.0 {
        let standard = settings.times.sitting_setup_min;
        let mut factors = vec![0.0; columns.priors().len()];
        factors[0] = 1.0;
        let found = fitted.as_ref().map(|fit| {
            let (value, low, high) = multiple(fit, &factors);
            Found { value: standard * value, within: (standard * low, standard * high) }
        });
        let subject = Subject::Time("sitting_setup");
        figures.push(Figure { subject, standard, records, missing, found });
    }
    let any = fitted.as_ref().map(|fit| {
        let (value, low, high) = multiple(fit, &columns.factors(None));
        Found { value, within: (low, high) }
    });
    figures.push(Figure {
        subject: Subject::AnyStone,
        standard: 1.0,
        records,
        missing,
        found: any,
    });
    for size in sizes(settings, &lines) {
        let of_it =
            lines.iter().filter(|line| line.stones.iter().any(|(own, _)| *own == size)).count();
        let standard = per_h(settings, &size);
        let enough = fitted.as_ref().filter(|_| of_it >= NEEDED_OF_ONE);
        let found = enough.map(|fit| {
            let (value, low, high) = multiple(fit, &columns.factors(Some(&size)));
            Found { value: standard / value, within: (standard / high, standard / low) }
        });
        let missing = missing.max(NEEDED_OF_ONE.saturating_sub(of_it));
        let subject = Subject::StonesPerHour(size);
        figures.push(Figure { subject, standard, records: of_it, missing, found });
    }
    if let Some(fit) = &fitted {
        figures.extend(layouts(fit, &columns, &lines));
    }
    figures
}

/// How much longer a stone takes in each layout than in all of them, as a share of all stones' pace.
fn layouts(fit: &Fit, columns: &Columns, lines: &[&StepRecord]) -> Vec<Figure> {
    let (any, _, _) = multiple(fit, &columns.factors(None));
    let one = |(at, &layout): (usize, &&'static str)| {
        let mut factors = vec![0.0; columns.priors().len()];
        factors[2 + columns.sizes.len() + at] = 1.0;
        let (mean, sd) = fit.of(&factors);
        let half = fit.half_width(sd);
        let pace = |more: f64| (1.0 + more / any).max(LEAST);
        let records = lines.iter().filter(|line| line.layout == Some(layout)).count();
        let missing = NEEDED_OF_ONE.saturating_sub(records);
        let within = (pace(mean - half), pace(mean + half));
        let found = (missing == 0).then(|| Found { value: pace(mean), within });
        Figure { subject: Subject::Layout(layout), standard: 1.0, records, missing, found }
    };
    columns.layouts.iter().enumerate().map(one).collect()
}

/// A multiple with its 80 % interval.
fn multiple(fit: &Fit, factors: &[f64]) -> (f64, f64, f64) {
    let (mean, sd) = fit.of(factors);
    let half = fit.half_width(sd);
    (mean.max(LEAST), (mean - half).max(LEAST), (mean + half).max(LEAST))
}

/// Sizes that were set, in the order of the settings, then those that these do not know.
fn sizes(settings: &Settings, lines: &[&StepRecord]) -> Vec<String> {
    let mut sizes: Vec<String> = Vec::new();
    let set = |size: &str| lines.iter().any(|line| line.stones.iter().any(|(own, _)| own == size));
    let of_settings = settings.stones.iter().map(|price| price.size.as_str());
    let of_lines = lines.iter().flat_map(|line| line.stones.iter().map(|(size, _)| size.as_str()));
    for size in of_settings.chain(of_lines) {
        if set(size) && !sizes.iter().any(|known| known == size) {
            sizes.push(size.to_owned());
        }
    }
    sizes
}
