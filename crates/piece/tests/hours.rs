//! What is read from hours files, and what is told of bad ones.

use ::piece::hours::{Craft, State, When};
use ::piece::{Hours, Reading, Severity, Source, hours_schema, read_hours};
use boon::{Compiler, Draft, Schemas};
use jiff::civil::date;

const EXAMPLE: &str = include_str!("../../../examples/hours.toml");

/// Everything that the example leaves out.
const MORE: &str = r#"
[[spindle_out]]
from = 2027-04-01
to = 2027-04-02T12:30

[[happened]]
order = "frost"
part = "lid"
step = "Prepare lid"
state = "done"
began = 2027-03-12T10:00
ended = 2027-03-12T10:30
maker = "Sedge"

[[happened]]
order = "heron-low-tide"
step = "Settle the order and buy"
state = "under-way"
began = 2027-03-15T09:00
left = "10 min"
"#;

fn full() -> String {
    format!("{EXAMPLE}{MORE}")
}

fn read(text: &str) -> Reading<Hours> {
    read_hours(&Source::new("hours.toml", text))
}

#[test]
fn the_example_says_what_stands_in_it() {
    let reading = read(&full());
    assert_eq!(reading.diagnostics, []);
    let hours = reading.value.expect("it is sound");
    assert_eq!(hours.zone.iana_name(), Some("Europe/London"));
    assert_eq!(hours.begin, Some(When::Day(date(2027, 3, 15))));
    assert_eq!((hours.spindles, hours.racks, hours.buffer_min), (3, Some(12), 1440.0));
    let [sedge, rush] = hours.makers.as_slice() else { panic!("two makers") };
    assert_eq!(sedge.does, Craft::ALL);
    assert_eq!(sedge.hours[0], [(540, 750), (810, 1020)]);
    assert_eq!(sedge.away, [(date(2027, 4, 5), date(2027, 4, 9))]);
    assert_eq!(sedge.extra, [(date(2027, 4, 18), vec![(600, 780)])]);
    assert_eq!(rush.does, [Craft::Set, Craft::Film, Craft::Sand, Craft::Finish, Craft::Pack]);
    let names: Vec<&str> = hours.orders.iter().map(|order| order.name.as_str()).collect();
    assert_eq!(
        names,
        ["heron-low-tide", "regatta-pair", "samphire-bottle", "frost", "tern-topper"]
    );
    let frost = &hours.orders[3];
    assert_eq!((frost.quantity, frost.weight), (Some(4), 1));
    assert_eq!(frost.begin, Some(When::Day(date(2027, 3, 22))));
    assert!(hours.orders[4].hand_over && !frost.hand_over);
    // A day up to which spindles are out is one of the days; a moment is a moment.
    let out = hours.spindle_outs[0];
    assert_eq!(out.from, date(2027, 4, 1).at(0, 0, 0, 0));
    assert_eq!((out.to, out.spindles), (date(2027, 4, 2).at(12, 30, 0, 0), 1));
    let State::Done(Some(began), ended) = hours.happened[0].state else { panic!("done") };
    assert_eq!((began.hour(), ended.minute()), (10, 30));
    assert!(matches!(hours.happened[1].state, State::UnderWay(_, Some(left)) if left == 10.0));
}

#[test]
fn the_post_keeps_to_its_weekdays_and_stays_away_on_days_without_it() {
    let hours = read(EXAMPLE).value.expect("it is sound");
    // 2027-03-20 is a Saturday.
    assert_eq!(hours.post_on(date(2027, 3, 19)), Some(16 * 60 + 30));
    assert_eq!(hours.post_on(date(2027, 3, 20)), Some(11 * 60 + 30));
    assert_eq!(hours.post_on(date(2027, 3, 21)), None);
    assert_eq!(hours.post_on(date(2027, 3, 29)), None, "closed");
    assert_eq!(hours.post_on(date(2027, 5, 3)), None, "no post");
}

