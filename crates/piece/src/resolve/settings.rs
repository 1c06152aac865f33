//! Settings: amounts into minor units, spans of time into order.

mod air;
mod film;
mod materials;
mod pricing;
mod quote;
mod ratio;
mod resin;
mod room;
mod selling;
mod stones;
mod turner;

use air::{limits, solvents};
use film::vinyl;
use materials::{glitter, glue, paint};
use pricing::{supplies, times};
use quote::quote;
use resin::{resin, scale};
use room::room;
use selling::pricing;
use stones::{drawer, repair_kit, stone_prices};
use turner::turner;

use super::Bench;
use super::bounds::Desk;
use crate::file::scalars::{Share, Stretch};
use crate::file::settings::{HoursFile, LengthsFile, PaperFile, SettingsFile};
use crate::settings::{Currency, LengthUnit, Maker, Paper, minor_digits_of};
use crate::{FieldPath, Settings};

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
    if let Some(message) = currency.not_as_the_standard_has_it() {
        let path = root.key("currency").key("minor_digits");
        let digits = minor_digits_of(&currency.code).unwrap_or(2);
        bench.error_hint(&path, message, format!("write minor_digits = {digits}"));
    }
    let mut on = Desk { bench, minor_digits: currency.minor_digits };
    let lip_mm = on.length(&root.key("lip"), file.lip, 0.0, 200.0);
    let spare =
        |on: &mut Desk<'_, '_>, key: &str, share: Share| on.share(&root.key(key), share, 1.0);
    let resin = resin(&file.resin, &root.key("resin"), &mut on);
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
        room: room(&file.room, &root.key("room"), resin.sheet_at_c, &mut on),
        resin,
        turner: turner(file.turner.as_ref(), &root.key("turner"), &mut on),
        air_limits: limits(&file.air, &root.key("air"), on.bench),
        solvents: solvents(&file.solvent, &root.key("solvent"), &mut on),
        paint: paint(file, &root.key("paint"), &mut on),
        glitter: glitter(file, &root.key("glitter"), &mut on),
        vinyl: vinyl(file, &root.key("vinyl"), &mut on),
        glue: glue(file, &root.key("glue"), &mut on),
        scale: scale(file.scale.as_ref(), &root.key("scale"), &mut on),
        stones: stone_prices(file, &mut on),
        drawer: drawer(file, on.bench),
        supplies: supplies(file, &mut on),
        repair_kit: repair_kit(&file.repair_kit, &root.key("repair_kit"), &mut on),
        times: times(&file.times, &root.key("times"), &mut on),
        pricing: pricing(&file.pricing, &root.key("pricing"), &mut on),
        quote: quote(&file.quote, &root.key("quote"), &mut on),
        spare_stones: spare(&mut on, "spare_stones", file.spare_stones),
        spare_materials: spare(&mut on, "spare_materials", file.spare_materials),
        lip_mm,
        currency,
    }
}

fn maker(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Maker {
    let path = FieldPath::root().key("maker");
    let hours = week(&path.key("hours"), &file.maker.hours, on.bench);
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

/// Hours of work by weekday, Monday first.
pub(super) fn week(
    path: &FieldPath,
    file: &HoursFile,
    bench: &mut Bench<'_>,
) -> [Vec<(u16, u16)>; 7] {
    let HoursFile { monday, tuesday, wednesday, thursday, friday, saturday, sunday } = file;
    let days = [
        ("monday", monday),
        ("tuesday", tuesday),
        ("wednesday", wednesday),
        ("thursday", thursday),
        ("friday", friday),
        ("saturday", saturday),
        ("sunday", sunday),
    ];
    days.map(|(day, stretches)| day_hours(&path.key(day), stretches, bench))
}

/// Hours of work on one day, in order.
pub(super) fn day_hours(
    path: &FieldPath,
    stretches: &[Stretch],
    bench: &mut Bench<'_>,
) -> Vec<(u16, u16)> {
    let mut hours: Vec<(u16, u16)> = stretches.iter().map(|stretch| stretch.0).collect();
    hours.sort_unstable();
    if hours.windows(2).any(|pair| pair[1].0 < pair[0].1) {
        bench.error(path, "two stretches of this day overlap");
    }
    hours
}
