//! The days that can be promised for the options of a quote, beside the orders in hand.

use crate::findings::Findings;
use crate::open::Opened;
use crate::ordering::Desk;
use crate::planning::Search;
use crate::promised_words::{Promised, on_the_way_days};
use crate::road::Laid;
use crate::trouble::Trouble;
use jiff::ToSpan;
use jiff::civil::Date;
use schedule::{Plan, Unsolved};
use work::together::{
    Kept, Ordered, Together, carry_on, contradictions, plan_book, rota, without_place,
};

/// Rounds of the search for a plan of the orders in hand, and for each promise: enough for a day to be
/// found, where a timetable to work by is looked for longer (our choice).
pub const ROUNDS: u32 = 40;

/// What is promised for.
pub struct Wanted<'a> {
    /// What the option is called.
    pub name: &'a str,
    pub opened: &'a Opened,
    pub laid: Laid,
}

/// The day by which each of these is with the customer if it is ordered beside those in hand, begun no
/// earlier than `begins`, with no step of theirs moved; with steps moved if there is no other way, and
/// `None` if there is none at all. `None` altogether if something needs mending, and what is then among
/// the findings.
///
/// # Errors
/// A file cannot be read, or someone asked to stop.
pub fn days(
    wanted: Vec<Wanted<'_>>,
    begins: Date,
    desk: &Desk<'_>,
    search: &Search<'_>,
    findings: &mut Findings,
) -> Result<Option<Vec<Option<Date>>>, Trouble> {
    let in_hand = if desk.hours.hours.orders.is_empty() {
        Vec::new()
    } else {
        let Some(orders) = desk.orders(&[], findings)? else { return Ok(None) };
        orders
    };
    let book = Book { desk, search };
    let kept = if in_hand.is_empty() {
        None
    } else {
        let Some((together, plan)) = book.planned(&in_hand, findings) else { return Ok(None) };
        Some(Kept::of(&together, &in_hand, &plan))
    };
    let mut days = Vec::with_capacity(wanted.len());
    for option in wanted {
        let Wanted { name, opened, laid } = option;
        let Some(new) = desk.option(name, begins, (opened, &laid), findings)? else {
            return Ok(None);
        };
        let orders: Vec<Ordered> = in_hand.iter().cloned().chain([new]).collect();
        let day = match &kept {
            Some(kept) => book.beside(&orders, kept, findings),
            None => book.alone(&orders, findings),
        };
        let Some(day) = day else { return Ok(None) };
        days.push(day);
        if search.stop.asked() {
            return Err(Trouble::stopped());
        }
    }
    Ok(Some(days))
}

/// What can be promised for the last of the orders in a book, where the others are planned already; `None`
/// if there is no order.
pub fn beside(
    desk: &Desk,
    search: &Search,
    mut together: Together,
    orders: &[Ordered],
    kept: &Kept,
) -> Option<Promised> {
    let new = orders.last()?;
    let (settings, hours) = (&desk.studio.settings, &desk.hours.hours);
    let mut in_force = kept.in_force(&together, orders);
    carry_on(&mut together, hours, &mut in_force);
    let promise = search.promise(&together, &in_force);
    Some(Promised::of(&together, orders, new, settings, hours, &promise))
}

struct Book<'a> {
    desk: &'a Desk<'a>,
    search: &'a Search<'a>,
}

impl Book<'_> {
    /// The book of these orders; `None` if something needs mending.
    fn of(&self, orders: &[Ordered], findings: &mut Findings) -> Option<Together> {
        let (hours, settings) = (self.desk.hours, &self.desk.studio.settings);
        let made = plan_book(&hours.hours, settings, orders, None).and_then(|together| {
            let errors = contradictions(&together);
            if errors.is_empty() { Ok(together) } else { Err(errors) }
        });
        made.map_err(|errors| hours.found(errors, findings)).ok()
    }

    fn planned(&self, orders: &[Ordered], findings: &mut Findings) -> Option<(Together, Plan)> {
        let together = self.of(orders, findings)?;
        match self.search.anew(&together) {
            Ok(plan) => Some((together, plan)),
            Err(Unsolved::NoRoom(tasks)) => {
                self.desk.hours.found(vec![without_place(&together, &tasks)], findings);
                None
            }
        }
    }

    /// The day for the last of these orders, where the others are planned already.
    fn beside(
        &self,
        orders: &[Ordered],
        kept: &Kept,
        findings: &mut Findings,
    ) -> Option<Option<Date>> {
        let together = self.of(orders, findings)?;
        Some(beside(self.desk, self.search, together, orders, kept)?.day())
    }

    /// The day for the only order there is.
    fn alone(&self, orders: &[Ordered], findings: &mut Findings) -> Option<Option<Date>> {
        let (together, plan) = self.planned(orders, findings)?;
        let rota = rota(&together, orders, &plan);
        let leaves = rota.orders.last()?.leaves;
        let new = orders.last()?;
        let way = on_the_way_days(new, &self.desk.studio.settings, &self.desk.hours.hours);
        Some(rota.zone.to_datetime(leaves).date().checked_add(way.days()).ok())
    }
}