/// Each slip, what it becomes, and what is told of it: the message, and the text that it points at.
const SLIPS: &[(&str, &str, &str, &str)] = &[
    (
        "time_zone = \"Europe/London\"",
        "time_zone = \"Europe/Lundon\"",
        "there is no time zone called `Europe/Lundon`",
        "\"Europe/Lundon\"",
    ),
    ("spindles = 3", "spindel = 3", "`spindel` is not a key that is known here", "spindel"),
    ("spindles = 3", "", "`spindles` is missing", ""),
    (
        "buffer = \"1 day\"",
        "buffer = 1",
        "expected a length of time with its unit for `buffer`",
        "1",
    ),
    (
        "buffer = \"1 day\"",
        "buffer = \"200 days\"",
        "200 days is not expected here; it can be 0 min to 70 days",
        "\"200 days\"",
    ),
    ("monday = \"16:30\"", "monday = \"16.30\"", "`16.30` is not a time of the day", "\"16.30\""),
    ("monday = \"16:30\"", "monday = \"24:30\"", "`24:30` is not a time of the day", "\"24:30\""),
    (
        "\"2027-04-05 to 2027-04-09\"",
        "\"2027-04-09 to 2027-04-05\"",
        "`2027-04-09 to 2027-04-05` ends before it begins",
        "\"2027-04-09 to 2027-04-05\"",
    ),
    (
        "\"2027-04-05 to 2027-04-09\"",
        "\"2027-04-05 to 2027-04-31\"",
        "`2027-04-31` is no day of the calendar",
        "\"2027-04-05 to 2027-04-31\"",
    ),
    (
        "day = 2027-04-18",
        "day = 2027-04-07",
        "Sedge works on 2027-04-07, and is away on it",
        "2027-04-07",
    ),
    (
        "day = 2027-04-18",
        "day = 2027-03-29",
        "Sedge works on 2027-03-29, which is among the `closed` days",
        "2027-03-29",
    ),
    ("\"film\"", "\"films\"", "`films` is not known here", "\"films\""),
    ("\"film\"", "\"set\"", "`set` is listed twice", "\"set\""),
    ("name = \"Rush\"", "name = \"Sedge\"", "two makers are called `Sedge`", "\"Sedge\""),
    (
        "file = \"tern-topper.toml\"",
        "file = \"regatta-pair.toml\"",
        "two orders are called `regatta-pair`: number 2 and number 5",
        "\"regatta-pair.toml\"",
    ),
    (
        "file = \"tern-topper.toml\"",
        "file = \"../tern.toml\"",
        "does not name a file beside this one",
        "\"../tern.toml\"",
    ),
    (
        "weight = 2",
        "weight = 0",
        "`order[0].weight` is 0; expected a whole number from 1 to 100",
        "0",
    ),
    ("quantity = 4", "quantity = 0", "`order[3].quantity` is 0", "0"),
    (
        "begin = 2027-03-22",
        "begin = 2027-05-22",
        "`frost` may not be begun before it is due on 2027-04-24",
        "2027-05-22",
    ),
    (
        "begin = 2027-03-15",
        "begin = 2027-03-15T18:00:00Z",
        "names an offset",
        "2027-03-15T18:00:00Z",
    ),
    (
        "begin = 2027-03-15",
        "begin = 2027-03-15T18:00:30",
        "is not a time of the day",
        "2027-03-15T18:00:30",
    ),
    (
        "from = 2027-04-01",
        "from = 2027-04-03",
        "these spindles are back before they are out",
        "2027-04-02T12:30",
    ),
    (
        "to = 2027-04-02T12:30",
        "to = 2027-04-02T12:30\nspindles = 4",
        "4 spindles are out, of 3",
        "4",
    ),
    ("order = \"frost\"", "order = \"frist\"", "there is no order called `frist`", "\"frist\""),
    ("maker = \"Sedge\"", "maker = \"Sege\"", "there is no maker called `Sege`", "\"Sege\""),
    ("state = \"done\"", "state = \"ready\"", "`ready` is not known here", "\"ready\""),
    (
        "ended = 2027-03-12T10:30",
        "ended = 2027-03-12T10:00",
        "it ended before it began",
        "2027-03-12T10:00",
    ),
    ("ended = 2027-03-12T10:30\n", "", "`ended` is missing", ""),
    ("began = 2027-03-15T09:00\n", "", "`began` is missing", ""),
    (
        "began = 2027-03-15T09:00",
        "began = 2027-03-15",
        "needs the time at which it was begun",
        "2027-03-15",
    ),
    (
        "state = \"under-way\"",
        "state = \"failed\"\nended = 2027-03-15T10:00",
        "something is left",
        "\"10 min\"",
    ),
];

