//! How sure it is that orders leave in time.

use super::clock::SLOT_MIN;
use super::{Ordered, Together};
use crate::StepKind;
use crate::rota::Rota;
use schedule::Plan;
use schedule::life::{Sampling, Spread, risk};

/// A maker stays half an hour longer rather than come back another day, slots (common practice, no
/// source).
const STAYS: schedule::Slot = 6;
/// How often a plan is lived through.
const SAMPLES: u32 = 400;

/// How much durations vary: coefficients of variation, standard deviation by mean. Common practice, no
/// source: a practised hand is within a quarter of her own times, setting within a sixth, and a room that
/// is 3 K warmer or colder than usual changes a cure by about a fifth.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Sureness {
    /// Of setting stones, whose pace is known best.
    pub setting: f64,
    /// Of everything else that is done with hands.
    pub hands: f64,
    /// Of what resin takes to cure, for all pours alike.
    pub warmth: f64,
    /// Of the pace of each maker, for all that she does.
    pub pace: f64,
}

impl Default for Sureness {
    fn default() -> Self {
        Self { setting: 0.15, hands: 0.25, warmth: 0.2, pace: 0.1 }
    }
}

/// Tells the chance of each order to leave in time, and the buffer that would make it 90 %, by living
/// through the plan many times with durations that vary.
pub fn sureness(
    together: &Together,
    orders: &[Ordered],
    plan: &Plan,
    sure: Sureness,
    rota: &mut Rota,
) {
    let varies = together.meanings.iter().map(|meaning| {
        let steps = &orders[meaning.order].groups[meaning.group].steps.steps;
        match steps[meaning.steps.start].kind {
            StepKind::Set => sure.setting,
            _ => sure.hands,
        }
    });
    let spread = Spread {
        tasks: varies.collect(),
        warmth: sure.warmth,
        pace: sure.pace,
        stays: STAYS,
        keeps_times: true,
    };
    let risks = risk(&together.book, plan, &spread, Sampling { samples: SAMPLES, seed: 0 });
    for (order, risk) in rota.orders.iter_mut().zip(&risks) {
        order.chance = risk.in_time;
        order.buffer_for_90_min = risk.buffer.map(|slots| i64::from(slots) * SLOT_MIN);
    }
}
