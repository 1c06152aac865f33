//! Settings: amounts into minor units, spans of time into order.

use super::{Bench, stones::material};
use crate::file::scalars::{Amount, Length, Mass, Share, Stretch, Time, Volume};
use crate::file::settings::{
    HoursFile, LengthsFile, PaperFile, PricingFile, ResinProductFile, SettingsFile, SupplyPerFile,
    TimesFile,
};
use crate::settings::*;
use crate::{FieldPath, Money, Settings};

/// The resolved settings, which only count if `bench` holds no errors afterwards.
pub(crate) fn settings(file: &SettingsFile, bench: &mut Bench<'_>) -> Settings {
    let root = FieldPath::root();
    let currency = Currency {
        code: file.currency.code.clone(),
        sign: file.currency.sign.clone().unwrap_or_else(|| format!("{} ", file.currency.code)),
        minor_digits: file.currency.minor_digits,
    };
    if !currency.code.bytes().all(|byte| byte.is_ascii_uppercase()) {
        let message = format!("`{}` is not the code of a currency", currency.code);
        bench.error_hint(
            &root.key("currency").key("code"),
            message,
            "write three capital letters, such as \"USD\"",
        );
    }
    let mut on = Desk { bench, minor_digits: currency.minor_digits };
    let lip_mm = on.length(&root.key("lip"), file.lip, 0.0, 200.0);
    let spare =
        |on: &mut Desk<'_, '_>, key: &str, share: Share| on.share(&root.key(key), share, 1.0);
    Settings {
        studio: file.studio.clone(),
        demo: file.demo,
        paper: match file.paper {
            PaperFile::Letter => Paper::Letter,
            PaperFile::A4 => Paper::A4,
        },
        lengths: match file.lengths {
            LengthsFile::Millimetres => LengthUnit::Millimetres,
            LengthsFile::Inches => LengthUnit::Inches,
        },
        maker: maker(file, &mut on),
        resin: resin(&file.resin, &root.key("resin"), &mut on),
        paint: paint(file, &root.key("paint"), &mut on),
        glitter: glitter(file, &root.key("glitter"), &mut on),
        vinyl: vinyl(file, &root.key("vinyl"), &mut on),
        glue: glue(file, &root.key("glue"), &mut on),
        stones: stone_prices(file, &mut on),
        supplies: supplies(file, &mut on),
        times: times(&file.times, &root.key("times"), &mut on),
        pricing: pricing(&file.pricing, &root.key("pricing"), &mut on),
        spare_stones: spare(&mut on, "spare_stones", file.spare_stones),
        spare_materials: spare(&mut on, "spare_materials", file.spare_materials),
        lip_mm,
        currency,
    }
}

/// Turns typed values into ours and complains about those out of bounds.
struct Desk<'b, 'a> {
    bench: &'b mut Bench<'a>,
    minor_digits: u32,
}

impl Desk<'_, '_> {
    fn money(&mut self, path: &FieldPath, amount: &Amount) -> Money {
        let decimal = amount.0;
        if decimal.decimals > self.minor_digits {
            let message = format!(
                "the amount has {} digits after the point; this currency has {}",
                decimal.decimals, self.minor_digits
            );
            self.bench.error(path, message);
            return Money::ZERO;
        }
        Money(decimal.digits * 10_i64.pow(self.minor_digits - decimal.decimals))
    }

    fn length(&mut self, path: &FieldPath, length: Length, least_mm: f64, most_mm: f64) -> f64 {
        if !(least_mm..=most_mm).contains(&length.0) {
            self.bench.error(
                path,
                format!(
                    "{} mm is not expected here; it can be {least_mm} mm to {most_mm} mm",
                    length.0
                ),
            );
        }
        length.0
    }

    fn share(&mut self, path: &FieldPath, share: Share, most: f64) -> f64 {
        if share.0 > most {
            let (found, most) = (share.0 * 100.0, most * 100.0);
            self.bench.error(
                path,
                format!("{found:.1} % is not expected here; it can be 0 % to {most:.0} %"),
            );
        }
        share.0
    }

    fn time(&mut self, path: &FieldPath, time: Time) -> f64 {
        const YEAR_MIN: f64 = 365.0 * 1440.0;
        if time.0 > YEAR_MIN {
            self.bench.error(
                path,
                format!("{:.0} days is not expected here; it can be up to a year", time.0 / 1440.0),
            );
        }
        time.0
    }

    fn content(&mut self, path: &FieldPath, content: f64, unit: &str) -> f64 {
        if content <= 0.0 || content > 1e6 {
            self.bench.error(path, format!("{content} {unit} cannot be the content of a pack"));
        }
        content
    }

