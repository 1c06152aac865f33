//! From a plan back to makers, days and clock times.

use super::quality::{quality, warnings};
use super::reasons::reason;
use super::spindles::{Turning, spindles};
use super::unit::units;
use super::{Ordered, Together, What};
use crate::rota::{Rota, RotaMaker, RotaOrder, RotaSitting, Span};
use crate::{Step, StepKind, cautions};
use coats::{Matter, Mix};
use jiff::{SignedDuration, Timestamp};
use piece::Piece;
use schedule::{Placed, Plan, Slot};
use std::collections::BTreeMap;

/// Hours are shown for so many slots after the last thing is done: a week.
const SHOWN_AFTER: Slot = 7 * 288;

/// What a plan of a book says, in hours and dates.
pub fn rota(together: &Together, orders: &[Ordered], plan: &Plan) -> Rota {
    let slots = &together.slots;
    let ends = plan.tasks.iter().flatten().map(Placed::ends);
    // Due days are drawn too.
    let dues = together.book.jobs.iter().filter_map(|job| job.due);
    let last = ends.chain(dues).max().unwrap_or(0);
    let span = |(from, to): (Slot, Slot)| (slots.moment(from), slots.moment(to));
    let makers = together.book.people.iter().map(|person| {
        let shown =
            person.open.stretches().iter().take_while(|(from, _)| *from < last + SHOWN_AFTER);
        RotaMaker { name: person.name.clone(), open: shown.map(|stretch| span(*stretch)).collect() }
    });
    let finishes = together.book.finishes(&plan.tasks);
    let told_orders = orders.iter().enumerate().map(|(index, order)| {
        let done = finishes[index];
        RotaOrder {
            name: order.name.clone(),
            title: match orders
                .iter()
                .filter(|other| other.piece.title == order.piece.title)
                .count()
            {
                1 => order.piece.title.clone(),
                _ => format!("{}: {}", order.name, order.piece.title),
            },
            quantity: order.piece.quantity,
            due: order.due,
            leave_by: together.leave_by[index],
            done: slots.moment(done),
            leaves: slots.moment(together.book.jobs[index].leaves_at(done)),
            chance: None,
            buffer_for_90_min: None,
        }
    });
    let mut notes = together.notes.clone();
    notes.extend(warnings(together, orders, plan));
    let machines = &together.book.machines;
    Rota {
        zone: slots.zone().clone(),
        begins: together.begins,
        makers: makers.collect(),
        machines: machines.iter().map(|one| (one.name.clone(), one.capacity)).collect(),
        orders: told_orders.collect(),
        sittings: Reader::new(together, orders, plan).sittings(),
        quality: quality(together, plan),
        notes,
    }
}

/// Reads sittings out of a plan.
struct Reader<'a> {
    together: &'a Together,
    orders: &'a [Ordered],
    plan: &'a Plan,
    spindles: BTreeMap<usize, Turning>,
    /// Tasks of each mix that several share, in order of time, by the mix's number from 1.
    mixes: BTreeMap<u32, Vec<usize>>,
}

impl<'a> Reader<'a> {
    fn new(together: &'a Together, orders: &'a [Ordered], plan: &'a Plan) -> Self {
        let mut of_mix: BTreeMap<u32, Vec<usize>> = BTreeMap::new();
        for (task, placed) in plan.tasks.iter().enumerate() {
            if let Some(mix) = placed.as_ref().and_then(|placed| placed.mix) {
                of_mix.entry(mix).or_default().push(task);
            }
        }
        let shared = of_mix.into_values().filter(|tasks| tasks.len() > 1);
        let begins = |task: &usize| plan.tasks[*task].as_ref().map(Placed::begins);
        let mixes = (1..).zip(shared.map(|mut tasks| {
            tasks.sort_by_key(begins);
            tasks
        }));
        Self {
            together,
            orders,
            plan,
            spindles: spindles(together, orders, plan),
            mixes: mixes.collect(),
        }
    }

