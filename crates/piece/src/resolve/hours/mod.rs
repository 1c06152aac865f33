//! The hours file: its time zone, its days, and who is meant by each name.

mod happened;
mod makers;

use super::Bench;
use super::bounds::span;
use crate::FieldPath;
use crate::file::hours::{BookFile, OrderFile, PostFile, SpindleOutFile};
use crate::file::scalars::{Days, Moment, Time};
use crate::hours::{Hours, Order, SpindleOut, When};
use crate::nearest::nearest;
use crate::units::shorten;
use jiff::ToSpan;
use jiff::civil::DateTime;
use jiff::tz::{TimeZone, TimeZoneDatabase};

/// Longest time by which everything should leave earlier, min: ten weeks.
const MOST_BUFFER_MIN: f64 = 100_800.0;

/// The resolved hours, which only count if `bench` holds no errors afterwards.
pub(crate) fn hours(file: &BookFile, bench: &mut Bench<'_>) -> Hours {
    let root = FieldPath::root();
    let orders = orders(&file.order, bench);
    let makers = makers::makers(&file.maker, &file.closed, bench);
    let hours = Hours {
        zone: zone(&file.time_zone, bench),
        begin: file.begin.as_ref().map(|begin| begin.0),
        spindles: file.spindles as u16,
        racks: file.racks.map(|racks| racks as u16),
        buffer_min: buffer_min(file.buffer, bench),
        closed: days(&file.closed),
        post: file.post.as_ref().map(|post| week_of_post(post, bench)),
        no_post: days(&file.no_post),
        happened: happened::happened(&file.happened, &orders, &makers, bench),
        orders,
        spindle_outs: spindle_outs(&file.spindle_out, file.spindles, bench),
        makers,
    };
    if hours.post.is_none() && !hours.no_post.is_empty() {
        bench.error_hint(
            &root.key("no_post"),
            "there are days without post, but no `[post]`",
            "add the weekdays on which it goes, such as monday = \"16:30\" under [post]",
        );
    }
    hours
}

fn days(file: &[Days]) -> Vec<crate::hours::Days> {
    file.iter().map(|days| days.0).collect()
}

/// The first moment of a day, or the moment itself.
fn first_moment(moment: &Moment) -> DateTime {
    match moment.0 {
        When::Day(day) => day.at(0, 0, 0, 0),
        When::At(moment) => moment,
    }
}

/// The moment after a day, or the moment itself.
fn last_moment(moment: &Moment) -> DateTime {
    match moment.0 {
        When::Day(day) => day.checked_add(1.day()).unwrap_or(day).at(0, 0, 0, 0),
        When::At(moment) => moment,
    }
}

/// The zone of this name in the database that ships; its spelling decides, but for capitals.
fn zone(name: &str, bench: &mut Bench<'_>) -> TimeZone {
    let database = TimeZoneDatabase::bundled();
    if let Ok(zone) = database.get(name) {
        return zone;
    }
    let known: Vec<String> = database.available().map(|name| name.to_string()).collect();
    let known: Vec<&str> = known.iter().map(String::as_str).collect();
    // A maker who knows the town but not the continent means the zone that ends in it.
    let town = |known: &&&str| {
        let typed = name.rsplit('/').next().unwrap_or(name).replace(' ', "_");
        known.rsplit('/').next().is_some_and(|town| town.eq_ignore_ascii_case(&typed))
    };
    let meant = known.iter().find(town).copied().or_else(|| nearest(name, &known));
    let hint = match meant {
        Some(meant) => format!("did you mean \"{meant}\"?"),
        None => "write continent and town of the IANA database, such as \"Europe/London\" or \
                 \"America/New_York\""
            .to_owned(),
    };
    let path = FieldPath::root().key("time_zone");
    bench.error_hint(&path, format!("there is no time zone called `{}`", shorten(name)), hint);
    TimeZone::UTC
}

fn buffer_min(file: Option<Time>, bench: &mut Bench<'_>) -> f64 {
    let buffer_min = file.map_or(0.0, |buffer| buffer.0);
    if buffer_min > MOST_BUFFER_MIN {
        let (found, most) = (span(buffer_min), span(MOST_BUFFER_MIN));
        let message = format!("{found} is not expected here; it can be 0 min to {most}");
        bench.error(&FieldPath::root().key("buffer"), message);
    }
    buffer_min
}

fn week_of_post(file: &PostFile, bench: &mut Bench<'_>) -> [Option<u16>; 7] {
    let PostFile { monday, tuesday, wednesday, thursday, friday, saturday, sunday } = file;
    let week = [monday, tuesday, wednesday, thursday, friday, saturday, sunday]
        .map(|clock| clock.as_ref().map(|clock| clock.0));
    if week.iter().all(Option::is_none) {
        bench.error_hint(
            &FieldPath::root().key("post"),
            "no day of the week has post",
            "add at least one, such as monday = \"16:30\", or leave [post] out",
        );
    }
    week
}

fn orders(file: &[OrderFile], bench: &mut Bench<'_>) -> Vec<Order> {
    let list = FieldPath::root().key("order");
    let mut orders: Vec<Order> = Vec::with_capacity(file.len());
    for (index, one) in file.iter().enumerate() {
        let name = one.name.as_ref().map_or_else(|| stem(&one.file.0), |name| name.0.clone());
        if let Some(earlier) = orders.iter().position(|order| order.name == name) {
            let message = format!(
                "two orders are called `{name}`: number {} and number {}",
                earlier + 1,
                index + 1
            );
            let path = list.index(index).key(if one.name.is_some() { "name" } else { "file" });
            bench.error_hint(&path, message, "give one of them another `name`");
        }
        if let (Some(begin), Some(due)) = (&one.begin, &one.due)
            && first_moment(begin).date() > due.0
        {
            bench.error_hint(
                &list.index(index).key("begin"),
                format!("`{name}` may not be begun before it is due on {}", due.0),
                "`begin` is the first day of work on it, `due` the day on which it is wanted",
            );
        }
        orders.push(Order {
            file: one.file.0.clone(),
            name,
            due: one.due.as_ref().map(|day| day.0),
            weight: one.weight,
            quantity: one.quantity,
            begin: one.begin.as_ref().map(|begin| begin.0),
            hand_over: one.hand_over,
        });
    }
    orders
}

/// The name of a file without its folder and ending.
fn stem(file: &str) -> String {
    let name = file.rsplit('/').next().unwrap_or(file);
    name.strip_suffix(".toml").unwrap_or(name).to_owned()
}

fn spindle_outs(file: &[SpindleOutFile], spindles: u32, bench: &mut Bench<'_>) -> Vec<SpindleOut> {
    let list = FieldPath::root().key("spindle_out");
    let mut outs = Vec::with_capacity(file.len());
    for (index, one) in file.iter().enumerate() {
        let path = list.index(index);
        let (from, to) = (first_moment(&one.from), last_moment(&one.to));
        if to <= from {
            let message = "these spindles are back before they are out".to_owned();
            bench.error_hint(&path.key("to"), message, "write a later day or moment");
        }
        if one.spindles > spindles {
            let message = format!("{} spindles are out, of {spindles}", one.spindles);
            bench.error(&path.key("spindles"), message);
        }
        outs.push(SpindleOut { from, to, spindles: one.spindles as u16 });
    }
    outs
}
