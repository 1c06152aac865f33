//! `cupwright order` and `cupwright papers`: an accepted quote, frozen, and what goes out with it.

use crate::quoting::{two_bands, words};
use crate::room::{Room, contents, example};
use serde_json::Value;
use std::fs;

/// A quote `q` of a cup, and an order `o` of its option B.
fn ordered() -> Room {
    let room = Room::new();
    room.write("cup.toml", two_bands());
    let quote =
        ["quote", "cup.toml", "--for", "The boathouse", "--begin", "2026-07-10", "--out", "q"];
    room.run(&quote).ended(0, &[]);
    let order = ["order", "q", "--option", "b", "--date", "2026-07-03", "--out", "o"];
    room.run(&order).ended(0, &["Wrote o; plan it from o/piece.toml."]);
    room
}

fn record(room: &Room) -> Value {
    serde_json::from_slice(&fs::read(room.path("q/quote.json")).expect("a record")).expect("JSON")
}

#[test]
fn a_frozen_piece_gives_the_stones_that_were_agreed() {
    let room = ordered();
    let plan = |piece: &str, out: &str| {
        let args = ["plan", piece, "--studio", "o/studio.toml", "--out", out];
        room.run(&args).ended(0, &[]);
        fs::read(room.path(out).join("stones.csv")).expect("a table")
    };
    let quoted = plan("q/option-b.toml", "pq");
    // The maker goes on working at the file, and it is the frozen one that counts.
    room.write("cup.toml", two_bands().replace("SS20", "SS16"));
    let agreed = plan("o/piece.toml", "po");
    assert!(quoted == agreed);
    assert!(agreed != plan("cup.toml", "pc"));
    let told = room.run(&["order", "o"]);
    told.ended(0, &[]);
    assert!(told.stdout.contains("as they were agreed"), "{}", told.stdout);
}

#[test]
fn an_order_tells_what_was_agreed_and_what_is_still_to_be_paid() {
    let room = ordered();
    let option = record(&room)["options"][1].clone();
    let agreed = |room: &Room| -> Value {
        let ran = room.run(&["order", "o", "--json"]);
        ran.ended(0, &[]);
        serde_json::from_str::<Value>(&ran.stdout).expect("JSON")["agreed"].clone()
    };
    let told = agreed(&room);
    for key in ["price_each", "price", "deposit", "stones", "promised"] {
        assert_eq!(told[key], option[key], "{key}");
    }
    assert_eq!(told["rest"], told["price"]);
    let deposit = option["deposit"].as_str().expect("an amount");
    let file = fs::read_to_string(room.path("o/order.toml")).expect("an order");
    let paid = format!("{file}\n[[paid]]\nday = 2026-07-04\namount = \"{deposit}\"\n");
    room.write("o/order.toml", &paid);
    let told = agreed(&room);
    assert_eq!((&told["paid"], &told["rest"]), (&option["deposit"], &option["rest"]));
    room.write("o/order.toml", paid.replace("2026-07-04", "2026-07-44"));
    room.run(&["order", "o"]).ended(1, &["o/order.toml:", "2026-07-44"]);
    let schema: Value = serde_json::from_str(&room.run(&["schema", "order"]).stdout).expect("JSON");
    let page = include_str!("../../../../docs/handbook/order-papers.md");
    for key in schema["properties"].as_object().expect("keys").keys() {
        let forms = [format!("`{key}`"), format!("`[[{key}]]`")];
        assert!(forms.iter().any(|form| page.contains(form)), "{key} is not explained");
    }
}

#[test]
fn later_acceptance_moves_the_promise_and_is_told() {
    let room = ordered();
    let option = record(&room)["options"][0].clone();
    let late =
        ["order", "q", "--option", "accent", "--date", "2026-07-20", "--out", "late", "--json"];
    let ran = room.run(&late);
    ran.ended(0, &[]);
    let told: Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let day = |of: &Value| of.as_str().expect("a day").parse::<jiff::civil::Date>().expect("a day");
    // Counted from the 10th, accepted on the 20th.
    let moved = day(&told["agreed"]["promised"]) - day(&option["promised"]);
    assert_eq!(moved.get_days(), 10);
    room.run(&["order", "q", "--option", "A", "--date", "2026-07-20", "--out", "later"])
        .ended(0, &["the quote was valid until 2026-07-15"]);
}

#[test]
fn a_change_since_is_noticed_and_named() {
    let room = ordered();
    room.run(&["order", "o", "--piece", "cup.toml"]).ended(0, &[]);
    let changed = two_bands()
        .replace(
            "size = \"SS20\", colour = \"ebb\"",
            "size = \"SS20\", colour = \"ebb\", gap = \"0.2 mm\"",
        )
        .replace("text = \"Reed\"", "text = \"Read\"");
    room.write("cup.toml", format!("# mine\n{changed}"));
    let ran = room.run(&["order", "o", "--piece", "cup.toml"]);
    ran.ended(1, &[]);
    for words in [
        "differs from what was agreed",
        "zone.ground.stones.gap: is new, \"0.2 mm\"",
        "zone.word.lettering.text: was \"Reed\", is \"Read\"",
    ] {
        assert!(ran.stdout.contains(words), "{words} is not in: {}", ran.stdout);
    }
    let piece = fs::read_to_string(room.path("o/piece.toml")).expect("a piece");
    room.write("o/piece.toml", piece.replace("SS30", "SS20"));
    room.run(&["order", "o"])
        .ended(1, &["o/piece.toml", "not the file that was agreed", "checksum"]);
    room.run(&["papers", "o", "--out", "p"]).ended(1, &["not the file that was agreed"]);
    assert_eq!(room.names(), ["cup.toml", "o", "q"]);
}