    /// Everything that is done with hands, in order of time.
    fn sittings(&self) -> Vec<RotaSitting> {
        let mut sittings: Vec<(usize, RotaSitting)> = Vec::new();
        for (task, placed) in self.plan.tasks.iter().enumerate() {
            if let Some(placed) = placed {
                sittings.extend(self.of_task(task, placed).into_iter().map(|one| (task, one)));
            }
        }
        sittings.sort_by_key(|(task, sitting)| (sitting.at, *task));
        sittings.into_iter().map(|(_, sitting)| sitting).collect()
    }

    fn of_task(&self, task: usize, placed: &Placed) -> Vec<RotaSitting> {
        let meaning = &self.together.meanings[task];
        let group = &self.orders[meaning.order].groups[meaning.group];
        let steps = &group.steps.steps[meaning.steps.clone()];
        let sanding = steps[0].part.and_then(|part| group.sandings.get(&part));
        match (meaning.what, sanding) {
            (What::Steps, _) if steps.len() > 1 => self.one_by_one(task, placed, steps),
            (What::SandFirst, Some(sanding)) => self.each_stretch(task, placed, sanding),
            (What::SandOff, _) => self.each_stretch(
                task,
                placed,
                &sand_off(&self.orders[meaning.order].piece, &steps[0]),
            ),
            _ => self.each_stretch(task, placed, &steps[0]),
        }
    }

    /// A sitting for each stretch.
    fn each_stretch(&self, task: usize, placed: &Placed, step: &Step) -> Vec<RotaSitting> {
        let of = placed.stretches.len() as u32;
        (1..)
            .zip(&placed.stretches)
            .map(|(number, &(from, to))| {
                let slots = &self.together.slots;
                let at = (slots.moment(from), slots.moment(to));
                let told = self.sitting(task, placed, step, at);
                let last = number == of;
                RotaSitting {
                    number: (number, of),
                    why: reason(self.together, self.plan, task, from),
                    rests_until: told.rests_until.filter(|_| last),
                    recoat: told.recoat.filter(|_| last),
                    ..told
                }
            })
            .collect()
    }

    /// A sitting for each step of a unit: they follow each other at once. What a shared mix saves comes
    /// off the first.
    fn one_by_one(&self, task: usize, placed: &Placed, steps: &[Step]) -> Vec<RotaSitting> {
        let meaning = &self.together.meanings[task];
        let group = &self.orders[meaning.order].groups[meaning.group];
        let unit =
            units(&group.steps, group.pieces).into_iter().find(|unit| unit.range == meaning.steps);
        let parts_min = unit.map_or_else(Vec::new, |unit| unit.parts_min());
        let moment = |slot| self.together.slots.moment(slot);
        let ends = moment(placed.ends());
        // Counted back from the end, so that the time that rounding adds lies before the first step.
        let mut to = ends;
        let mut sittings = Vec::new();
        for (index, (step, part_min)) in steps.iter().zip(&parts_min).enumerate().rev() {
            let from = match index {
                0 => moment(placed.begins()),
                _ => to
                    .checked_sub(SignedDuration::from_mins(*part_min))
                    .unwrap_or(to)
                    .max(moment(placed.begins())),
            };
            sittings.push(RotaSitting {
                why: match index {
                    0 => reason(self.together, self.plan, task, placed.begins()),
                    _ => "What lies beneath is still wet.".to_owned(),
                },
                ..self.sitting(task, placed, step, (from, to))
            });
            to = from;
        }
        sittings.reverse();
        let last = sittings.len().saturating_sub(1);
        for sitting in &mut sittings[..last] {
            (sitting.rests_until, sitting.recoat) = (None, None);
        }
        if let Some(turning) = self.turning(task) {
            sittings.iter_mut().for_each(|sitting| sitting.turning = None);
            if let Some(first) = sittings.first_mut() {
                first.turning = Some(turning);
            }
        }
        sittings
    }

    fn turning(&self, task: usize) -> Option<(Vec<u32>, Timestamp)> {
        let (numbers, until) = self.spindles.get(&task)?;
        Some((numbers.clone(), self.together.slots.moment(*until)))
    }

