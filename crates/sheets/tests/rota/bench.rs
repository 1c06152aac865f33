//! Longer timetables, made by laying the steps of many orders in hours one after another: only to see
//! and count what the files show, not a good plan.

use crate::fixture::{at, marsh_time};
use jiff::{SignedDuration, Timestamp, ToSpan};
use work::StepKind::{self, *};
use work::rota::{Rota, RotaMaker, RotaOrder, RotaSitting, Span};

/// Kind, name, part, hands-on for a piece, turning and resting after it, all in min.
type Step = (StepKind, &'static str, &'static str, i64, i64, i64);

const STEPS: [Step; 14] = [
    (Order, "Agree the design and buy", "", 25, 0, 0),
    (Prepare, "Wash and scuff body", "body", 20, 0, 0),
    (Mask, "Tape rim and foot of body", "body", 15, 0, 0),
    (Paint, "Paint coat 1 of 2 on body", "body", 15, 0, 60),
    (Paint, "Paint coat 2 of 2 on body", "body", 15, 0, 1440),
    (Pour, "Pour coat 1 of 2 on body, and glitter", "body", 40, 300, 900),
    (Sand, "Sand body", "body", 25, 0, 0),
    (Pour, "Pour coat 2 of 2 on body", "body", 35, 300, 1440),
    (Film, "Lay film on body", "body", 35, 0, 0),
    (Approve, "Customer looks at the pictures", "", 5, 0, 1440),
    (Set, "Set stones on body", "body", 120, 0, 0),
    (Set, "Set stones on lid", "lid", 90, 0, 720),
    (Finish, "Check, photograph and clean", "", 20, 0, 2880),
    (Pack, "Pack", "", 15, 0, 0),
];

const TITLES: [&str; 8] = [
    "Heron at low tide",
    "Samphire bottle",
    "Regatta pair",
    "Moon tide",
    "Frost on the saltings, with a very long name to be cut",
    "Tern topper",
    "Rain regatta",
    "Sea lavender",
];

/// Hours on five days a week from Monday 1 March 2027.
fn open(weeks: i64, hours: &[(i8, i8)]) -> Vec<Span> {
    let first = jiff::civil::date(2027, 3, 1);
    let days = (0..7 * weeks).filter(|day| day % 7 < 5).map(|day| first + day.days());
    days.flat_map(|day| {
        hours.iter().map(move |&(from, until)| {
            (at(&format!("{day}T{from:02}:00")), at(&format!("{day}T{until:02}:00")))
        })
    })
    .collect()
}

