//! Our plans against those of a general solver.

use crate::asked::Asked;
use crate::best::mean_and_worst;
use crate::checker::faults;
use crate::run::run;
use crate::solver::{ask, weighed};
use crate::studio_books::{Due, Kind, Makers, random_studio};
use schedule::{Book, Plan};

/// A book for which our plan is so many percent above another is named, so that it can be looked at.
const TOLD_PERCENT: f64 = 5.0;

/// By how many percent our plan is above another.
fn above(ours: &Plan, other: &Plan) -> f64 {
    100.0 * (weighed(ours) / weighed(other) - 1.0)
}

/// The plan of the general solver, which has to keep to the rules too.
fn general(book: &Book, start: Option<&Plan>, seconds: f64) -> Option<(Plan, bool)> {
    let answer = ask(book, start, seconds);
    let plan = answer.plan?;
    let found = faults(book, &plan);
    assert!(found.is_empty(), "the general solver: {found:#?}");
    Some((plan, answer.proved))
}

/// Prints, for books of 3 to 5 pieces, how far our plans are above what the general solver finds from
/// nothing and then from our plan, and above what it proves to be least. A plan that is less late, or
/// does fewer extras, may be above ours in the weighed figure; the last column counts all that are better.
pub fn proved(asked: &Asked) {
    println!(
        "pieces, length, makers | seeds | proved | above proved %: mean, worst | above the least of all %: mean, worst | worse in tuple"
    );
    let kinds = [
        ("short", Kind::short(Makers::Evenings, Due::Tight)),
        ("short", Kind::short(Makers::Two, Due::Loose)),
        ("whole", Kind::new(Makers::Evenings, Due::Tight)),
        ("whole", Kind::new(Makers::WholeDays, Due::Loose)),
        ("whole", Kind::new(Makers::Two, Due::Overloaded)),
    ];
    for pieces in 3..=5 {
        for (length, kind) in kinds {
            let (mut above_proved, mut above_least, mut worse) = (Vec::new(), Vec::new(), 0);
            for seed in 0..asked.seeds {
                let book = random_studio(seed, pieces, kind);
                let ours = run(&book, 1, asked.seconds, asked.processor).plan;
                let cold = general(&book, None, asked.general);
                let from_ours = match &cold {
                    Some((_, true)) => None,
                    _ => general(&book, Some(&ours), asked.general),
                };
                let found = [&cold, &from_ours].into_iter().flatten();
                for (plan, _) in found.clone().filter(|(plan, _)| above(&ours, plan) > TOLD_PERCENT)
                {
                    println!(
                        "{pieces} {length} {kind:?} seed {seed}: {:?}, ours {:?}",
                        plan.cost, ours.cost
                    );
                }
                let plans = found.clone().map(|(plan, _)| plan);
                worse += u32::from(plans.clone().any(|plan| plan.cost < ours.cost));
                above_least.push(plans.map(|plan| above(&ours, plan)).fold(0.0, f64::max));
                if let Some((plan, _)) = found.clone().find(|(_, proved)| *proved) {
                    assert!(ours.cost >= plan.bound, "{:?} below {:?}", ours.cost, plan.bound);
                    above_proved.push(above(&ours, plan));
                }
            }
            let (mean, worst) = mean_and_worst(&above_proved);
            let (mean_least, worst_least) = mean_and_worst(&above_least);
            println!(
                "{pieces} {length:6} {:10} | {:5} | {:6} | {mean:6.2} {worst:6.2} | {mean_least:6.2} {worst_least:6.2} | {worse:3}",
                format!("{:?}", kind.makers),
                asked.seeds,
                above_proved.len(),
            );
        }
    }
}

/// Prints what the general solver gains from our plan.
pub fn gain(asked: &Asked) {
    println!("gained from our plan | seeds | better in | %: mean, worst for us");
    for (pieces, due, kind) in asked.studios() {
        let (mut gained, mut better) = (Vec::new(), 0);
        for seed in 0..asked.seeds {
            let book = random_studio(seed, pieces, kind);
            let ours = run(&book, 1, asked.seconds, asked.processor).plan;
            if let Some((plan, _)) = general(&book, Some(&ours), asked.general) {
                better += u32::from(plan.cost < ours.cost);
                gained.push(above(&ours, &plan));
            }
        }
        let (mean, worst) = mean_and_worst(&gained);
        println!("{pieces:4} {due:15} | {:5} | {better:3} | {mean:6.2} {worst:6.2}", gained.len());
    }
}
