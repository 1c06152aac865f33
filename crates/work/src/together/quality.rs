//! How good a plan is, in sentences, and what the maker should know of it.

use super::clock::SLOT_MIN;
use super::reasons::is_called_for;
use super::{Ordered, Together};
use crate::words::{count, span};
use piece::{Diagnostic, FieldPath};
use schedule::{Plan, Slot};

/// Sentences on what a plan costs and what no plan can be better than.
pub(crate) fn quality(together: &Together, plan: &Plan) -> Vec<String> {
    let mut told = Vec::new();
    let time = |slots: u64| span(slots as f64 * SLOT_MIN as f64);
    let finishes = together.book.finishes(&plan.tasks);
    let jobs = together.book.jobs.iter().zip(finishes);
    let late = jobs.filter(|(job, ends)| job.late(*ends) > 0).count();
    let (cost, bound) = (plan.cost, plan.bound);
    if together.book.jobs.iter().all(|job| job.due.is_none()) {
        told.push("No order has a day on which it is due.".to_owned());
    } else if late == 0 {
        told.push("Every order leaves in time; no plan can be better in that.".to_owned());
    } else {
        told.push(format!(
            "{} late, {} in all, each multiplied by its weight.",
            match late {
                1 => "1 order leaves".to_owned(),
                late => format!("{late} orders leave"),
            },
            time(cost.late)
        ));
        told.push(if bound.late >= cost.late {
            "No plan with these hours is less late.".to_owned()
        } else if bound.late > 0 {
            format!("No plan with these hours is late by less than {}.", time(bound.late))
        } else {
            "It is not shown that a plan without lateness cannot be.".to_owned()
        });
    }
    let sanded = (0..together.book.tasks.len()).filter(|task| is_called_for(together, plan, *task));
    let sanded = sanded.count();
    told.push(match sanded {
        0 => "Every recoat window is kept, so nothing is sanded between coats.".to_owned(),
        sanded => format!(
            "{} for missed recoat windows.",
            counted(sanded, "sanding makes up", "sandings make up")
        ),
    });
    let jobs = together.book.jobs.len().max(1) as u64;
    let per_day = 1440 / SLOT_MIN as u64;
    let mean = |finishes: u64| {
        let slots = after_first(together, finishes, jobs) as f64 / jobs as f64;
        format!("{:.1} days", slots / per_day as f64)
    };
    let beaten = match bound.finishes {
        0 => String::new(),
        finishes => format!("; no plan brings that below {}", mean(finishes)),
    };
    told.push(format!(
        "On the mean an order is done {} after the beginning{beaten}.",
        mean(cost.finishes)
    ));
    told.push(
        "This rests on hands-on times, waits and hours as they are told: each step takes as long as the \
         studio file says, nothing fails, and nobody is ill."
            .to_owned(),
    );
    told
}

fn counted(number: usize, one: &str, many: &str) -> String {
    format!("{number} {}", if number == 1 { one } else { many })
}

/// Slots from the first that is planned, not from the first of the book, over all jobs.
fn after_first(together: &Together, finishes: u64, jobs: u64) -> u64 {
    let first = together.slots.beginning(together.begins).max(0) as u64;
    finishes.saturating_sub(first * jobs)
}

/// Warnings of late orders and of sandings that hours call for, where their orders stand.
pub(crate) fn warnings(together: &Together, orders: &[Ordered], plan: &Plan) -> Vec<Diagnostic> {
    let mut notes = Vec::new();
    let root = FieldPath::root();
    let finishes = together.book.finishes(&plan.tasks);
    for (job, order) in orders.iter().enumerate() {
        let at = |key: &str| {
            if order.path == root { root.clone() } else { order.path.key(key) }
        };
        let late = together.book.jobs[job].late(finishes[job]);
        if late > 0 {
            let leaves = together.book.jobs[job].leaves_at(finishes[job]);
            let told = |moment| {
                let civil = together.slots.zone().to_datetime(moment);
                civil.strftime("%Y-%m-%d at %H:%M").to_string()
            };
            let leaves = told(together.slots.moment(leaves));
            // A buffer that is eaten is late as well, though it may still be there in time.
            let by = together.leave_by[job].map(told).unwrap_or_default();
            notes.push(
                Diagnostic::warning(
                    at("due"),
                    format!(
                        "`{}` leaves on {leaves}, {} after it should: on {by}",
                        order.name,
                        span(f64::from(late) * SLOT_MIN as f64)
                    ),
                )
                .hint("agree a later day, work longer hours, or give other orders less weight"),
            );
        }
        let sanded: Vec<usize> = (0..together.book.tasks.len())
            .filter(|task| together.meanings[*task].order == job)
            .filter(|task| is_called_for(together, plan, *task))
            .collect();
        if !sanded.is_empty() {
            let work: Slot = sanded.iter().map(|task| together.book.tasks[*task].work).sum();
            let (from, to) = order.coats.waits.recoat_min;
            notes.push(
                Diagnostic::warning(
                    at("file"),
                    format!(
                        "in these hours {} of `{}` cannot begin {} to {} after the coat before: {} of sanding are counted in",
                        count(sanded.len(), "pour"),
                        order.name,
                        span(from),
                        span(to),
                        span(f64::from(work) * SLOT_MIN as f64)
                    ),
                )
                .hint("a longer day of work with two pours would save it"),
            );
        }
    }
    notes
}
