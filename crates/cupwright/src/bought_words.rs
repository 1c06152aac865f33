//! What to buy, in words and as data.

mod data;
mod table;

pub use data::json;

use jiff::civil::Date;
use money::{Lacks, Purchase, Unused, instead};
use piece::{Diagnostic, FieldPath, Sellers, Settings, Stock, Ware};
use std::fmt::Write;
use table::table;
use work::words::count;

/// Everything that came of it.
pub struct Outcome {
    /// Names of the pieces.
    pub pieces: Vec<String>,
    /// Day on which the goods of each must be there.
    pub by: Vec<Option<Date>>,
    /// What they need, have and lack.
    pub lacks: Lacks,
    /// What to buy.
    pub bought: Purchase,
    /// Who sells.
    pub sellers: Sellers,
    /// What is on hand.
    pub stock: Stock,
    /// The studio.
    pub settings: Settings,
    /// Day of ordering.
    pub on: Option<Date>,
}

impl Outcome {
    /// For the sheets.
    pub fn sheet(&self) -> sheets::PurchaseSheet<'_> {
        sheets::PurchaseSheet {
            pieces: &self.pieces,
            lacks: &self.lacks,
            bought: &self.bought,
            sellers: &self.sellers,
            stock: &self.stock,
            currency: &self.settings.currency,
        }
    }
}

/// An amount without needless zeros.
fn amount(value: f64) -> String {
    let rounded = (value * 100.0).round() / 100.0;
    format!("{rounded}")
}

/// Errors about what cannot be bought.
pub fn unbuyable(lacks: &Lacks, bought: &Purchase, names: &[String]) -> Vec<Diagnostic> {
    let told = bought.unbuyable.iter().map(|one| {
        let line = &lacks.lines[one.line];
        let needed = line.needed.iter().find(|needed| Some(needed.piece) == one.piece);
        let (lacking, whom) = match (needed, one.piece) {
            (Some(needed), Some(piece)) => (needed.lacks, format!(" for {}", names[piece])),
            _ => (line.refill, " to refill stock".to_owned()),
        };
        let message = format!(
            "{} {} of {}{whom} cannot be bought: {}",
            amount(lacking),
            line.unit,
            line.item,
            one.why
        );
        Diagnostic::error(FieldPath::root(), message).hint(
            "add an offer that can be had in time, or take another colour or size: the report names the nearest",
        )
    });
    told.collect()
}

/// For a person.
pub fn text(outcome: &Outcome) -> String {
    let Outcome { lacks, bought, settings, .. } = outcome;
    let currency = &settings.currency;
    let mut text = String::new();
    let lacking = lacks.lines.iter().filter(|line| line.lacks() + line.refill > 0.0).count();
    // Writing to a string does not fail.
    let _ = writeln!(
        text,
        "{} need{} {}; {lacking} of them lack.",
        outcome.pieces.join(", "),
        if outcome.pieces.len() == 1 { "s" } else { "" },
        count(lacks.lines.len(), "kind") + " of goods",
    );
    if settings.demo {
        text.push_str("Needs are worked out with made-up example settings.\n");
    }
    orders(&mut text, outcome);
    if bought.bought.is_empty() {
        text.push_str("\nNothing is to be ordered.\n");
    } else {
        let left: piece::Money = bought.left.iter().map(|left| left.worth).sum();
        let _ = writeln!(
            text,
            "\nIn all {}: goods {}, postage {}. What is left over is worth {}.",
            currency.show(bought.goods + bought.postage),
            currency.show(bought.goods),
            currency.show(bought.postage),
            currency.show(left)
        );
        let _ = writeln!(text, "{}", proof(outcome));
    }
    cannot(&mut text, outcome);
    unpriced(&mut text, outcome);
    from_stock(&mut text, outcome);
    text
}

/// How good the order is.
fn proof(outcome: &Outcome) -> String {
    let (bought, currency) = (&outcome.bought, &outcome.settings.currency);
    if bought.proven {
        "No other order of these offers costs less, leftovers counted: shown by the solver."
            .to_owned()
    } else {
        format!(
            "Time ran out: an order that costs less by up to {} may exist.",
            currency.show(bought.net - bought.bound)
        )
    }
}

fn orders(text: &mut String, outcome: &Outcome) {
    let (bought, sellers) = (&outcome.bought, &outcome.sellers);
    let currency = &outcome.settings.currency;
    for parcel in &bought.parcels {
        let seller = &sellers.sellers[parcel.seller];
        let by = parcel.order_by.map_or_else(String::new, |day| format!(", order by {day}"));
        let arrives = parcel.arrives.map_or_else(String::new, |day| format!(", there on {day}"));
        let days = count(seller.lead_days as usize, "day");
        let _ = writeln!(text, "\n{}: {days} on the way{by}{arrives}", seller.title);
        let own =
            bought.bought.iter().filter(|one| sellers.offers[one.offer].seller == parcel.seller);
        let rows: Vec<[String; 5]> = own
            .map(|one| {
                let offer = &sellers.offers[one.offer];
                [
                    one.packs.to_string(),
                    contents(outcome, one.offer),
                    offer.article.clone().unwrap_or_default(),
                    offer.price.map(|price| currency.show(price)).unwrap_or_default(),
                    currency.show(one.cost),
                ]
            })
            .collect();
        let heads = ["packs", "each holds", "article", "price", "cost"];
        table(text, &heads, &rows, &[0, 3, 4]);
        let _ = writeln!(
            text,
            "  goods {}, postage {}",
            currency.show(parcel.goods),
            currency.show(parcel.postage)
        );
    }
}

