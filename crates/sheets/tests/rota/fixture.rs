//! A small timetable made by hand: two makers, two orders, the night in which summer time begins, a
//! group, a shared mix, a late order, and texts that files must escape.

use jiff::Timestamp;
use jiff::civil::{Date, DateTime};
use jiff::tz::TimeZone;
use piece::settings::Paper;
use piece::{Settings, Source, read_settings};
use sheets::write_rota;
use std::path::Path;
use std::sync::LazyLock;
use tempfile::TempDir;
use work::StepKind;
use work::rota::{Rota, RotaMaker, RotaOrder, RotaSitting, Span};

const STUDIO: &str = include_str!("../../../../examples/studio.toml");

/// Clocks on the marsh: an hour forward on the last Sunday of March (POSIX.1-2017, 8.3).
pub fn marsh_time() -> TimeZone {
    TimeZone::posix("GMT0BST,M3.5.0/1,M10.5.0").expect("a time zone")
}

/// Settings of the example studio, on one paper or the other.
pub fn settings(paper: Paper) -> Settings {
    let reading = read_settings(&Source::new("studio.toml", STUDIO.to_owned()));
    let settings = reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics));
    Settings { paper, ..settings }
}

/// The small timetable.
pub static SMALL: LazyLock<Rota> = LazyLock::new(small);

/// The folder of [`SMALL`], written once.
pub static SMALL_FOLDER: LazyLock<TempDir> = LazyLock::new(|| written(&SMALL, Paper::A4));

/// The folder of a timetable.
pub fn written(rota: &Rota, paper: Paper) -> TempDir {
    let folder = tempfile::tempdir().expect("a folder");
    let names = write_rota(rota, &settings(paper), folder.path(), &mut |_, _, _| true);
    assert!(names.expect("files").iter().all(|name| folder.path().join(name).exists()));
    folder
}

/// A text file of a folder.
pub fn text(folder: &Path, name: &str) -> String {
    std::fs::read_to_string(folder.join(name)).unwrap_or_else(|error| panic!("{name}: {error}"))
}

/// A moment on the marsh's clocks: `2027-03-26T14:30`.
pub fn at(time: &str) -> Timestamp {
    let time: DateTime = time.parse().expect("a time");
    marsh_time().to_timestamp(time).expect("in range")
}

fn day(date: &str) -> Date {
    date.parse().expect("a day")
}

fn span(date: &str, from: &str, until: &str) -> Span {
    (at(&format!("{date}T{from}")), at(&format!("{date}T{until}")))
}

fn sitting(order: usize, kind: StepKind, step: &str, at: Span) -> RotaSitting {
    RotaSitting {
        order,
        group: (1, 1),
        pieces: 1,
        step: step.to_owned(),
        kind,
        part: Some("body".to_owned()),
        number: (1, 1),
        maker: Some(0),
        at,
        turning: None,
        rests_until: None,
        recoat: None,
        mix: None,
        why: String::new(),
        fixed: false,
        how: vec!["Take your time, and look twice; then once more.".to_owned()],
        cautions: vec!["Air the room, always.".to_owned()],
    }
}

fn small() -> Rota {
    let days = ["2027-03-24", "2027-03-25", "2027-03-26", "2027-03-29", "2027-03-30", "2027-03-31"];
    let wren = days.map(|day| span(day, "09:00", "13:00"));
    let ondine = days.map(|day| span(day, "12:00", "18:00"));
    let maker =
        |name: &str, open: &[Span]| RotaMaker { name: name.to_owned(), open: open.to_vec() };
    let heron = RotaOrder {
        name: "heron".to_owned(),
        title: "Heron, at low tide; \"still\"".to_owned(),
        quantity: 1,
        due: Some(day("2027-04-03")),
        leave_by: Some(at("2027-03-31T16:00")),
        done: at("2027-03-31T12:00"),
        leaves: at("2027-03-31T16:00"),
        chance: Some(0.8),
        buffer_for_90_min: Some(360),
    };
    let regatta = RotaOrder {
        name: "regatta-pair".to_owned(),
        title: "Regatta pair \\ é".to_owned(),
        quantity: 2,
        due: Some(day("2027-04-01")),
        leave_by: Some(at("2027-03-30T16:00")),
        done: at("2027-03-31T12:30"),
        leaves: at("2027-03-31T16:00"),
        chance: None,
        buffer_for_90_min: None,
    };
    let mut washed =
        sitting(0, StepKind::Prepare, "Wash and scuff body", span("2027-03-24", "09:00", "09:30"));
    washed.fixed = true;
    let mut poured = sitting(
        0,
        StepKind::Pour,
        "Pour coat 1 of 1 on body",
        span("2027-03-25", "10:00", "10:40"),
    );
    poured.turning = Some((vec![1], at("2027-03-25T15:00")));
    poured.recoat = Some((at("2027-03-25T14:00"), at("2027-03-25T22:00")));
    poured.rests_until = Some(at("2027-03-26T10:00"));
    poured.mix = Some(1);
    poured.why = "wren's hands were busy, with another order".to_owned();
    let mut pair = sitting(
        1,
        StepKind::Pour,
        "Pour coat 1 of 1 on body",
        span("2027-03-25", "10:40", "11:20"),
    );
    pair.turning = Some((vec![2, 3], at("2027-03-25T15:40")));
    pair.rests_until = Some(at("2027-03-28T03:40"));
    pair.pieces = 2;
    pair.mix = Some(1);
    let mut asked = sitting(
        1,
        StepKind::Approve,
        "Customer looks at the pictures",
        span("2027-03-26", "09:00", "09:05"),
    );
    asked.maker = None;
    asked.part = None;
    asked.cautions.clear();
    let set = |number: u32, at: Span| {
        let mut set = sitting(1, StepKind::Set, "Set stones on body", at);
        (set.number, set.maker, set.group) = ((number, 2), Some(1), (1, 2));
        set
    };
    let mut packed = sitting(0, StepKind::Pack, "Pack", span("2027-03-31", "11:30", "12:00"));
    packed.part = None;
    let mut packed_too = sitting(1, StepKind::Pack, "Pack", span("2027-03-31", "12:00", "12:30"));
    (packed_too.part, packed_too.maker) = (None, Some(1));
    Rota {
        zone: marsh_time(),
        begins: at("2027-03-24T09:00"),
        makers: vec![maker("Wren", &wren), maker("Ondine of the Creek", &ondine)],
        machines: vec![("spindle".to_owned(), 4)],
        orders: vec![heron, regatta],
        sittings: vec![
            washed,
            poured,
            pair,
            asked,
            set(1, span("2027-03-26", "13:00", "15:00")),
            set(2, span("2027-03-29", "13:00", "15:00")),
            packed,
            packed_too,
        ],
        quality: vec!["One order is late; no plan has fewer late.".to_owned()],
        notes: vec![piece::Diagnostic::warning(
            piece::FieldPath::root().key("order"),
            "`regatta-pair` leaves a day late",
        )],
    }
}
