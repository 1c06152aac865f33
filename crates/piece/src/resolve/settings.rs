//! Settings: amounts into minor units, spans of time into order.

mod pricing;

use pricing::{pricing, supplies, times};

use super::bounds::{Desk, LEAST_SETTING_MIN, span};
use super::{Bench, stones::material};
use crate::file::scalars::{Length, Share, Stretch, Time};
use crate::file::settings::{
    HoursFile, LengthsFile, PaperFile, PricingFile, ResinProductFile, SettingsFile, SupplyPerFile,
    TimesFile, WeedingFile,
};
use crate::film::Weeding;
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
        drawer: drawer(file, on.bench),
        supplies: supplies(file, &mut on),
        times: times(&file.times, &root.key("times"), &mut on),
        pricing: pricing(&file.pricing, &root.key("pricing"), &mut on),
        spare_stones: spare(&mut on, "spare_stones", file.spare_stones),
        spare_materials: spare(&mut on, "spare_materials", file.spare_materials),
        lip_mm,
        currency,
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
        least_loss_ml: on.within(&path.key("least_loss"), file.least_loss.0, (0.0, 1000.0), |ml| {
            format!("{ml} ml")
        }),
        pot_life_min: on.wait(&path.key("pot_life"), file.pot_life, 1.0),
        recoat_min: (
            on.wait(&path.key("recoat_from"), file.recoat_from, 0.0),
            on.wait(&path.key("recoat_to"), file.recoat_to, 0.0),
        ),
        turning_min: on.wait(&path.key("turning"), file.turning, 0.0),
        sandable_min: on.wait(&path.key("sandable"), file.sandable, 0.0),
        full_cure_min: on.wait(&path.key("full_cure"), file.full_cure, 0.0),
        kit_price: on.money(&path.key("kit_price"), &file.kit_price),
        kit_ml: on.volume(&path.key("kit"), file.kit),
    }
}

fn paint(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> PaintProduct {
    let file = &file.paint;
    PaintProduct {
        ml_per_m2: file.ml_per_m2,
        film_mm: on.length(&path.key("film"), file.film, 0.0, 2.0),
        between_coats_min: on.wait(&path.key("between_coats"), file.between_coats, 0.0),
        before_resin_min: on.wait(&path.key("before_resin"), file.before_resin, 0.0),
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

/// Thinnest stroke of film unless said otherwise, mm (common practice among cutters of film, no source).
const LEAST_STROKE_MM: f64 = 1.0;

/// How far two layers run under each other unless said otherwise, mm (from memory: 0.2 to 0.5 mm
/// among cutters of film; printers trap by less than 0.2 mm).
const TRAP_MM: f64 = 0.3;
/// From a shape to the line to weed inside, and between two such lines, mm (common practice, no source).
const WEED_MARGIN_MM: f64 = 4.0;
const SPACING_MM: f64 = 8.0;
/// How far film may be stretched unless said otherwise: calendered film laid cold by hand; cast film bears
/// about 5 % laid so and more laid warm (common practice, from memory, no source).
const STRETCH: f64 = 0.02;

fn vinyl(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> VinylProduct {
    let file = &file.vinyl;
    let or_usual = |on: &mut Desk<'_, '_>,
                    key: &str,
                    typed: Option<Length>,
                    usual: f64,
                    (least, most): (f64, f64)| {
        typed.map_or(usual, |typed| on.length(&path.key(key), typed, least, most))
    };
    VinylProduct {
        film_mm: on.length(&path.key("film"), file.film, 0.001, 2.0),
        least_stroke_mm: file.least_stroke.map_or(LEAST_STROKE_MM, |least| {
            on.length(&path.key("least_stroke"), least, 0.05, 20.0)
        }),
        trap_mm: or_usual(on, "trap", file.trap, TRAP_MM, (0.01, 5.0)),
        weeding: match file.weeding {
            WeedingFile::Outline => Weeding::Outline,
            WeedingFile::Box => Weeding::Box,
            WeedingFile::Strips => Weeding::Strips,
            WeedingFile::None => Weeding::None,
        },
        weed_margin_mm: or_usual(on, "weed_margin", file.weed_margin, WEED_MARGIN_MM, (1.0, 15.0)),
        spacing_mm: or_usual(on, "spacing", file.spacing, SPACING_MM, (1.0, 50.0)),
        stretch: file
            .stretch
            .map_or(STRETCH, |stretch| on.share(&path.key("stretch"), stretch, 0.5)),
        sheet_width_mm: on.length(&path.key("sheet_width"), file.sheet_width, 50.0, 10_000.0),
        sheet_height_mm: on.length(&path.key("sheet_height"), file.sheet_height, 50.0, 100_000.0),
        sheet_price: on.money(&path.key("sheet_price"), &file.sheet_price),
        transfer_price: on.money(&path.key("transfer_price"), &file.transfer_price),
    }
}

/// Least and most that a fresh stone may lean, degrees: glue that holds less takes no stone on a round
/// wall, and what leans more would lie in the rest.
const TILT_DEG: (f64, f64) = (15.0, 120.0);
/// Common practice (memory: 10 to 30 min), where the settings do not say.
const GLUE_SET_MIN: f64 = 20.0;
/// The same, degrees.
const GLUE_TILT_DEG: f64 = 60.0;

fn glue(file: &SettingsFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> GlueProduct {
    let file = &file.glue;
    let tilt_deg = file.tilt.map_or(GLUE_TILT_DEG, |tilt| tilt.0);
    GlueProduct {
        bond_mm: on.length(&path.key("bond"), file.bond, 0.001, 5.0),
        dot_share: on.share(&path.key("dot"), file.dot, 1.5),
        loss: on.share(&path.key("loss"), file.loss, 0.9),
        open_min: on.wait(&path.key("open"), file.open, 0.5),
        set_min: on.wait(&path.key("set"), file.set.unwrap_or(Time(GLUE_SET_MIN)), 0.0),
        tilt_rad: on
            .within(&path.key("tilt"), tilt_deg, TILT_DEG, |deg| format!("{deg} deg"))
            .to_radians(),
        full_min: on.wait(&path.key("full"), file.full, 0.0),
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

fn drawer(file: &SettingsFile, bench: &mut Bench<'_>) -> Vec<DrawerStones> {
    let root = FieldPath::root().key("drawer");
    let mut drawer: Vec<DrawerStones> = Vec::new();
    for (index, one) in file.drawer.iter().enumerate() {
        let stones = DrawerStones {
            material: material(one.material),
            size: one.size.0.name.clone(),
            colour: one.colour.clone(),
            count: one.count,
        };
        let same = |other: &DrawerStones| {
            (other.material, &other.size, &other.colour)
                == (stones.material, &stones.size, &stones.colour)
        };
        if drawer.iter().any(same) {
            let message = format!(
                "the drawer lists {} {} in `{}` twice",
                stones.material.name(),
                stones.size,
                stones.colour
            );
            bench.error_hint(&root.index(index), message, "add the two counts up in one entry");
        }
        drawer.push(stones);
    }
    drawer
}
