//! Settings near and at every bound, through the whole road: an answer each time, never a panic.

use ::money::{plan_bill, plan_price};
use ::piece::{
    Diagnostic, FieldPath, Money, NoArt, Piece, Settings, Severity, Source, read_piece,
    read_settings,
};
use proptest::prelude::*;
use std::sync::LazyLock;

/// One of everything that is priced, small, with stones of two sizes.
const TEXT: &str = r##"cupwright = 1
title = "Everything"
ORDER
[colours]
"reed" = "#556b2f"
"foam" = "#e8eef0"
[[part]]
name = "body"
revolved = [{ along = "0 mm", diameter = "74 mm" }, { along = "90 mm", diameter = "60 mm" }]
[[zone]]
name = "ground"
part = "body"
paint = { colour = "reed", coats = 2 }
[[zone]]
name = "bond"
part = "body"
resin = { coats = 1, film = "0.2 mm" }
[[zone]]
name = "shingle"
part = "body"
glitter = { colour = "foam", flake = "0.4 mm" }
[[zone]]
name = "clear"
part = "body"
resin = { coats = 2, film = "0.2 mm" }
[[zone]]
name = "oar"
part = "body"
art = { path = "M0 0H20V20H0Z", width = "20 mm", along = "30 mm", around = "0 deg", repeat = 3 }
vinyl = { colour = "foam" }
[[zone]]
name = "tide"
part = "body"
band = { from = "50 mm", to = "60 mm" }
window = { from = "-30 deg", to = "30 deg" }
stones = { layout = "scatter", sizes = [{ size = "SS16", share = "50 %" }, { size = "SS10", share = "50 %" }], colour = "foam" }
"##;

static PIECES: LazyLock<[Piece; 2]> = LazyLock::new(|| {
    // Without a day to count from there is no timetable, which is what takes long for a thousand.
    ["due = 2027-06-18", "quantity = 1000"].map(|order| {
        let text = TEXT.replace("ORDER", order);
        let reading = read_piece(&Source::new("everything.toml", text), &NoArt);
        reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics))
    })
});

/// What to put in place of a value: just inside, at and just outside what any bound may be.
fn extremes(value: &str) -> Vec<String> {
    let quoted = |values: &[&str]| values.iter().map(|value| format!("\"{value}\"")).collect();
    let inner = value.trim_matches('"');
    let unit = inner.split(' ').next_back().unwrap_or_default();
    match unit {
        "mm" | "in" => quoted(&[
            "0 mm",
            "0.0009 mm",
            "0.001 mm",
            "2 mm",
            "2.01 mm",
            "5 mm",
            "49 mm",
            "50 mm",
            "200 mm",
            "10000 mm",
            "100000 mm",
            "1000000000 mm",
        ]),
        "ml" | "oz" if inner.contains("fl") || unit == "ml" => quoted(&[
            "0 ml",
            "0.000000001 ml",
            "0.1 ml",
            "1000 ml",
            "1001 ml",
            "1000000 ml",
            "1000000000 l",
        ]),
        "oz" | "g" => quoted(&["0 g", "0.000000001 g", "0.1 g", "1000000 g", "1000001 g"]),
        "%" => quoted(&["0 %", "0.000001 %", "90 %", "90.1 %", "100 %", "150 %", "1000 %"]),
        "min" | "h" | "days" => quoted(&[
            "0 min",
            "0.000001 min",
            "0.5 min",
            "1 min",
            "4.9 min",
            "15 min",
            "24 h",
            "1441 min",
            "365 days",
            "366 days",
            "99999999 days",
        ]),
        _ if value.starts_with('"') && inner.parse::<f64>().is_ok() => {
            quoted(&["0.00", "0.01", "100000000.00", "100000000.01", "999999999.99"])
        }
        _ if value.starts_with('[') && value.contains(',') => {
            ["[0.01, 100]", "[100, 0.01]", "[0.5, 3]", "[0, 1]"].map(str::to_owned).to_vec()
        }
        _ if value.parse::<f64>().is_ok() => {
            ["0", "0.01", "0.5", "1", "20", "120", "1000", "10000", "1000000", "1e300", "nan"]
                .map(str::to_owned)
                .to_vec()
        }
        _ => Vec::new(),
    }
}

/// Lines of the demo settings that hold a quantity, and what else may stand there.
static LINES: LazyLock<Vec<(usize, Vec<String>)>> = LazyLock::new(|| {
    let of_line = |(number, line): (usize, &str)| {
        let (key, rest) = line.split_once(" = ")?;
        let value = rest.split('#').next().unwrap_or_default().trim();
        let values = extremes(value);
        let lines = values.into_iter().map(|value| format!("{key} = {value}")).collect::<Vec<_>>();
        (!lines.is_empty() && !key.contains("cupwright")).then_some((number, lines))
    };
    Settings::DEMO_TEXT.lines().enumerate().filter_map(of_line).collect()
});

