//! How a price is made, where pieces are sold and with what tax, checked and brought into our units.

use crate::file::scalars::{Amount, Share};
use crate::file::settings::{ChannelFile, PricingFile, TaxFile, TaxHowFile, TaxRoundedFile};
use crate::resolve::bounds::Desk;
use crate::settings::{Channel, Pricing, Tax};
use crate::{FieldPath, Money};

/// Least share of a price that fees and tax must leave, so that a price can be found at all.
const LEAST_KEPT: f64 = 0.05;

pub(super) fn pricing(file: &PricingFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Pricing {
    let round_to = on.money(&path.key("round_to"), &file.round_to);
    if round_to == Money::ZERO {
        on.bench.error_hint(
            &path.key("round_to"),
            "prices cannot be rounded up to a multiple of nothing",
            "write at least the smallest coin, such as \"0.01\"",
        );
    }
    let pricing = Pricing {
        overhead_per_h: on.money(&path.key("overhead_per_h"), &file.overhead_per_h),
        failure: on.share(&path.key("failure"), file.failure, 0.9),
        profit: on.share(&path.key("profit"), file.profit, 10.0),
        fee_share: on.share(&path.key("fee"), file.fee, 0.9),
        fee_fixed: on.money(&path.key("fee_fixed"), &file.fee_fixed),
        round_to,
        endings: endings(file, path, round_to, on),
        channels: channels(&file.channel, &path.key("channel"), on),
        tax: file.tax.as_ref().map(|tax| self::tax(tax, &path.key("tax"), on)),
    };
    enough_kept(&pricing, path, on);
    pricing
}

fn endings(
    file: &PricingFile,
    path: &FieldPath,
    round_to: Money,
    on: &mut Desk<'_, '_>,
) -> Vec<Money> {
    let Some(typed) = &file.endings else { return vec![Money::ZERO] };
    let path = path.key("endings");
    let mut endings: Vec<Money> = Vec::new();
    for (index, amount) in typed.iter().enumerate() {
        let ending = on.money(&path.index(index), amount);
        if ending >= round_to && round_to > Money::ZERO {
            on.bench.error_hint(
                &path.index(index),
                "an ending is what a price has above a multiple of `round_to`, and so less than it",
                "write a smaller one, or a larger `round_to`",
            );
        }
        endings.push(ending);
    }
    endings.sort_unstable();
    endings.dedup();
    endings
}

fn channels(files: &[ChannelFile], path: &FieldPath, on: &mut Desk<'_, '_>) -> Vec<Channel> {
    let mut channels: Vec<Channel> = Vec::new();
    for (index, file) in files.iter().enumerate() {
        let path = path.index(index);
        if channels.iter().any(|known| known.name == file.name) {
            on.bench.error(&path.key("name"), "another channel has the same name");
        }
        let mut share = |key: &str, share: Option<Share>| {
            share.map_or(0.0, |share| on.share(&path.key(key), share, 0.9))
        };
        let (commission, card) = (share("commission", file.commission), share("card", file.card));
        let mut money = |key: &str, amount: &Option<Amount>| {
            amount.as_ref().map_or(Money::ZERO, |amount| on.money(&path.key(key), amount))
        };
        channels.push(Channel {
            name: file.name.clone(),
            commission,
            card,
            card_fixed: money("card_fixed", &file.card_fixed),
            order: money("order", &file.order),
            listing: money("listing", &file.listing),
        });
    }
    channels
}

fn tax(file: &TaxFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Tax {
    Tax {
        included: file.how == TaxHowFile::Included,
        rate: on.share(&path.key("rate"), file.rate, 1.0),
        by_line: file.rounded == TaxRoundedFile::Line,
    }
}

/// Complains of a channel whose fees, with the tax, leave next to nothing of any price.
fn enough_kept(pricing: &Pricing, path: &FieldPath, on: &mut Desk<'_, '_>) {
    let (added, included) = match pricing.tax {
        Some(tax) if tax.included => (0.0, tax.rate / (1.0 + tax.rate)),
        Some(tax) => (tax.rate, 0.0),
        None => (0.0, 0.0),
    };
    let mut check = |at: FieldPath, commission: f64, card: f64| {
        let kept = 1.0 - commission - card * (1.0 + added) - included;
        if kept < LEAST_KEPT {
            let message = format!(
                "fees and tax leave {} % of a price; no price can pay for a piece then",
                (kept * 1000.0).round() / 10.0
            );
            on.bench.error_hint(&at, message, "correct its shares, or the rate of the tax");
        }
    };
    check(path.key("fee"), pricing.fee_share, 0.0);
    for (index, channel) in pricing.channels.iter().enumerate() {
        check(path.key("channel").index(index), channel.commission, channel.card);
    }
}
