//! `cupwright price` and `cupwright after`: every cell made again as a spreadsheet would, by code that
//! shares nothing with the program.

use crate::room::{CUP, Room, names};
use std::collections::BTreeMap;
use std::fs;

/// A decimal number as a whole number of ten-billionths.
fn decimal(text: &str) -> i128 {
    let (minus, text) = text.strip_prefix('-').map_or((1, text), |rest| (-1, rest));
    let (whole, part) = text.split_once('.').unwrap_or((text, ""));
    assert!(part.len() <= 10, "{text}");
    let digits = format!("{whole}{part:0<10}");
    minus * digits.parse::<i128>().unwrap_or_else(|_| panic!("{text}"))
}

/// To a cent: nearest with halves away from nothing, or up.
fn rounded(top: i128, bottom: i128, up: bool) -> i128 {
    let cent = 10_i128.pow(8);
    let bottom = bottom * cent;
    let (whole, rest) = (top / bottom, top % bottom);
    let more = if up { rest > 0 } else { 2 * rest.abs() >= bottom };
    (whole + if more { top.signum() } else { 0 }) * cent
}

/// Makes every row of a price table again from its own factors; gives the amounts by line.
fn made_again(table: &str) -> BTreeMap<String, i128> {
    let mut lines = table.lines();
    assert_eq!(lines.next(), Some("line,amount,currency,demo,sum,base,times,by,rounded"));
    let rows: Vec<Vec<&str>> = lines.map(|line| line.split(',').collect()).collect();
    let amounts: BTreeMap<String, i128> =
        rows.iter().map(|row| (row[0].to_owned(), decimal(row[1]))).collect();
    assert_eq!(amounts.len(), rows.len(), "each line once");
    let (mut sums, mut products) = (0, 0);
    for row in &rows {
        let (line, amount) = (row[0], amounts[row[0]]);
        if !row[4].is_empty() {
            sums += 1;
            // Names of other lines, with a plus or a minus before each but the first.
            let mut sum = 0;
            let spaced = row[4].replace('+', " +").replace('-', " -");
            for term in spaced.split(' ') {
                match term.strip_prefix('-') {
                    Some(name) => sum -= amounts[name],
                    None => sum += amounts[term.trim_start_matches('+')],
                }
            }
            assert_eq!(sum, amount, "{line} = {}", row[4]);
        } else if !row[5].is_empty() {
            products += 1;
            let (base, times, by) = (decimal(row[5]), decimal(row[6]), decimal(row[7]));
            assert_eq!(rounded(base * times, by, row[8] == "up"), amount, "{line}: {row:?}");
        }
    }
    assert!(sums > 15 && products > 15, "{sums} {products}");
    amounts
}

fn studio(room: &Room, pricing: &str) {
    let text = include_str!("../../../../examples/studio.toml");
    let (before, rest) = text.split_once("[pricing]").expect("pricing");
    let (_, after) = rest.split_once("\n# Stones.").expect("stones");
    room.write("studio.toml", format!("{before}[pricing]\n{pricing}\n# Stones.{after}"));
}

const PLAIN: &str = r#"
overhead_per_h = "3.55"
failure = "7.25 %"
profit = "33.3333 %"
fee = "8.75 %"
fee_fixed = "0.45"
round_to = "5.00"
endings = ["0.00", "2.50"]
[[pricing.channel]]
name = "fair"
card = "1.75 %"
order = "3.00"
[[pricing.channel]]
name = "online"
commission = "6.5 %"
card = "3 %"
card_fixed = "0.25"
listing = "0.20"
"#;

