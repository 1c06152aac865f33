//! The sellers file: prices into minor units, names of sellers followed.

use super::Bench;
use super::bounds::Desk;
use super::wares::{needed_amount, ware};
use crate::file::scalars::Share;
use crate::file::sellers::{OfferFile, ParcelFile, PostageFile, SellerFile, SellersFile};
use crate::sellers::{Leftovers, Offer, Postage, Seller, Sellers};
use crate::settings::Currency;
use crate::units::shorten;
use crate::{FieldPath, Money, Ware};

/// The resolved sellers, which only count if `bench` holds no errors afterwards.
pub(crate) fn sellers(file: &SellersFile, currency: &Currency, bench: &mut Bench<'_>) -> Sellers {
    let root = FieldPath::root();
    let names: Vec<&str> = file.seller.iter().map(|seller| seller.name.0.as_str()).collect();
    bench.unique("seller", "seller", &names);
    let mut on = Desk { bench, minor_digits: currency.minor_digits };
    let list = root.key("seller");
    let sellers = file.seller.iter().enumerate();
    let sellers: Vec<Seller> =
        sellers.map(|(index, one)| seller(one, &list.index(index), currency, &mut on)).collect();
    let list = root.key("offer");
    let mut offers = Vec::with_capacity(file.offer.len());
    for (index, one) in file.offer.iter().enumerate() {
        offers.extend(offer(one, &list.index(index), (&names, &sellers), &mut on));
    }
    Sellers { sellers, offers, leftovers: leftovers(file, &mut on) }
}

fn leftovers(file: &SellersFile, on: &mut Desk<'_, '_>) -> Leftovers {
    let path = FieldPath::root().key("leftovers");
    let mut share = |key: &str, told: Option<Share>| {
        told.map_or(0.0, |share| on.share(&path.key(key), share, 1.0))
    };
    let file = &file.leftovers;
    Leftovers {
        stones: share("stones", file.stones),
        glue: share("glue", file.glue),
        resin: share("resin", file.resin),
        paint: share("paint", file.paint),
        glitter: share("glitter", file.glitter),
        film: share("film", file.film),
        supplies: share("supplies", file.supplies),
    }
}

fn seller(
    file: &SellerFile,
    path: &FieldPath,
    currency: &Currency,
    on: &mut Desk<'_, '_>,
) -> Seller {
    if let Some(code) = file.currency.as_ref().filter(|code| **code != currency.code) {
        on.bench.error_hint(
            &path.key("currency"),
            format!(
                "`{}` asks {}, and the studio reckons in {}: one bill cannot hold both",
                file.name.0,
                shorten(code),
                currency.code
            ),
            format!(
                "write its prices in {} at your bank's rate, or leave the seller out",
                currency.code
            ),
        );
    }
    let postage = match (&file.postage, &file.parcel) {
        (Some(tiers), None) => by_spend(tiers, &path.key("postage"), on),
        (None, Some(parcel)) => by_weight(parcel, &path.key("parcel"), on),
        (given, _) => {
            let message = match given {
                Some(_) => "postage goes either by what is spent or by weight",
                None => "what is the postage of this seller?",
            };
            on.bench.error_hint(
                path,
                message,
                "write one of postage = [{ cost = \"4.95\" }, { from = \"35.00\", cost = \"0.00\" }] and [seller.parcel]",
            );
            Postage::BySpend(vec![(Money::ZERO, Money::ZERO)])
        }
    };
    Seller {
        name: file.name.0.clone(),
        title: file.title.clone().unwrap_or_else(|| file.name.0.clone()),
        lead_days: file.lead_days,
        least_order: file
            .least_order
            .as_ref()
            .map_or(Money::ZERO, |least| on.money(&path.key("least_order"), least)),
        postage,
    }
}