    fn sitting(&self, task: usize, placed: &Placed, step: &Step, at: Span) -> RotaSitting {
        let meaning = &self.together.meanings[task];
        let order = &self.orders[meaning.order];
        let groups = order.groups.len() as u32;
        let once = matches!(step.kind, StepKind::Order | StepKind::Approve);
        let mix = self.mixes.iter().find(|(_, tasks)| tasks.contains(&task));
        let mut how = step.how.clone();
        if let (Some((number, tasks)), StepKind::Pour) = (mix, step.kind) {
            how.insert(0, self.of_mix(*number, tasks));
        }
        RotaSitting {
            order: meaning.order,
            group: (meaning.group as u32 + 1, groups),
            pieces: if once { order.piece.quantity } else { order.groups[meaning.group].pieces },
            step: step.name.clone(),
            kind: step.kind,
            part: step.part.map(|part| order.piece.parts[part].name.clone()),
            number: (1, 1),
            maker: placed.person.or(meaning.done_by),
            at,
            turning: if step.kind == StepKind::Sand { None } else { self.turning(task) },
            rests_until: self.rests_until(task, placed),
            recoat: self.recoat(task, placed),
            mix: mix.filter(|_| step.kind == StepKind::Pour).map(|(number, _)| *number),
            why: String::new(),
            fixed: self.together.book.tasks[task].fixed.is_some(),
            how,
            cautions: step.cautions.clone(),
        }
    }

    /// Until when it must be left before the first step that waits for it.
    fn rests_until(&self, task: usize, placed: &Placed) -> Option<Timestamp> {
        let links = self.together.book.links.iter().filter(|link| link.from == task);
        let least = links.map(|link| link.least).min().filter(|least| *least > 0)?;
        Some(self.together.slots.moment(placed.ends() + least))
    }

    /// When the next coat may go on without sanding.
    fn recoat(&self, task: usize, placed: &Placed) -> Option<Span> {
        let mut links = self.together.book.links.iter();
        let link = links.find(|link| link.from == task && link.relief.is_some())?;
        let moment = |gap| self.together.slots.moment(placed.ends() + gap);
        Some((moment(link.least), moment(link.most?)))
    }

    /// What a shared mix holds and serves.
    fn of_mix(&self, number: u32, tasks: &[usize]) -> String {
        let (mut a_g, mut b_g, mut ml) = (0.0, 0.0, 0.0);
        let mut served = Vec::new();
        for &task in tasks {
            let meaning = &self.together.meanings[task];
            let order = &self.orders[meaning.order];
            let group = &order.groups[meaning.group];
            let step = &group.steps.steps[meaning.steps.start];
            served.push(format!("{} ({})", order.name, step.name));
            if let Some(Mix { a_g: a, b_g: b, on_cup_ml, loss_ml, .. }) = mix_of(order, step) {
                let pieces = f64::from(group.pieces);
                a_g += a * pieces;
                b_g += b * pieces;
                ml += (on_cup_ml + loss_ml) * pieces;
            }
        }
        format!(
            "Mix {number} serves {}, one right after the other: instead of a mix for each, weigh {a_g:.1} g of A and {b_g:.1} g of B, {ml:.1} ml in all.",
            crate::words::list(&served)
        )
    }
}

/// The sanding off of a step that failed.
fn sand_off(piece: &Piece, failed: &Step) -> Step {
    let role = failed.part.map(|part| piece.parts[part].role);
    Step {
        kind: StepKind::Sand,
        name: What::SandOff.name(&failed.name),
        coat: None,
        turner_min: 0.0,
        at_once: false,
        sand_after_min: None,
        how: vec![
            "Sand off what failed, wet and with a dust mask, once it is hard; wipe it, and look at it dry."
                .to_owned(),
        ],
        cautions: cautions::of(StepKind::Sand, role),
        ..failed.clone()
    }
}

fn mix_of(order: &Ordered, step: &Step) -> Option<Mix> {
    match &order.coats.coats[step.coat?].matter {
        Matter::Resin(mix) => Some(*mix),
        Matter::Paint { .. } | Matter::Glitter { .. } => None,
    }
}