#[test]
fn every_cell_of_a_price_can_be_made_again_from_its_factors() {
    let room = Room::new();
    room.write("cup.toml", CUP);
    for (tax, channel) in [
        ("", ""),
        ("[pricing.tax]\nhow = \"added\"\nrate = \"8.25 %\"\nrounded = \"total\"\n", "online"),
        ("[pricing.tax]\nhow = \"included\"\nrate = \"19 %\"\nrounded = \"line\"\n", "fair"),
    ] {
        studio(&room, &format!("{PLAIN}{tax}"));
        for more in [&["--quantity", "1"][..], &["--quantity", "7,2"], &["--asked", "41.37"]] {
            let mut args =
                vec!["price", "cup.toml", "--studio", "studio.toml", "--out", "out", "--quiet"];
            args.extend(more);
            if !channel.is_empty() {
                args.extend(["--channel", channel]);
            }
            room.run(&args).ended(0, &[]);
            assert_eq!(
                names(&room.path("out")),
                [".cupwright", "batch.csv", "price.csv", "price.pdf"]
            );
            let table = fs::read_to_string(room.path("out/price.csv")).expect("a table");
            let amounts = made_again(&table);
            let asked = amounts["asked"] / 10_i128.pow(8);
            match more[0] {
                "--asked" => assert_eq!(asked, 4137),
                _ => {
                    assert_eq!(asked % 250, 0, "{asked}");
                    assert!(amounts["margin"] >= amounts["profit"]);
                }
            }
            // The floor pays nothing, the fair price the wage of the demo studio, to a cent or two.
            let cents = |line: &str| amounts[line] / 10_i128.pow(8);
            assert!(cents("floor_per_h").abs() <= 2, "{table}");
            assert!((cents("fair_per_h") - 1800).abs() <= 2, "{table}");
            batch_is_whole(&room, more);
        }
    }
}

/// Each row of the batch adds up, and holds what was asked for.
fn batch_is_whole(room: &Room, more: &[&str]) {
    let batch = fs::read_to_string(room.path("out/batch.csv")).expect("a table");
    let mut lines = batch.lines();
    let head: Vec<&str> = lines.next().expect("a head").split(',').collect();
    let mut alone = None;
    let mut pieces = Vec::new();
    for line in lines {
        let row: BTreeMap<&str, &str> = head.iter().copied().zip(line.split(',')).collect();
        let of = |name: &str| decimal(row[name]);
        let parts = ["materials", "labour", "overhead", "failure"].map(of);
        assert_eq!(parts.iter().sum::<i128>(), of("cost"), "{line}");
        let count: i128 = row["pieces"].parse().expect("a count");
        assert_eq!(of("asked") * count, of("asked_for_all"), "{line}");
        let alone = *alone.get_or_insert(of("asked"));
        assert_eq!(alone - of("asked"), of("saving"), "{line}");
        let share = (of("saving") * 1000).div_euclid(alone);
        assert_eq!(share * 10_i128.pow(9), of("saving_percent"), "{line}");
        pieces.push(count);
    }
    match more {
        ["--quantity", "7,2"] => assert_eq!(pieces, [1, 2, 7]),
        ["--quantity", "1"] => assert_eq!(pieces, [1]),
        _ => assert_eq!(pieces, [1, 5, 10]),
    }
}

