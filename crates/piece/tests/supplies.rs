//! What is read from stock and sellers files, and what is told of bad ones.

use ::piece::sellers::Postage;
use ::piece::settings::Currency;
use ::piece::{
    Money, Reading, Sellers, Severity, Shade, Source, Stock, Ware, read_sellers, read_stock,
};

const STOCK: &str = include_str!("../../../examples/stock.toml");
const SELLERS: &str = include_str!("../../../examples/sellers.toml");

fn dollars() -> Currency {
    Currency { code: "USD".to_owned(), sign: "$".to_owned(), minor_digits: 2 }
}

fn stock(text: &str) -> Reading<Stock> {
    read_stock(&Source::new("stock.toml", format!("cupwright_stock = 1\n{text}")))
}

fn sellers(text: &str) -> Reading<Sellers> {
    read_sellers(&Source::new("sellers.toml", format!("cupwright_sellers = 1\n{text}")), &dollars())
}

/// The first error of a file that is refused.
fn error<T>(reading: &Reading<T>) -> String {
    assert!(reading.value.is_none(), "it was taken");
    let mut errors = reading.diagnostics.iter().filter(|found| found.severity == Severity::Error);
    let first = errors.next().expect("an error");
    format!("{}: {} {}", first.path, first.message, first.hints.join(" "))
}

#[test]
fn the_examples_are_read() {
    let reading = read_stock(&Source::new("stock.toml", STOCK));
    assert_eq!(reading.diagnostics, []);
    let stock = reading.value.expect("stock");
    let ebb = &stock.lots[0];
    // 17.20 g at 1.95 g a hundred, each reading to 0.01 g: by hand 882.05, wrong by 2.65 at most.
    assert!((ebb.amount - 882.05).abs() < 0.01 && (ebb.uncertainty - 2.65).abs() < 0.05, "{ebb:?}");
    assert_eq!(ebb.relied_on(), 879.0);
    let resin = &stock.lots[3];
    assert_eq!(resin.expires.map(|day| day.to_string()).as_deref(), Some("2027-07-09"));
    let reading = read_sellers(&Source::new("sellers.toml", SELLERS), &dollars());
    assert_eq!(reading.diagnostics, []);
    let sellers = reading.value.expect("sellers");
    assert_eq!(sellers.sellers.len(), 3);
    let tiers = vec![(Money(0), Money(495)), (Money(3500), Money(0))];
    assert_eq!(sellers.sellers[0].postage, Postage::BySpend(tiers));
    let unpriced = sellers.offers.iter().filter(|offer| offer.price.is_none()).count();
    assert_eq!(unpriced, 1);
    assert!(sellers.offers.iter().any(|offer| offer.holds.len() == 4));
}

#[test]
fn colours_are_told_by_name_or_by_srgb() {
    let paint = |colour: &str| {
        let text = format!(
            "[[lot]]\nof = {{ goods = \"paint\", colour = \"{colour}\" }}\nvolume = \"3 ml\"\n"
        );
        stock(&text)
    };
    let ware = |colour: &str| paint(colour).value.expect("stock").lots[0].ware.clone();
    let shade = Shade { name: None, srgb: Some([0x12, 0x34, 0x3b]) };
    assert_eq!(ware("#12343b"), Ware::Paint { shade });
    let shade = Shade { name: Some("marsh night".to_owned()), srgb: None };
    assert_eq!(ware("marsh night"), Ware::Paint { shade });
    assert!(error(&paint("#1234")).starts_with("lot[0].of.colour: `#1234` is not a colour"));
}

