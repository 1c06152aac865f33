//! `cupwright quote`: options of a design for a customer.

use crate::room::{CUP, Room, SMALL, contents, names};
use serde_json::Value;
use std::fs;
use std::path::Path;
use std::process::Command;

/// A cup with two bands of stones and a word, paint beneath.
pub fn two_bands() -> String {
    format!(
        "{}{}",
        CUP.replace(
            "title = \"Marsh cup\"",
            "title = \"Marsh cup\"\ndue = 2026-07-25\nquantity = 3"
        ),
        "\n[[zone]]\nname = \"ground\"\npart = \"body\"\nband = { from = \"66 mm\", to = \"106 mm\" }\n\
         stones = { layout = \"rows\", size = \"SS20\", colour = \"ebb\" }\n\
         [[zone]]\nname = \"word\"\npart = \"body\"\nvinyl = { colour = \"ebb\" }\n\
         lettering = { text = \"Reed\", font = \"pacifico\", height = \"8 mm\", along = \"30 mm\", around = \"0 deg\" }\n"
    )
}

/// The words of a PDF (poppler), line ends as spaces.
pub fn words(pdf: &Path) -> String {
    let output = Command::new("pdftotext").args(["-layout"]).arg(pdf).arg("-").output();
    let text = String::from_utf8(output.expect("pdftotext").stdout).expect("UTF-8");
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

fn quoted(room: &Room, args: &[&str]) -> Value {
    let ran = room.run(&[&["quote", "cup.toml", "--out", "q", "--json"], args].concat());
    ran.ended(0, &[]);
    serde_json::from_str(&ran.stdout).expect("one JSON document")
}

fn room() -> Room {
    let room = Room::new();
    room.write("cup.toml", two_bands());
    room
}

#[test]
fn three_strengths_are_what_plans_of_their_files_give() {
    let room = room();
    let told = quoted(&room, &["--begin", "2026-07-20"]);
    let options = told["quote"]["options"].as_array().expect("options");
    let list: Vec<&str> = options.iter().filter_map(|one| one["name"].as_str()).collect();
    assert_eq!(list, ["accent", "half", "full"]);
    for one in options {
        let file = format!("q/{}", one["file"].as_str().expect("a file"));
        let args = [
            "plan",
            &file,
            "--studio",
            "q/studio.toml",
            "--begin",
            "2026-07-20",
            "--out",
            "p",
            "--json",
        ];
        let ran = room.run(&args);
        ran.ended(0, &[]);
        let plan: Value = serde_json::from_str(&ran.stdout).expect("JSON");
        let summary = &plan["summary"];
        assert_eq!(one["stones"], summary["stones"]["count"], "{file}");
        assert_eq!(one["price_each"], summary["price"]["asked"], "{file}");
        let hours = summary["work"]["hands_on_min"].as_f64().expect("min") / 60.0;
        assert!((one["hours"].as_f64().expect("h") - hours).abs() < 0.006, "{file}");
        // The shipped studio allows 4 days in the post.
        let ready: jiff::civil::DateTime =
            summary["work"]["ready"].as_str().expect("a moment").parse().expect("a moment");
        let promised: jiff::civil::Date =
            one["promised"].as_str().expect("a day").parse().expect("a day");
        assert_eq!((promised - ready.date()).get_days(), 4, "{file}");
        // Three of them, half before work begins: in whole cents, by hand.
        let cents = |key: &str| -> i64 {
            one[key].as_str().expect("an amount").replace('.', "").parse().expect("digits")
        };
        assert_eq!(cents("price"), 3 * cents("price_each"));
        assert_eq!(cents("deposit"), (cents("price") + 1) / 2);
        assert_eq!(cents("deposit") + cents("rest"), cents("price"));
    }
    let count = |at: usize| {
        options[at]["stones"].as_f64().expect("stones")
            / options[2]["stones"].as_f64().expect("stones")
    };
    assert!(count(0) < count(1) && count(1) < 1.0, "{told}");
    let file = |letter: char| fs::read_to_string(room.path(&format!("q/option-{letter}.toml")));
    assert_eq!(file('c').expect("a piece"), two_bands(), "the whole design is the file as it is");
    assert!(!file('a').expect("a piece").contains("\"ground\""));
}

#[test]
fn the_customer_reads_prices_days_and_terms_and_no_hours_or_costs() {
    let room = room();
    let args = ["--for", "The boathouse", "--address", "Staithe Lane 2", "--date", "2026-07-02"];
    let told = quoted(&room, &args);
    let page = words(&room.path("q/quote.pdf"));
    let options = told["quote"]["options"].as_array().expect("options");
    for one in options {
        let price = format!("${}", one["price_each"].as_str().expect("an amount"));
        assert!(page.contains(&price), "{price} is not in: {page}");
    }
    for word in [
        "The boathouse",
        "Staithe Lane 2",
        "Marsh cup",
        "3 alike",
        "2026-07-02-cup",
        "valid until Thu 16 Jul 2026",
        "\u{201c}Reed\u{201d}",
        "a deposit of 50\u{a0}%".replace('\u{a0}', " ").as_str(),
        "Made by hand: a speck or a small bubble is no fault",
        "Accent",
        "Yes, please make it",
        "made-up example",
    ] {
        assert!(page.contains(word), "{word:?} is not in: {page}");
    }
    for word in ["hours", " h ", "cost", "wage", "profit", "materials"] {
        assert!(!page.contains(word), "{word:?} is in: {page}");
    }
    for letter in ['a', 'b', 'c'] {
        let picture = fs::read(room.path(&format!("q/option-{letter}.jpg"))).expect("a picture");
        assert!(picture.starts_with(b"\xff\xd8\xff") && picture.len() > 5000);
    }
}

#[test]
fn a_quote_is_the_same_again_and_its_columns_are_explained() {
    let room = room();
    let args = ["quote", "cup.toml", "--out", "q", "--options", "sizes=SS16,SS34"];
    room.run(&args).ended(0, &["Wrote q; quote.pdf is for the customer."]);
    let first = contents(&room.path("q"));
    let ran = room.run(&args);
    ran.ended(0, &["Replaced q"]);
    assert!(first == contents(&room.path("q")));
    for word in ["as drawn", "SS16", "SS34", "later than wanted"] {
        assert!(ran.stdout.contains(word), "{}", ran.stdout);
    }
    let table = fs::read_to_string(room.path("q/quote.csv")).expect("a table");
    assert_eq!(table.lines().count(), 4);
    let page = include_str!("../../../../docs/handbook/quote.md");
    for column in table.lines().next().expect("a header").split(',') {
        assert!(page.contains(&format!("`{column}`")), "{column} is not explained");
    }
    let schema = room.run(&["schema", "studio"]).stdout;
    let schema: Value = serde_json::from_str(&schema).expect("JSON");
    let keys = schema["$defs"]["QuoteFile"]["properties"].as_object().expect("keys");
    assert_eq!(keys.len(), 7);
    for key in keys.keys() {
        assert!(page.contains(&format!("| `{key}` |")), "{key} is not explained");
    }
}

#[test]
fn a_piece_offers_the_strengths_that_it_says() {
    let room = Room::new();
    let own = "\n[[strength]]\nname = \"foot\"\nstones = { band = \"0 %\", ground = \"50 %\" }\n";
    room.write("cup.toml", two_bands() + own);
    let told = quoted(&room, &[]);
    let options = told["quote"]["options"].as_array().expect("options");
    let list: Vec<&str> = options.iter().filter_map(|one| one["name"].as_str()).collect();
    assert_eq!(list, ["foot", "full"]);
    let text = fs::read_to_string(room.path("q/option-a.toml")).expect("a piece");
    assert!(!text.contains("\"band\"") && !text.contains("strength"), "{text}");
    assert!(text.contains("to = \"86 mm\""), "half of 66 to 106 mm: {text}");
    let wrong = |own: &str, words: &[&str]| {
        room.write("bad.toml", two_bands() + own);
        let ran = room.run(&["quote", "bad.toml", "--out", "bad"]);
        ran.ended(1, words);
    };
    let strength = |name: &str, stones: &str| {
        format!("\n[[strength]]\nname = \"{name}\"\nstones = {{ {stones} }}\n")
    };
    wrong(&strength("half", "grund = \"0 %\""), &["bad.toml:", "`grund`", "\"ground\""]);
    wrong(&strength("half", "word = \"0 %\""), &["no zone of stones called `word`"]);
    wrong(&strength("full", "band = \"0 %\""), &["`full` is the name of the whole design"]);
    wrong(&strength("none", "band = \"0 %\", ground = \"0 %\""), &["leaves no zone with stones"]);
    wrong(&strength("more", "band = \"120 %\""), &["at most 100 %"]);
    assert_eq!(room.names(), ["bad.toml", "cup.toml", "q"]);
}

#[test]
fn days_can_be_promised_beside_the_orders_in_hand() {
    let room = room();
    room.write("other.toml", two_bands().replace("quantity = 3", "quantity = 6"));
    let hours = |orders: &str| {
        room.write(
            "hours.toml",
            format!(
                "cupwright_hours = 1\ntime_zone = \"Europe/London\"\nbegin = 2026-07-01\nspindles = 2\n\
                 [[maker]]\nname = \"Sedge\"\n[maker.hours]\nmonday = [\"09:00-13:00\"]\n\
                 wednesday = [\"09:00-13:00\"]\n{orders}"
            ),
        );
        let told =
            quoted(&room, &["--hours", "hours.toml", "--options", "one", "--begin", "2026-07-06"]);
        told["quote"]["options"][0]["promised"].as_str().expect("a day").to_owned()
    };
    let alone = hours("");
    let beside = hours("[[order]]\nfile = \"other.toml\"\ndue = 2026-12-01\n");
    // Ready on a Monday or a Wednesday, and 4 days in the post.
    let day: jiff::civil::Date = alone.parse().expect("a day");
    let leaves = day.checked_sub(jiff::Span::new().days(4)).expect("a day").weekday();
    assert!(matches!(leaves, jiff::civil::Weekday::Monday | jiff::civil::Weekday::Wednesday));
    assert!(beside > alone, "six cups in hand take their time: {beside}, {alone}");
    room.run(&["quote", "cup.toml", "--hours", "none.toml", "--out", "x"]).ended(3, &["none.toml"]);
    room.write("bad.toml", "cupwright_hours = 1\n");
    room.run(&["quote", "cup.toml", "--hours", "bad.toml", "--out", "x"]).ended(1, &["bad.toml"]);
    assert!(!room.path("x").exists());
}

#[test]
fn what_has_one_strength_is_offered_as_it_is() {
    let room = Room::new();
    room.write(
        "bare.toml",
        SMALL.replace(
            "[zone.stones]\nlayout = \"rows\"\nsize = \"SS20\"\ncolour = \"foam\"",
            "paint = { colour = \"foam\", coats = 1 }",
        ),
    );
    let ran = room.run(&["quote", "bare.toml", "--out", "q"]);
    ran.ended(0, &[]);
    assert!(ran.stdout.contains("A  as drawn"), "{}", ran.stdout);
    assert!(words(&room.path("q/quote.pdf")).contains("What you get"));
    room.run(&["quote", "bare.toml", "--out", "r", "--options", "sizes=SS6"])
        .ended(2, &["no layout of this piece has stones of one size"]);
    assert_eq!(room.names(), ["bare.toml", "q"]);
}

#[test]
fn bad_command_lines_and_foreign_folders_are_refused() {
    let room = room();
    let refused = |args: &[&str], code: i32, words: &[&str]| {
        room.run(&[&["quote", "cup.toml"], args].concat()).ended(code, words);
    };
    refused(&["--out", "q", "--options", "colours"], 2, &["strengths, one, or sizes=SS6,SS10"]);
    refused(&["--out", "q", "--options", "sizes=SS7"], 2, &["SS7"]);
    refused(&["--out", "q", "--options", "sizes=2.3 mm"], 1, &["no price for 2.3 mm"]);
    let early = ["--out", "q", "--date", "2026-07-02", "--begin", "2026-07-01"];
    refused(&early, 2, &["cannot begin on 2026-07-01"]);
    refused(&["--out", "q", "--date", "2. July"], 2, &["YYYY-MM-DD"]);
    room.run(&["plan", "cup.toml", "--out", "plan"]).ended(0, &[]);
    let before = contents(&room.path("plan"));
    refused(&["--out", "plan"], 3, &["something else of Cupwright's in plan"]);
    assert!(before == contents(&room.path("plan")));
    room.write("mine/letter.txt", "dear");
    refused(&["--out", "mine"], 3, &["letter.txt"]);
    assert_eq!(names(&room.path("mine")), ["letter.txt"]);
    assert_eq!(room.names(), ["cup.toml", "mine", "plan"]);
}