#[test]
fn what_is_asked_for_wrongly_is_told() {
    let room = Room::new();
    room.write("cup.toml", CUP);
    studio(&room, PLAIN);
    let told = |more: &[&str]| {
        let ran = room.run(&[&["price", "cup.toml", "--studio", "studio.toml"], more].concat());
        assert_eq!(ran.code, Some(2), "{}", ran.stderr);
        ran.stderr
    };
    let channel = told(&["--channel", "stall"]);
    assert!(channel.contains("no channel called stall"), "{channel}");
    assert!(channel.contains("fair, online"), "{channel}");
    let asked = told(&["--asked", "85.005"]);
    assert!(asked.contains("3 digits after the point; USD has 2"), "{asked}");
    assert!(told(&["--asked", "0"]).contains("pays for nothing"));
    told(&["--quantity", "0"]);
    // Settings that no price can satisfy, and endings beyond the step.
    let wrong = PLAIN.replace("\"6.5 %\"", "\"89 %\"").replace("\"3 %\"", "\"9 %\"");
    studio(&room, &wrong.replace("\"2.50\"", "\"5.00\""));
    let ran = room.run(&["price", "cup.toml", "--studio", "studio.toml"]);
    assert_eq!(ran.code, Some(1), "{}", ran.stderr);
    assert!(ran.stderr.contains("leave 2 % of a price"), "{}", ran.stderr);
    assert!(ran.stderr.contains("an ending is what a price has above"), "{}", ran.stderr);
    let text = include_str!("../../../../examples/studio.toml");
    room.write("studio.toml", text.replace("code = \"USD\"", "code = \"JPY\""));
    let ran = room.run(&["price", "cup.toml", "--studio", "studio.toml"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.stderr.contains("JPY has 0 digits after the point by ISO 4217"), "{}", ran.stderr);
}

pub const HEAD: &str = "day,piece,step,size,count,minutes,outcome,material,planned,used";

#[test]
fn records_are_planned_with_and_left_out_change_nothing() {
    let room = Room::new();
    room.write("cup.toml", CUP);
    let lines = "2027-03-01,Marsh cup,set,SS30,300,120,,,,\n".repeat(8);
    room.write("records.csv", format!("{HEAD}\n{lines}"));
    let plan = |folder: &str, more: &[&str]| {
        let ran = room.run(&[&["plan", "cup.toml", "--out", folder], more].concat());
        ran.ended(0, &[]);
        ran.stderr
    };
    plan("plain", &[]);
    let said = plan("taught", &["--records", "records.csv"]);
    assert!(said.contains("figures come from records.csv"), "{said}");
    let steps =
        |folder: &str| fs::read_to_string(room.path(folder).join("steps.csv")).expect("steps");
    assert_ne!(steps("plain"), steps("taught"));
    // Too few lines teach nothing: the tables are those of a plan without them.
    room.write("few.csv", format!("{HEAD}\n2027-03-01,Marsh cup,set,SS30,300,120,,,,\n"));
    plan("few", &["--records", "few.csv"]);
    for name in ["steps.csv", "bill.csv", "price.csv", "stones.csv", "coats.csv"] {
        let read = |folder: &str| fs::read(room.path(folder).join(name)).expect("a table");
        assert!(read("plain") == read("few"), "{name}");
    }
    let ran = room.run(&["price", "cup.toml", "--records", "records.csv", "--json"]);
    let told: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let learned = told["price"]["learned"].as_array().expect("figures");
    let size = learned.iter().find(|one| one["figure"] == "setting SS30").expect("a size");
    // 300 stones in 110 min beyond the set-up are 164 an hour; the standard is 320.
    let per_h = size["learned"].as_f64().expect("learned");
    assert!((150.0..200.0).contains(&per_h), "{per_h}");
    assert_eq!(size["standard_is_off"], true);
    room.write("broken.csv", format!("{HEAD}\n2027-03-01,Marsh cup,set,SS30,300,long,,,,\n"));
    let ran = room.run(&["price", "cup.toml", "--records", "broken.csv"]);
    assert_eq!(ran.code, Some(1));
    assert!(ran.stderr.contains("broken.csv:2:"), "{}", ran.stderr);
}

#[test]
fn after_tells_planned_and_actual_and_what_is_unknown() {
    let room = Room::new();
    room.write("cup.toml", CUP);
    let lines =
        "2027-03-01,Marsh cup,set,SS30,300,120,,,,\n2027-03-01,Marsh cup,,,,,,stones,300,330\n";
    room.write("records.csv", format!("{HEAD}\n{}", lines.repeat(6)));
    let args = ["after", "cup.toml", "--records", "records.csv"];
    let ran = room.run(&args);
    ran.ended(0, &[]);
    for words in ["12 h", "unknown", "1980 stones", "set `set_per_h of SS30` to"] {
        assert!(ran.stdout.contains(words), "{words}\n{}", ran.stdout);
    }
    let ran = room.run(&[&args[..], &["--json", "--out", "after"]].concat());
    let told: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
    assert_eq!(told["after"]["whole"], false);
    assert!(told["after"]["actual_per_h"].is_null());
    assert_eq!(names(&room.path("after")), [".cupwright", "after.csv", "learned.csv"]);
    let table = fs::read_to_string(room.path("after/after.csv")).expect("a table");
    // 720 min at 18.00 are 216.00; what was not written down is empty, not nothing.
    assert!(table.contains("hours,set,min,"), "{table}");
    assert!(table.contains(",720.00,") && table.contains(",216.00,"), "{table}");
    assert!(table.lines().any(|line| line.starts_with("hours,pack,") && line.contains(",,")));
    room.write("others.csv", format!("{HEAD}\n2027-03-01,Reed,set,SS30,300,120,,,,\n"));
    let ran = room.run(&["after", "cup.toml", "--records", "others.csv"]);
    assert_eq!(ran.code, Some(2));
    assert!(ran.stderr.contains("no line about \"Marsh cup\"") && ran.stderr.contains("Reed"));
}
