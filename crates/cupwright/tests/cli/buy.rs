//! `cupwright buy`: what lacks, and from whom to buy it.

use crate::room::{Room, arg, example, names};
use serde_json::Value;
use std::fs;

/// The example, with what is on hand.
fn heron(more: &[&str]) -> Vec<String> {
    let paths = [example("heron-low-tide.toml"), example("stock.toml"), example("sellers.toml")];
    let [piece, stock, sellers] = paths.each_ref().map(|path| arg(path).to_owned());
    let mut line = vec!["buy".to_owned(), piece, "--stock".to_owned(), stock];
    line.extend(["--sellers".to_owned(), sellers]);
    line.extend(more.iter().map(|word| (*word).to_owned()));
    line
}

fn run(room: &Room, line: &[String]) -> crate::room::Ran {
    room.run(&line.iter().map(String::as_str).collect::<Vec<_>>())
}

#[test]
fn the_example_is_bought_with_a_proof_and_what_cannot_be_is_told() {
    let room = Room::new();
    let ran = run(&room, &heron(&["--out", "shop"]));
    // One size of one colour has no price and no other seller.
    ran.ended(1, &["cannot be bought: nobody sells it at a known price", "Wrote shop."]);
    for words in [
        "Reed Bank Stones: 4 days on the way",
        "Saltern Craft Supplies",
        "shown by the solver",
        "Price not known, so not bought: 144 stones: SS12 glass, rose foil",
        "near it: SS12 glass, #d4a094, CIEDE2000 ",
        "B-17",
        "too little for a piece in one lot",
        "Below its least: nitrile gloves",
        "In stock, and no piece here needs it: glitter 0.2 mm, old gold",
    ] {
        assert!(ran.stdout.contains(words), "no {words:?} in\n{}", ran.stdout);
    }
    let written = names(&room.path("shop"));
    for name in ["buying.csv", "from-stock.csv", "order-reed-bank.csv", "order-saltern.csv"] {
        assert!(written.iter().any(|found| found == name), "{written:?}");
    }
}

#[test]
fn tables_add_up_to_what_is_told() {
    let room = Room::new();
    let ran = run(&room, &heron(&["--out", "shop", "--json"]));
    let document: Value = serde_json::from_str(&ran.stdout).expect("JSON");
    assert_eq!(document["exit_code"], 1);
    let buying = &document["buying"];
    assert_eq!(buying["proven"], true);
    let cents = |text: &str| text.replace('.', "").parse::<i64>().expect("money");
    let mut sum = 0;
    for name in names(&room.path("shop")).iter().filter(|name| name.starts_with("order-")) {
        let table = fs::read_to_string(room.path("shop").join(name)).expect("a table");
        // The cost is the last but one column, and no article has a comma in it.
        sum += table
            .lines()
            .skip(1)
            .map(|row| cents(row.rsplit(',').nth(1).expect("cost")))
            .sum::<i64>();
    }
    assert_eq!(sum, cents(buying["total"].as_str().expect("a total")));
    for line in buying["goods"].as_array().expect("goods") {
        let figure = |key: &str| line[key].as_f64().expect("a figure");
        let balance = figure("need") - figure("from_stock") - figure("lacks");
        assert!(balance.abs() < 1e-6, "{line}");
    }
}

#[test]
fn the_same_files_give_the_same_bytes() {
    let room = Room::new();
    run(&room, &heron(&["--out", "one", "--quiet"])).ended(1, &[]);
    run(&room, &heron(&["--out", "two", "--quiet"])).ended(1, &[]);
    for name in names(&room.path("one")).iter().filter(|name| name.ends_with(".csv")) {
        let read = |folder: &str| fs::read(room.path(folder).join(name)).expect("a table");
        assert!(read("one") == read("two"), "{name}");
    }
}

#[test]
fn sellers_that_cannot_deliver_in_time_are_left_out() {
    let room = Room::new();
    let ran = run(&room, &heron(&["--on", "2027-03-01", "--by", "2027-03-06", "--json"]));
    let document: Value = serde_json::from_str(&ran.stdout).expect("JSON");
    let orders = document["buying"]["orders"].as_array().expect("orders");
    let of = |order: &Value| order["seller"].as_str().expect("a seller").to_owned();
    let sellers: Vec<String> = orders.iter().map(of).collect();
    // Tidewrack takes nine days.
    assert_eq!(sellers, ["reed-bank", "saltern"]);
    assert_eq!(orders[0]["order_by"], "2027-03-02");
    let late = run(&room, &heron(&["--on", "2027-03-05", "--by", "2027-03-06"]));
    late.ended(1, &["nobody delivers it in time; the earliest would be 2027-03-08"]);
}

#[test]
fn bad_files_are_refused_where_they_are_wrong() {
    let room = Room::new();
    let piece = example("frost-lid.toml");
    room.write("euro.toml", "cupwright_sellers = 1\n[[seller]]\nname = \"dune\"\nlead_days = 3\ncurrency = \"EUR\"\npostage = [{ cost = \"4.00\" }]\n");
    let ran = room.run(&["buy", arg(&piece), "--sellers", "euro.toml"]);
    ran.ended(1, &["`dune` asks EUR, and the studio reckons in USD", "euro.toml:5"]);
    room.write(
        "stock.toml",
        "cupwright_stock = 1\n[[lot]]\nof = { goods = \"glue\" }\nvolume = \"-3 ml\"\n",
    );
    let sellers = example("sellers.toml");
    let line = ["buy", arg(&piece), "--sellers", arg(&sellers), "--stock", "stock.toml"];
    room.run(&line).ended(1, &["stock.toml:4"]);
    let swapped = ["buy", arg(&piece), "--sellers", "stock.toml"];
    room.run(&swapped).ended(1, &["this is a stock file, not a sellers file"]);
    room.run(&["check", "euro.toml"]).ended(1, &["EUR"]);
    let twice = ["buy", arg(&piece), arg(&piece), "--sellers", arg(&sellers)];
    room.run(&twice).ended(2, &["two pieces would be called frost-lid"]);
}