fn by_spend(tiers: &[PostageFile], path: &FieldPath, on: &mut Desk<'_, '_>) -> Postage {
    let mut resolved: Vec<(Money, Money)> = Vec::with_capacity(tiers.len());
    for (index, tier) in tiers.iter().enumerate() {
        let at = path.index(index);
        let from = tier.from.as_ref().map_or(Money::ZERO, |from| on.money(&at.key("from"), from));
        let hint =
            "the first postage holds from nothing on, each further one from a higher `from` on";
        if index == 0 && from != Money::ZERO {
            on.bench.error_hint(&at.key("from"), "what is the postage below this?", hint);
        }
        if resolved.last().is_some_and(|(before, _)| *before >= from) {
            on.bench.error_hint(&at, "this postage begins no higher than the one before", hint);
        }
        resolved.push((from, on.money(&at.key("cost"), &tier.cost)));
    }
    Postage::BySpend(resolved)
}

fn by_weight(file: &ParcelFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Postage {
    let grams = |g: f64| format!("{g} g");
    Postage::ByWeight {
        first: on.money(&path.key("first"), &file.first),
        included_g: on.within(&path.key("includes"), file.includes.0, (0.0, 1e6), grams),
        step_g: on.within(&path.key("step"), file.step.0, (1.0, 1e6), grams),
        each: on.money(&path.key("each"), &file.each),
    }
}

/// `None` if nobody of this name sells.
fn offer(
    file: &OfferFile,
    path: &FieldPath,
    (names, sellers): (&[&str], &[Seller]),
    on: &mut Desk<'_, '_>,
) -> Option<Offer> {
    let holds = holds(file, path, on);
    let seller = on.bench.find(&path.key("seller"), "seller", &file.seller.0, names)?;
    let by_weight = matches!(sellers[seller].postage, Postage::ByWeight { .. });
    if by_weight && file.parcel_weight.is_none() {
        on.bench.error_hint(
            path,
            format!("`{}` asks postage by weight, and this pack has none", sellers[seller].name),
            "add what it weighs, such as parcel_weight = \"30 g\"",
        );
    }
    let parcel_g = file.parcel_weight.map_or(0.0, |weight| {
        on.within(&path.key("parcel_weight"), weight.0, (0.0, 1e6), |g| format!("{g} g"))
    });
    Some(Offer {
        seller,
        holds,
        price: file.price.as_ref().map(|price| on.money(&path.key("price"), price)),
        most: file.most,
        parcel_g,
        article: file.article.clone(),
    })
}

fn holds(file: &OfferFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Vec<(Ware, f64)> {
    match (&file.of, &file.holds) {
        (Some(of), None) => {
            let ware = ware(of, &path.key("of"), on.bench);
            let amount = needed_amount(file.content(), &ware, (path, true), on);
            vec![(ware, amount)]
        }
        (None, Some(list)) => {
            let content = file.content();
            if content.count.is_some() || content.volume.is_some() || content.weight.is_some() {
                on.bench.error_hint(
                    path,
                    "this pack is a kit, so its amounts stand in `holds`",
                    "write each amount beside its goods",
                );
            }
            let mut held: Vec<(Ware, f64)> = Vec::with_capacity(list.len());
            for (index, one) in list.iter().enumerate() {
                let at = path.key("holds").index(index);
                let ware = ware(&one.of, &at.key("of"), on.bench);
                if held.iter().any(|(other, _)| other.is(&ware)) {
                    let message = format!("{} stands in this kit twice", shorten(&ware.words()));
                    on.bench.error_hint(&at, message, "add both up");
                }
                let amount = needed_amount(one.content(), &ware, (&at, true), on);
                held.push((ware, amount));
            }
            held
        }
        (given, _) => {
            let message = match given {
                Some(_) => "a pack is told by `of` or by `holds`, not both",
                None => "what is in this pack?",
            };
            on.bench.error_hint(
                path,
                message,
                "write of = { goods = \"stones\", size = \"SS10\", colour = \"#12343b\" } and count = 144, or a list `holds` for a kit",
            );
            Vec::new()
        }
    }
}