    fn volume(&mut self, path: &FieldPath, volume: Volume) -> f64 {
        self.content(path, volume.0, "ml")
    }

    fn mass(&mut self, path: &FieldPath, mass: Mass) -> f64 {
        self.content(path, mass.0, "g")
    }

    /// Complains unless the first time is before or at the second.
    fn in_order(&mut self, path: &FieldPath, earlier: (&str, Time), later: (&str, Time)) {
        if earlier.1.0 > later.1.0 {
            let message = format!(
                "`{}` is {} min and `{}` is {} min; it cannot be later",
                earlier.0, earlier.1.0, later.0, later.1.0
            );
            self.bench.error(&path.key(earlier.0), message);
        }
    }
}

fn maker(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Maker {
    let path = FieldPath::root().key("maker");
    let HoursFile { monday, tuesday, wednesday, thursday, friday, saturday, sunday } =
        &file.maker.hours;
    let days = [
        ("monday", monday),
        ("tuesday", tuesday),
        ("wednesday", wednesday),
        ("thursday", thursday),
        ("friday", friday),
        ("saturday", saturday),
        ("sunday", sunday),
    ];
    let hours = days.map(|(day, stretches)| day_hours(&path.key("hours").key(day), stretches, on));
    if hours.iter().all(Vec::is_empty) {
        on.bench.error_hint(
            &path.key("hours"),
            "no day of the week has working hours",
            "add at least one, such as monday = [\"18:00-21:30\"]",
        );
    }
    Maker {
        name: file.maker.name.clone(),
        wage_per_h: on.money(&path.key("wage_per_h"), &file.maker.wage_per_h),
        hours,
    }
}

fn day_hours(path: &FieldPath, stretches: &[Stretch], on: &mut Desk<'_, '_>) -> Vec<(u16, u16)> {
    let mut hours: Vec<(u16, u16)> = stretches.iter().map(|stretch| stretch.0).collect();
    hours.sort_unstable();
    if hours.windows(2).any(|pair| pair[1].0 < pair[0].1) {
        on.bench.error(path, "two stretches of this day overlap");
    }
    hours
}

fn resin(file: &ResinProductFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> ResinProduct {
    on.in_order(path, ("recoat_from", file.recoat_from), ("recoat_to", file.recoat_to));
    on.in_order(path, ("pot_life", file.pot_life), ("recoat_from", file.recoat_from));
    on.in_order(path, ("sandable", file.sandable), ("full_cure", file.full_cure));
    ResinProduct {
        name: file.name.clone(),
        ratio_by_volume: (file.ratio_by_volume[0], file.ratio_by_volume[1]),
        density_g_per_ml: (file.density_g_per_ml[0], file.density_g_per_ml[1]),
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        least_loss_ml: file.least_loss.0,
        pot_life_min: on.time(&path.key("pot_life"), file.pot_life),
        recoat_min: (
            on.time(&path.key("recoat_from"), file.recoat_from),
            on.time(&path.key("recoat_to"), file.recoat_to),
        ),
        turning_min: on.time(&path.key("turning"), file.turning),
        sandable_min: on.time(&path.key("sandable"), file.sandable),
        full_cure_min: on.time(&path.key("full_cure"), file.full_cure),
        kit_price: on.money(&path.key("kit_price"), &file.kit_price),
        kit_ml: on.volume(&path.key("kit"), file.kit),
    }
}

fn paint(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> PaintProduct {
    let file = &file.paint;
    PaintProduct {
        ml_per_m2: file.ml_per_m2,
        film_mm: on.length(&path.key("film"), file.film, 0.0, 2.0),
        between_coats_min: on.time(&path.key("between_coats"), file.between_coats),
        before_resin_min: on.time(&path.key("before_resin"), file.before_resin),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_ml: on.volume(&path.key("pack"), file.pack),
    }
}

fn glitter(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> GlitterProduct {
    let file = &file.glitter;
    GlitterProduct {
        g_per_m2: file.g_per_m2,
        shaker_times: file.shaker_times,
        flake_thickness_mm: on.length(
            &path.key("flake_thickness"),
            file.flake_thickness,
            0.001,
            2.0,
        ),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_g: on.mass(&path.key("pack"), file.pack),
    }
}

fn vinyl(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> VinylProduct {
    let file = &file.vinyl;
    VinylProduct {
        film_mm: on.length(&path.key("film"), file.film, 0.001, 2.0),
        sheet_width_mm: on.length(&path.key("sheet_width"), file.sheet_width, 10.0, 10_000.0),
        sheet_height_mm: on.length(&path.key("sheet_height"), file.sheet_height, 10.0, 100_000.0),
        sheet_price: on.money(&path.key("sheet_price"), &file.sheet_price),
        transfer_price: on.money(&path.key("transfer_price"), &file.transfer_price),
    }
}

fn glue(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> GlueProduct {
    let file = &file.glue;
    GlueProduct {
        bond_mm: on.length(&path.key("bond"), file.bond, 0.001, 5.0),
        dot_share: on.share(&path.key("dot"), file.dot, 1.5),
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        open_min: on.time(&path.key("open"), file.open),
        full_min: on.time(&path.key("full"), file.full),
        pack_price: on.money(&path.key("pack_price"), &file.pack_price),
        pack_ml: on.volume(&path.key("pack"), file.pack),
    }
}

fn stone_prices(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Vec<StonePrice> {
    let root = FieldPath::root().key("stone");
    let mut prices: Vec<StonePrice> = Vec::new();
    for (index, one) in file.stone.iter().enumerate() {
        let path = root.index(index);
        let price = StonePrice {
            material: material(one.material),
            size: one.size.0.name.clone(),
            pack: one.pack,
            pack_price: on.money(&path.key("pack_price"), &one.pack_price),
            set_per_h: one.set_per_h,
        };
        // The same size may come in several packs, never twice in the same one.
        let same = |other: &StonePrice| {
            other.material == price.material && other.size == price.size && other.pack == price.pack
        };
        if prices.iter().any(same) {
            let message =
                format!("there are two prices for {} in packs of {}", price.size, price.pack);
            on.bench.error_hint(&path, message, "keep the one that holds");
        }
        prices.push(price);
    }
    prices
}

fn supplies(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Vec<Supply> {
    let root = FieldPath::root().key("supply");
    let one = |(index, one): (usize, &crate::file::settings::SupplyFile)| Supply {
        name: one.name.clone(),
        per: match one.per {
            SupplyPerFile::Piece => SupplyPer::Piece,
            SupplyPerFile::Body => SupplyPer::Body,
            SupplyPerFile::Lid => SupplyPer::Lid,
            SupplyPerFile::Topper => SupplyPer::Topper,
            SupplyPerFile::Pour => SupplyPer::Pour,
            SupplyPerFile::Sanding => SupplyPer::Sanding,
        },
        amount: one.amount,
        unit: one.unit.clone(),
        pack_price: on.money(&root.index(index).key("pack_price"), &one.pack_price),
        pack: one.pack,
    };
    file.supply.iter().enumerate().map(one).collect()
}

fn times(file: &TimesFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Times {
    let mut min = |key: &str, time: Time| on.time(&path.key(key), time);
    let times = Times {
        prepare_min: min("prepare", file.prepare),
        mask_min: min("mask", file.mask),
        paint_coat_min: min("paint_coat", file.paint_coat),
        glitter_min: min("glitter", file.glitter),
        pour_min: min("pour", file.pour),
        watch_min: min("watch", file.watch),
        sand_min: min("sand", file.sand),
        vinyl_zone_min: min("vinyl_zone", file.vinyl_zone),
        vinyl_shape_min: min("vinyl_shape", file.vinyl_shape),
        vinyl_rest_min: min("vinyl_rest", file.vinyl_rest),
        sitting_setup_min: min("sitting_setup", file.sitting_setup),
        sitting_min: min("sitting", file.sitting),
        finish_min: min("finish", file.finish),
        pack_min: min("pack", file.pack),
        order_min: min("order", file.order),
        delivery_days: file.delivery_days,
        post_days: file.post_days,
    };
    if times.sitting_min <= times.sitting_setup_min {
        let message = format!(
            "the longest sitting is {} min, of which laying out takes {} min: no time is left to set stones",
            times.sitting_min, times.sitting_setup_min
        );
        on.bench.error(&path.key("sitting"), message);
    }
    times
}

fn pricing(file: &PricingFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Pricing {
    let round_to = on.money(&path.key("round_to"), &file.round_to);
    if round_to == Money::ZERO {
        on.bench.error_hint(
            &path.key("round_to"),
            "prices cannot be rounded up to a multiple of nothing",
            "write at least the smallest coin, such as \"0.01\"",
        );
    }
    Pricing {
        overhead_per_h: on.money(&path.key("overhead_per_h"), &file.overhead_per_h),
        failure: on.share(&path.key("failure"), file.failure, 0.9),
        profit: on.share(&path.key("profit"), file.profit, 10.0),
        fee_share: on.share(&path.key("fee"), file.fee, 0.9),
        fee_fixed: on.money(&path.key("fee_fixed"), &file.fee_fixed),
        round_to,
    }
}