#[test]
fn each_slip_is_told_where_it_stands() {
    for (from, to, message, at) in SLIPS {
        let text = full();
        assert!(text.contains(from), "{from}");
        let text = text.replacen(from, to, 1);
        let reading = read(&text);
        assert_eq!(reading.value, None, "{to}");
        let errors = || reading.diagnostics.iter().filter(|one| one.severity == Severity::Error);
        let found = errors().find(|found| found.message.contains(message));
        let found = found.unwrap_or_else(|| panic!("{message}\n{:?}", reading.diagnostics));
        if !at.is_empty() {
            let span = found.span.clone().unwrap_or_else(|| panic!("{message} points nowhere"));
            assert_eq!(&text[span], *at, "{message}");
        }
    }
}

#[test]
fn what_is_nearest_is_offered() {
    let hints = |from: &str, to: &str| {
        read(&full().replacen(from, to, 1)).diagnostics.remove(0).hints.join(" ")
    };
    assert!(hints("Europe/London", "Europe/Lundon").contains("\"Europe/London\""));
    // The town alone says which continent is meant.
    assert!(hints("Europe/London", "New York").contains("\"America/New_York\""));
    assert!(hints("spindles = 3", "spindel = 3").contains("`spindles`"));
    assert!(hints("order = \"frost\"", "order = \"frist\"").contains("\"frost\""));
    assert!(hints("maker = \"Sedge\"", "maker = \"Sege\"").contains("\"Sedge\""));
}

#[test]
fn nobody_with_hours_is_an_error_and_no_maker_is_none() {
    let start = EXAMPLE.find("[[maker]]").expect("makers");
    let end = EXAMPLE.find("[[order]]").expect("orders");
    let with = |makers: &str| read(&format!("{}{makers}{}", &EXAMPLE[..start], &EXAMPLE[end..]));
    assert!(with("").value.expect("the studio's maker works then").makers.is_empty());
    let idle = with("[[maker]]\nname = \"Sedge\"\nhours = {}\n");
    assert_eq!(idle.diagnostics[0].message, "nobody has any hours of work");
    let once = "[[maker]]\nname = \"Sedge\"\nhours = {}\n\
                extra = [{ day = 2027-04-18, hours = [\"10:00-13:00\"] }]\n";
    assert!(with(once).value.is_some());
}

#[test]
fn the_schema_takes_the_example_and_refuses_slips() {
    fn plain(value: toml::Value) -> serde_json::Value {
        match value {
            toml::Value::Datetime(day) => day.to_string().into(),
            toml::Value::Array(items) => items.into_iter().map(plain).collect(),
            toml::Value::Table(table) => {
                table.into_iter().map(|(key, value)| (key, plain(value))).collect()
            }
            other => serde_json::to_value(other).expect("JSON"),
        }
    }
    let takes = |text: &str| {
        let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
        compiler.set_default_draft(Draft::V2020_12);
        compiler.add_resource("schema.json", hours_schema()).expect("a schema");
        let index = compiler.compile("schema.json", &mut schemas).expect("a valid schema");
        let table: toml::Table = text.parse().expect("TOML");
        schemas.validate(&plain(toml::Value::Table(table)), index).is_ok()
    };
    assert!(takes(&full()));
    for (from, to) in [
        ("begin = 2027-03-15", "begin = \"soon\""),
        ("spindles = 3", "spindel = 3"),
        ("spindles = 3", "spindles = -3"),
        ("monday = \"16:30\"", "monday = \"16.30\""),
        ("\"2027-04-05 to 2027-04-09\"", "\"2027-04-05 - 2027-04-09\""),
        ("\"film\"", "\"films\""),
        ("state = \"done\"", "state = \"ready\""),
        ("buffer = \"1 day\"", "buffer = \"1 week\""),
    ] {
        assert!(!takes(&full().replacen(from, to, 1)), "{to}");
        assert_eq!(read(&full().replacen(from, to, 1)).value, None, "{to}");
    }
}