#[test]
fn bad_stock_is_refused_where_it_is_wrong() {
    let stones = "[[lot]]\nof = { goods = \"stones\", size = \"SS10\", colour = \"foam\" }\n";
    for (rest, told) in [
        ("count = -5", "lot[0].count"),
        ("count = 3.5", "lot[0].count: 3.5 is no whole number of stones"),
        ("volume = \"3 ml\"", "lot[0].volume: SS10 glass, foam are measured by number"),
        ("", "lot[0]: how much is it?"),
        (
            "count = 4\nreserved = [{ piece = \"heron\", count = 5 }]",
            "lot[0].reserved: 5 stones are reserved of 4",
        ),
        ("hundred = \"1.9 g\"", "lot[0]: to count stones by weight, `bag` is needed too"),
        (
            "hundred = \"0.5 g\"\nbag = \"40 g\"",
            "lot[0].hundred: a scale that shows 0.1 g cannot tell 0.5 g",
        ),
        (
            "hundred = \"1.9 g\"\nbag = \"1 g\"\nempty = \"2 g\"",
            "lot[0].bag: the bag weighs 1 g, and 2 g when it is empty",
        ),
        (
            "count = 4\nhundred = \"1.9 g\"\nbag = \"1 g\"",
            "lot[0].count: this lot is counted and weighed",
        ),
        ("count = 4\nkeeps = \"30 days\"", "lot[0]: how long it keeps counts from the day"),
    ] {
        let error = error(&stock(&format!("{stones}{rest}\n")));
        assert!(error.starts_with(told), "{error}");
    }
    let missing = stock("[[lot]]\nof = { goods = \"stones\", colour = \"foam\" }\ncount = 3\n");
    assert!(error(&missing).starts_with("lot[0].of: stones need `size`"));
    let beside =
        stock("[[lot]]\nof = { goods = \"glue\", colour = \"foam\" }\nvolume = \"3 ml\"\n");
    assert!(
        error(&beside).starts_with("lot[0].of.colour: `colour` says nothing of goods = \"glue\"")
    );
    let twice = stock(
        "[[least]]\nof = { goods = \"glue\" }\nvolume = \"3 ml\"\n[[least]]\nof = { goods = \"glue\" }\nvolume = \"4 ml\"\n",
    );
    assert!(
        error(&twice).starts_with("least[1]: the least of clear glue for stones is told twice")
    );
}

#[test]
fn bad_sellers_are_refused_where_they_are_wrong() {
    let seller =
        |rest: &str| sellers(&format!("[[seller]]\nname = \"dune\"\nlead_days = 3\n{rest}\n"));
    for (rest, told) in [
        ("", "seller[0]: what is the postage of this seller?"),
        (
            "postage = [{ from = \"5.00\", cost = \"1.00\" }]",
            "seller[0].postage[0].from: what is the postage below this?",
        ),
        (
            "postage = [{ cost = \"4.00\" }, { from = \"0.00\", cost = \"1.00\" }]",
            "seller[0].postage[1]: this postage begins no higher",
        ),
        (
            "currency = \"EUR\"\npostage = [{ cost = \"4.00\" }]",
            "seller[0].currency: `dune` asks EUR, and the studio reckons in USD",
        ),
        (
            "postage = [{ cost = \"4.005\" }]",
            "seller[0].postage[0].cost: the amount has 3 digits after the point",
        ),
    ] {
        let error = error(&seller(rest));
        assert!(error.starts_with(told), "{error}");
    }
    let offer = |rest: &str| {
        let free = "postage = [{ cost = \"0.00\" }]";
        seller(&format!("{free}\n[[offer]]\nseller = \"dune\"\n{rest}"))
    };
    let glue = "of = { goods = \"glue\" }\n";
    for (rest, told) in [
        (format!("{glue}volume = \"0 ml\""), "offer[0].volume: 0 ml are not expected here"),
        ("of = { goods = \"film\", colour = \"foam\" }\ncount = 0".to_owned(), "offer[0].count"),
        (glue.to_owned(), "offer[0]: how much is it?"),
        (String::new(), "offer[0]: what is in this pack?"),
        (
            "holds = [{ of = { goods = \"glue\" }, volume = \"1 ml\" }, { of = { goods = \"glue\" }, volume = \"1 ml\" }]".to_owned(),
            "offer[0].holds[1]: clear glue for stones stands in this kit twice",
        ),
    ] {
        let error = error(&offer(&rest));
        assert!(error.starts_with(told), "{error}");
    }
    let nobody = offer("of = { goods = \"glue\" }\nvolume = \"1 ml\"").value.expect("sellers");
    assert_eq!(nobody.offers[0].price, None);
    let unknown =
        sellers("[[offer]]\nseller = \"dune\"\nof = { goods = \"glue\" }\nvolume = \"1 ml\"\n");
    assert!(error(&unknown).starts_with("offer[0].seller: there is no seller called `dune`"));
}