/// What a pack holds: `144 stones: SS10 glass, foam`.
fn contents(outcome: &Outcome, offer: usize) -> String {
    let held = outcome.sellers.offers[offer].holds.iter().map(|(ware, content)| {
        let line = outcome.lacks.lines.iter().find(|line| line.ware.is(ware));
        let unit = line.map_or_else(|| ware.unit().unwrap_or("each"), |line| line.unit.as_str());
        let name = line.map_or_else(|| ware.words(), |line| line.item.clone());
        let unit = if *content == 1.0 { unit.trim_end_matches('s') } else { unit };
        match unit {
            "each" => format!("{}: {name}", amount(*content)),
            _ => format!("{} {unit}: {name}", amount(*content)),
        }
    });
    held.collect::<Vec<_>>().join("; ")
}

fn cannot(text: &mut String, outcome: &Outcome) {
    let mut told: Vec<&Ware> = Vec::new();
    for one in &outcome.bought.unbuyable {
        let line = &outcome.lacks.lines[one.line];
        if told.iter().any(|ware| ware.is(&line.ware)) {
            continue;
        }
        told.push(&line.ware);
        let _ = writeln!(text, "\nCannot be bought: {}, {}", line.item, one.why);
        for near in instead(&line.ware, &outcome.sellers) {
            let seller = &outcome.sellers.sellers[outcome.sellers.offers[near.offer].seller].title;
            let how = match near.delta_e {
                Some(delta_e) => format!("CIEDE2000 {delta_e:.1} away"),
                None => "the same colour in the next size".to_owned(),
            };
            let _ = writeln!(text, "  near it: {}, {how}, from {seller}", near.ware.words());
        }
        if matches!(line.ware, Ware::Stones { .. }) {
            text.push_str(
                "  `cupwright compare PIECE.toml --sizes …` lays a zone in other sizes.\n",
            );
        }
    }
}

fn unpriced(text: &mut String, outcome: &Outcome) {
    for offer in &outcome.bought.unpriced {
        let seller = &outcome.sellers.sellers[outcome.sellers.offers[*offer].seller].title;
        let holds = contents(outcome, *offer);
        let _ = writeln!(text, "\nPrice not known, so not bought: {holds}, from {seller}");
    }
}

fn from_stock(text: &mut String, outcome: &Outcome) {
    let (lacks, stock) = (&outcome.lacks, &outcome.stock);
    let label = |lot: usize| {
        let told = &stock.lots[lot];
        told.label.clone().unwrap_or_else(|| format!("lot {}", lot + 1))
    };
    let rows: Vec<[String; 4]> = lacks
        .lines
        .iter()
        .flat_map(|line| line.taken.iter().map(move |taken| (line, taken)))
        .map(|(line, taken)| {
            [
                format!("{} {}", amount(taken.amount), line.unit),
                line.item.clone(),
                label(taken.lot),
                outcome.pieces[taken.piece].clone(),
            ]
        })
        .collect();
    if !rows.is_empty() {
        text.push_str("\nFrom stock\n");
        table(text, &["amount", "of", "lot", "for"], &rows, &[0]);
    }
    for (lot, why) in &lacks.unused {
        let why = match why {
            Unused::Expired(day) => format!("may be used until {day}, before it is needed"),
            Unused::Reserved(kept) => format!("has {} kept for other pieces", amount(*kept)),
            Unused::TooLittle(there) => {
                format!("has {}, too little for a piece in one lot", amount(*there))
            }
        };
        let _ = writeln!(
            text,
            "Left in stock: {} of {}, {why}",
            label(*lot),
            stock.lots[*lot].ware.words()
        );
    }
    for short in &lacks.shortfalls {
        let least = &stock.least[short.least];
        let _ = writeln!(
            text,
            "Below its least: {}, {} left of {}{}",
            least.ware.words(),
            amount(short.left),
            amount(least.amount),
            if lacks.lines.iter().any(|line| line.refill > 0.0 && line.ware.is(&least.ware)) {
                ", bought beside"
            } else {
                "; `--refill` buys it too"
            }
        );
    }
    if !lacks.idle.is_empty() {
        let names: Vec<String> =
            lacks.idle.iter().map(|lot| stock.lots[*lot].ware.words()).collect();
        let _ = writeln!(text, "In stock, and no piece here needs it: {}", names.join("; "));
    }
}