/// So many orders, a new one every so many days, for so many makers.
pub fn many(orders: usize, every_days: usize, makers: usize) -> Rota {
    let hours: [&[(i8, i8)]; 3] = [&[(9, 12), (13, 17)], &[(10, 15)], &[(18, 21)]];
    let makers: Vec<_> = ["Wren", "Ondine", "Tamsin"][..makers]
        .iter()
        .zip(hours)
        .map(|(name, hours)| RotaMaker { name: (*name).to_owned(), open: open(30, hours) })
        .collect();
    let begins = at("2027-03-01T09:00");
    let mut hands: Vec<Vec<Span>> = vec![Vec::new(); makers.len()];
    let mut spindles = [Timestamp::MIN; 4];
    let mut rota = Rota {
        zone: marsh_time(),
        begins,
        makers,
        machines: vec![("spindle".to_owned(), 4)],
        orders: Vec::new(),
        sittings: Vec::new(),
        quality: vec![
            "Made for a test: steps laid in hours one after another.".to_owned(),
            "No bound is known for it.".to_owned(),
        ],
        notes: Vec::new(),
    };
    for order in 0..orders {
        let pieces = 1 + order as u32 % 3;
        let mut ready = begins + SignedDuration::from_hours(24 * (order * every_days) as i64);
        for step in STEPS {
            let count = if step.0 == Set { i64::from(pieces) } else { 1 };
            for number in 1..=count {
                let made = lay(&rota, &mut hands, &mut spindles, (order, pieces), step, ready);
                let made = RotaSitting { number: (number as u32, count as u32), ..made };
                let busy = made.turning.as_ref().map_or(made.at.1, |(_, until)| *until);
                ready = made.rests_until.unwrap_or(busy).max(busy);
                rota.sittings.push(made);
            }
        }
        let done = ready;
        let local = marsh_time().to_datetime(done);
        let leaves =
            at(&format!("{}T16:00", (local.date() + i64::from(local.hour() >= 16).days())));
        // Every fourth has no due day, every fifth is late.
        let slack = if order % 5 == 2 { -1 } else { 1 + order as i64 % 4 };
        let by = at(&format!("{}T16:00", marsh_time().to_datetime(leaves).date() + slack.days()));
        let due = marsh_time().to_datetime(by).date() + 3.days();
        rota.orders.push(RotaOrder {
            name: format!("order-{}", order + 1),
            title: TITLES[order % TITLES.len()].to_owned(),
            quantity: pieces,
            due: (order % 4 != 3).then_some(due),
            leave_by: (order % 4 != 3).then_some(by),
            done,
            leaves,
            chance: Some(0.95 - order as f64 / 100.0),
            buffer_for_90_min: Some(1440),
        });
    }
    rota.sittings.sort_by_key(|sitting| (sitting.at, sitting.order));
    rota
}

/// One sitting at the first moment at which a maker and spindles are free.
fn lay(
    rota: &Rota,
    hands: &mut [Vec<Span>],
    spindles: &mut [Timestamp],
    (order, pieces): (usize, u32),
    (kind, name, part, minutes, turning, resting): Step,
    mut ready: Timestamp,
) -> RotaSitting {
    let min = SignedDuration::from_mins;
    let long = min(if kind == Set { minutes } else { minutes * i64::from(pieces).min(2) });
    let mut numbers: Vec<usize> = (0..spindles.len()).collect();
    numbers.sort_by_key(|&number| spindles[number]);
    numbers.truncate(pieces as usize);
    if turning > 0 {
        ready = numbers.iter().map(|&number| spindles[number]).fold(ready, Timestamp::max);
    }
    let first = |maker: usize| {
        let mut free = rota.makers[maker].open.iter().filter_map(|&(from, until)| {
            let mut begins = from.max(ready);
            loop {
                let ends = begins + long;
                let busy = hands[maker].iter().find(|busy| busy.0 < ends && begins < busy.1);
                match busy {
                    Some(busy) => begins = busy.1,
                    None => return (ends <= until).then_some((begins, ends)),
                }
            }
        });
        free.next().expect("hours enough")
    };
    let (maker, at) = if kind == Approve {
        (None, (ready, ready + long))
    } else {
        let spans = (0..rota.makers.len()).map(|maker| (first(maker), maker));
        let (at, maker) = spans.min().expect("a maker");
        hands[maker].push(at);
        (Some(maker), at)
    };
    let off = at.0 + min(turning);
    if turning > 0 {
        numbers.iter().for_each(|&number| spindles[number] = off);
    }
    let turns: Vec<u32> = numbers.iter().map(|&number| number as u32 + 1).collect();
    RotaSitting {
        order,
        group: (1, 1),
        pieces,
        step: name.to_owned(),
        kind,
        part: (!part.is_empty()).then(|| part.to_owned()),
        number: (1, 1),
        maker,
        at,
        turning: (turning > 0).then_some((turns, off)),
        rests_until: (resting > 0).then(|| at.1 + min(resting)),
        recoat: (turning > 0).then(|| (at.1 + min(240), at.1 + min(720))),
        mix: None,
        why: "waits for the step before it".to_owned(),
        fixed: false,
        how: vec!["As it says in the workbook.".to_owned()],
        cautions: if maker.is_some() { vec!["Take care.".to_owned()] } else { Vec::new() },
    }
}