/// The demo settings with lines changed.
fn changed(changes: &[(usize, &str)]) -> String {
    let mut lines: Vec<&str> = Settings::DEMO_TEXT.lines().collect();
    for &(number, line) in changes {
        lines[number] = line;
    }
    lines.join("\n")
}

fn complaints_say_where(diagnostics: &[Diagnostic]) {
    let errors: Vec<_> = diagnostics.iter().filter(|one| one.severity == Severity::Error).collect();
    assert!(!errors.is_empty());
    for error in errors {
        assert!(error.path != FieldPath::root() && error.message.len() > 10, "{error:?}");
    }
}

/// Whether these settings could be read and the piece priced with them.
fn walk(text: &str, piece: &Piece) -> bool {
    let reading = read_settings(&Source::new("studio.toml", text));
    let Some(settings) = reading.value else {
        complaints_say_where(&reading.diagnostics);
        return false;
    };
    let shape = match shape::shape(piece, &settings) {
        Ok(shape) => shape,
        Err(errors) => {
            complaints_say_where(&errors);
            return false;
        }
    };
    let stones = match stones::lay_stones(piece, &shape, &settings, &mut |_| true) {
        Ok(stones) => stones,
        Err(errors) => {
            complaints_say_where(&errors);
            return false;
        }
    };
    let coats = match coats::plan_coats(piece, &shape, &settings) {
        Ok(coats) => coats,
        Err(errors) => {
            complaints_say_where(&errors);
            return false;
        }
    };
    let (steps, _) = work::plan_work(piece, &settings, &coats, &stones, None, &mut |_| true)
        .expect("nobody stops it");
    let priced = plan_bill(piece, &settings, &coats, &stones, &steps)
        .and_then(|bill| Ok((plan_price(piece, &settings, &bill, &steps)?, bill)));
    match priced {
        Err(errors) => {
            complaints_say_where(&errors);
            false
        }
        Ok((price, bill)) => {
            assert_eq!(price.materials + price.labour + price.overhead + price.failure, price.cost);
            assert_eq!(price.cost + price.fees + price.margin, price.asked);
            assert!(price.margin >= price.profit, "{price:?}");
            assert!(price.asked_for_all() < Money(i64::MAX / 100), "{price:?}");
            assert!(bill.lines.iter().all(|line| line.cost_used <= line.cost_bought + Money(1)));
            true
        }
    }
}

#[test]
fn each_setting_at_each_extreme_gives_an_answer() {
    assert!(LINES.len() > 200, "the demo settings have so many quantities: {}", LINES.len());
    // Lists of stones and supplies repeat the same keys: the first of each is enough here.
    let mut seen = std::collections::BTreeSet::new();
    let (mut priced, mut refused) = (0, 0);
    for (number, lines) in LINES.iter() {
        let key = lines[0].split(" = ").next().unwrap_or_default();
        if *number > 115 && !seen.insert(key.to_owned()) {
            continue;
        }
        for line in lines {
            let text = changed(&[(*number, line)]);
            match walk(&text, &PIECES[0]) {
                true => priced += 1,
                false => refused += 1,
            }
        }
    }
    assert!(priced > 100 && refused > 100, "{priced} priced, {refused} refused");
}

proptest! {
    #![proptest_config(ProptestConfig { failure_persistence: None, cases: 100, ..ProptestConfig::default() })]

    #[test]
    fn many_settings_at_extremes_give_an_answer(
        picks in proptest::collection::vec((any::<proptest::sample::Index>(), any::<proptest::sample::Index>()), 1..8),
        many in any::<bool>(),
    ) {
        let changes: Vec<(usize, &str)> = picks
            .iter()
            .map(|(line, value)| {
                let (number, lines) = line.get(&LINES);
                (*number, value.get(lines).as_str())
            })
            .collect();
        walk(&changed(&changes), &PIECES[usize::from(many)]);
    }
}

#[test]
fn a_bill_that_makes_no_sense_is_refused_with_what_to_look_at() {
    let told = |settings: &Settings| {
        let piece = &PIECES[1];
        let shape = shape::shape(piece, settings).expect("a shape");
        let stones = stones::lay_stones(piece, &shape, settings, &mut |_| true).expect("stones");
        let coats = coats::plan_coats(piece, &shape, settings).expect("its resin can be poured");
        let steps = work::plan_steps(piece, settings, &coats, &stones);
        plan_bill(piece, settings, &coats, &stones, &steps)
            .and_then(|bill| plan_price(piece, settings, &bill, &steps))
            .expect_err("refused")
    };
    let mut settings = Settings::demo();
    settings.resin.kit_ml = 1e-9;
    let packs = told(&settings);
    assert!(packs[0].message.contains("`slow clear epoxy`"), "{packs:?}");
    assert!(packs[0].message.contains("0.000000001 ml in a pack at $46.00"), "{packs:?}");
    let mut settings = Settings::demo();
    settings.maker.wage_per_h = Money(i64::MAX);
    let wage = told(&settings);
    assert!(wage[0].message.contains("hands-on time"), "{wage:?}");
    assert!(wage[0].hints[0].contains("rates"), "{wage:?}");
}