#[test]
fn only_what_was_offered_can_be_ordered_and_no_order_is_written_over() {
    let room = ordered();
    let before = contents(&room.path("o"));
    let refused = |args: &[&str], code: i32, words: &[&str]| {
        room.run(&[&["order", "q"], args].concat()).ended(code, words);
    };
    refused(&["--option", "b", "--out", "o"], 3, &["there is an order in o"]);
    assert!(before == contents(&room.path("o")));
    refused(
        &["--option", "D", "--out", "d"],
        2,
        &["no option `D`", "A (accent), B (half), C (full)"],
    );
    refused(&["--option", "a", "--date", "2026-06-30", "--out", "d"], 2, &["2026-06-30"]);
    refused(&[], 2, &["q is the folder of a quote", "--option"]);
    refused(&["--option", "a"], 2, &["--out"]);
    let path = room.path("q/option-a.toml");
    let text = fs::read_to_string(&path).expect("a piece");
    fs::write(&path, text + "\n# more\n").expect("written");
    refused(&["--option", "a", "--out", "d"], 3, &["q/option-a.toml was changed since the quote"]);
    room.write("q/quote.json", "{ \"cupwright_quote\": 1 }");
    refused(&["--option", "a", "--out", "d"], 3, &["q/quote.json is damaged", "`options`"]);
    room.run(&["order", "nothing"]).ended(3, &["there is no order in nothing"]);
    assert_eq!(room.names(), ["cup.toml", "o", "q"]);
}

#[test]
fn art_comes_along_into_quote_and_order() {
    let room = Room::new();
    for name in ["tern-topper.toml", "tern.svg"] {
        room.write(&format!("mine/{name}"), fs::read(example(name)).expect("an example"));
    }
    room.run(&["quote", "mine/tern-topper.toml", "--options", "one", "--out", "q"]).ended(0, &[]);
    room.run(&["order", "q", "--option", "as drawn", "--out", "o"]).ended(0, &[]);
    assert!(room.path("o/tern.svg").exists());
    room.run(&["plan", "o/piece.toml", "--out", "p"]).ended(0, &[]);
    room.write("below/art/tern.svg", fs::read(example("tern.svg")).expect("an example"));
    let text = fs::read_to_string(example("tern-topper.toml")).expect("an example");
    room.write("below/tern.toml", text.replace("\"tern.svg\"", "\"art/tern.svg\""));
    room.run(&["quote", "below/tern.toml", "--out", "r"])
        .ended(3, &["art/tern.svg lies in a folder"]);
}

#[test]
fn invoice_slip_and_cards_say_what_they_should_and_no_more() {
    let room = ordered();
    let option = record(&room)["options"][1].clone();
    let amount = |key: &str| option[key].as_str().expect("an amount").to_owned();
    let file = fs::read_to_string(room.path("o/order.toml")).expect("an order");
    let paid = format!("{file}\n[[paid]]\nday = 2026-07-04\namount = \"{}\"\n", amount("deposit"));
    room.write("o/order.toml", paid);
    let args = ["papers", "o", "--invoice", "2026-014", "--date", "2026-08-10", "--out", "p"];
    room.run(&args).ended(0, &["Wrote p: invoice.pdf, packing-slip.pdf, care-cards.pdf."]);
    let invoice = words(&room.path("p/invoice.pdf"));
    for word in [
        "2026-014".to_owned(),
        "The boathouse".to_owned(),
        "Marsh cup".to_owned(),
        format!("${}", amount("price")),
        format!("${}", amount("rest")),
        "Paid on Sat 4 Jul 2026, with thanks".to_owned(),
        "Due by Mon 24 Aug 2026".to_owned(),
        "No sales tax is charged".to_owned(),
    ] {
        assert!(invoice.contains(&word), "{word} is not in: {invoice}");
    }
    let table = fs::read_to_string(room.path("p/invoice.csv")).expect("a table");
    let mut lines = table.lines();
    let row =
        lines.next().expect("a header").split(',').zip(lines.next().expect("a row").split(','));
    let page = include_str!("../../../../docs/handbook/order-papers.md");
    for (column, value) in row {
        assert!(page.contains(&format!("`{column}`")), "{column} is not explained");
        match column {
            "paid" => assert_eq!(value, amount("deposit")),
            "rest" | "price" | "price_each" => assert_eq!(value, amount(column)),
            "pay_by" => assert_eq!(value, "2026-08-24"),
            _ => {}
        }
    }
    let slip = words(&room.path("p/packing-slip.pdf"));
    for word in ["The boathouse", "3 alike", "spare stones", "\u{201c}Reed\u{201d}", "Packed by"] {
        assert!(slip.contains(word), "{word} is not in: {slip}");
    }
    assert!(!slip.contains('$') && !slip.contains("price"), "{slip}");
    let cards = words(&room.path("p/care-cards.pdf"));
    assert_eq!(cards.matches("To keep it well").count(), 3, "one for each piece");
    for word in ["Small parts: not for children under 3", "data sheet", "law", "press, do not pick"]
    {
        assert!(cards.contains(word), "{word} is not in: {cards}");
    }
    let first = contents(&room.path("p"));
    room.run(&args).ended(0, &["Replaced p"]);
    assert!(first == contents(&room.path("p")));
    room.run(&["papers", "o", "--date", "2026-08-10", "--out", "without"])
        .ended(0, &["Wrote without: packing-slip.pdf"]);
    assert!(!room.path("without/invoice.pdf").exists());
    room.run(&["papers", "o", "--date", "2026-07-01", "--out", "x"]).ended(2, &["2026-07-03"]);
    room.run(&["papers", "o", "--out", "o"]).ended(3, &["o"]);
}
