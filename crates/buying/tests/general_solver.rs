//! Orders against OR-Tools CP-SAT, which reads the rules anew (`bench/buying/reference.py`).

mod made_up;

use buying::{Book, Postage, Refusal, faults, solve};
use made_up::{Size, small, studio};
use serde_json::{Value, json};
use std::path::Path;
use std::process::Command;

/// A book as the general solver reads it.
fn written(book: &Book) -> Value {
    let sellers = book.sellers.iter().map(|seller| {
        let mut told = json!({ "least_order": seller.least_order, "arrives": seller.arrives });
        match &seller.postage {
            Postage::BySpend(tiers) => {
                let tiers: Vec<_> = tiers.iter().map(|tier| [tier.from, tier.postage]).collect();
                told["tiers"] = json!(tiers);
            }
            Postage::ByWeight { first, included_g, step_g, each } => {
                told["weight"] = json!([first, included_g, step_g, each]);
            }
        }
        told
    });
    let offers = book.offers.iter().map(|offer| {
        json!({
            "seller": offer.seller, "holds": offer.holds, "price": offer.price,
            "worth": offer.worth, "most": offer.most, "grams": offer.grams,
        })
    });
    let wants = book
        .wants
        .iter()
        .map(|want| json!({ "item": want.item, "amount": want.amount, "latest": want.latest }));
    json!({
        "one_lot": book.items.iter().map(|item| item.one_lot).collect::<Vec<_>>(),
        "sellers": sellers.collect::<Vec<_>>(),
        "offers": offers.collect::<Vec<_>>(),
        "wants": wants.collect::<Vec<_>>(),
    })
}

/// The least that the general solver finds; `None` if there is no order.
fn reference(book: &Book) -> Option<i64> {
    let root = Path::new(env!("CARGO_MANIFEST_DIR")).join("../..");
    let python = root.join(".tools/reference/bin/python");
    assert!(python.exists(), "the general solver is missing: run `make tools`");
    let folder = tempfile::tempdir().expect("a folder for the book");
    let path = folder.path().join("book.json");
    std::fs::write(&path, written(book).to_string()).expect("the folder can be written");
    let output = Command::new(python)
        .arg(root.join("bench/buying/reference.py"))
        .arg(&path)
        .output()
        .expect("Python can be called");
    let said = String::from_utf8_lossy(&output.stderr);
    assert!(output.status.success(), "the general solver gave up: {said}");
    let answer: Value = serde_json::from_slice(&output.stdout).expect("an answer");
    answer["net"].as_i64()
}

fn compare(book: &Book, name: &str) -> bool {
    let least = reference(book);
    match solve(book, 60.0) {
        Ok(order) => {
            assert_eq!(faults(book, &order), Vec::<String>::new(), "{name}");
            assert_eq!(Some(order.net()), least, "{name}: {order:?}");
            assert!(order.proven, "{name}: {order:?}");
            true
        }
        Err(Refusal::Unmet(_) | Refusal::Together) => {
            assert_eq!(least, None, "{name}");
            false
        }
        Err(refusal) => panic!("{name}: {refusal}"),
    }
}

#[test]
fn small_books_with_everything_in_them_cost_what_a_general_solver_finds() {
    let met = (1..=24).filter(|seed| compare(&small(*seed), &format!("small {seed}"))).count();
    assert!((6..=22).contains(&met), "{met} of 24 have an order");
}

#[test]
fn books_as_studios_have_them_cost_what_a_general_solver_finds() {
    for seed in 1..=6 {
        let size = Size { items: 6, packs: 4, sellers: 3, one_lot: 50, most: 60 };
        compare(&studio(seed, size), &format!("studio {seed}"));
    }
}
