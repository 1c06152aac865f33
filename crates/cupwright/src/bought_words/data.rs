//! The same for a script.

use super::Outcome;
use money::{Unused, instead};
use serde_json::{Value, json};

/// Everything that came of it; amounts of money as text in the main unit, like those of the tables.
pub fn json(outcome: &Outcome) -> Value {
    let Outcome { lacks, bought, sellers, stock, settings, .. } = outcome;
    let currency = &settings.currency;
    let name = |seller: usize| sellers.sellers[seller].name.as_str();
    let goods = lacks.lines.iter().enumerate().map(|(index, line)| {
        let left = bought.left.iter().find(|left| left.line == index);
        json!({
            "item": line.item,
            "unit": line.unit,
            "need": line.need(),
            "from_stock": line.from_stock(),
            "lacks": line.lacks(),
            "refill": line.refill,
            "left_over": left.map_or(0.0, |left| left.amount),
            "left_over_worth": currency.number(left.map_or(piece::Money::ZERO, |left| left.worth)),
        })
    });
    let orders = bought.parcels.iter().map(|parcel| {
        let own =
            bought.bought.iter().filter(|one| sellers.offers[one.offer].seller == parcel.seller);
        let packs = own.map(|one| {
            let offer = &sellers.offers[one.offer];
            let holds = offer
                .holds
                .iter()
                .map(|(ware, amount)| json!({ "item": ware.words(), "amount": amount }));
            json!({
                "packs": one.packs,
                "holds": holds.collect::<Vec<_>>(),
                "article": offer.article,
                "price": offer.price.map(|price| currency.number(price)),
                "cost": currency.number(one.cost),
            })
        });
        json!({
            "seller": name(parcel.seller),
            "order_by": parcel.order_by.map(|day| day.to_string()),
            "arrives": parcel.arrives.map(|day| day.to_string()),
            "goods": currency.number(parcel.goods),
            "postage": currency.number(parcel.postage),
            "packs": packs.collect::<Vec<_>>(),
        })
    });
    let unbuyable = bought.unbuyable.iter().map(|one| {
        let line = &lacks.lines[one.line];
        let near = instead(&line.ware, sellers).into_iter().map(|near| {
            json!({
                "item": near.ware.words(),
                "seller": name(sellers.offers[near.offer].seller),
                "delta_e": near.delta_e,
            })
        });
        json!({
            "item": line.item,
            "piece": one.piece.map(|piece| &outcome.pieces[piece]),
            "why": one.why,
            "instead": near.collect::<Vec<_>>(),
        })
    });
    let taken = lacks.lines.iter().flat_map(|line| {
        line.taken.iter().map(|taken| {
            json!({
                "lot": taken.lot + 1,
                "label": stock.lots[taken.lot].label,
                "item": line.item,
                "amount": taken.amount,
                "piece": outcome.pieces[taken.piece],
            })
        })
    });
    let unused = lacks.unused.iter().map(|(lot, why)| {
        let (why, figure) = match why {
            Unused::Expired(day) => ("expires", json!(day.to_string())),
            Unused::Reserved(kept) => ("reserved", json!(kept)),
            Unused::TooLittle(there) => ("too little", json!(there)),
        };
        json!({ "lot": lot + 1, "item": stock.lots[*lot].ware.words(), "why": why, "figure": figure })
    });
    let below = lacks.shortfalls.iter().map(|short| {
        let least = &stock.least[short.least];
        json!({ "item": least.ware.words(), "least": least.amount, "left": short.left })
    });
    let pieces = outcome.pieces.iter().zip(&outcome.by);
    json!({
        "pieces": pieces.map(|(name, by)| json!({ "name": name, "by": by.map(|day| day.to_string()) })).collect::<Vec<_>>(),
        "currency": currency.code,
        "demo": settings.demo,
        "on": outcome.on.map(|day| day.to_string()),
        "goods": goods.collect::<Vec<_>>(),
        "orders": orders.collect::<Vec<_>>(),
        "total": currency.number(bought.goods + bought.postage),
        "net": currency.number(bought.net),
        "bound": currency.number(bought.bound),
        "proven": bought.proven,
        "cannot_be_bought": unbuyable.collect::<Vec<_>>(),
        "price_not_known": bought.unpriced.iter().map(|offer| offer + 1).collect::<Vec<_>>(),
        "from_stock": taken.collect::<Vec<_>>(),
        "left_in_stock": unused.collect::<Vec<_>>(),
        "below_least": below.collect::<Vec<_>>(),
        "not_needed_lots": lacks.idle.iter().map(|lot| lot + 1).collect::<Vec<_>>(),
    })
}
