//! Who works, and when.

use crate::FieldPath;
use crate::file::hours::{CraftFile, MakerHoursFile};
use crate::file::scalars::Days;
use crate::hours::{Craft, MakerHours};
use crate::resolve::Bench;
use crate::resolve::settings::{day_hours, week};
use jiff::civil::Date;

pub(super) fn makers(
    file: &[MakerHoursFile],
    closed: &[Days],
    bench: &mut Bench<'_>,
) -> Vec<MakerHours> {
    let list = FieldPath::root().key("maker");
    let names: Vec<&str> = file.iter().map(|maker| maker.name.as_str()).collect();
    bench.unique("maker", "maker", &names);
    let makers: Vec<MakerHours> = file
        .iter()
        .enumerate()
        .map(|(index, one)| maker(one, &list.index(index), closed, bench))
        .collect();
    let idle = |maker: &MakerHours| maker.hours.iter().all(Vec::is_empty) && maker.extra.is_empty();
    if !makers.is_empty() && makers.iter().all(idle) {
        bench.error_hint(
            &list.index(0).key("hours"),
            "nobody has any hours of work",
            "add at least one day, such as monday = [\"18:00-21:30\"]",
        );
    }
    makers
}

fn maker(
    file: &MakerHoursFile,
    path: &FieldPath,
    closed: &[Days],
    bench: &mut Bench<'_>,
) -> MakerHours {
    let within =
        |day: Date, days: &[Days]| days.iter().any(|days| days.0.0 <= day && day <= days.0.1);
    let mut extra: Vec<(Date, Vec<(u16, u16)>)> = Vec::with_capacity(file.extra.len());
    for (index, one) in file.extra.iter().enumerate() {
        let (path, day) = (path.key("extra").index(index), one.day.0);
        if within(day, &file.away) {
            let message = format!("{} works on {day}, and is away on it", file.name);
            bench.error_hint(&path.key("day"), message, "keep one of the two");
        }
        if within(day, closed) {
            let message = format!("{} works on {day}, which is among the `closed` days", file.name);
            bench.error_hint(&path.key("day"), message, "keep one of the two");
        }
        if extra.iter().any(|(other, _)| *other == day) {
            let message = format!("{day} has extra hours twice");
            bench.error_hint(&path.key("day"), message, "write all hours of a day in one list");
        }
        extra.push((day, day_hours(&path.key("hours"), &one.hours, bench)));
    }
    MakerHours {
        name: file.name.clone(),
        does: match &file.does {
            None => Craft::ALL.to_vec(),
            Some(list) => crafts(list, &path.key("does"), bench),
        },
        hours: week(&path.key("hours"), &file.hours, bench),
        extra,
        away: file.away.iter().map(|days| days.0).collect(),
    }
}

fn crafts(list: &[CraftFile], path: &FieldPath, bench: &mut Bench<'_>) -> Vec<Craft> {
    let mut crafts: Vec<Craft> = Vec::with_capacity(list.len());
    for (index, word) in list.iter().enumerate() {
        let craft = craft(*word);
        if crafts.contains(&craft) {
            bench.error(&path.index(index), format!("`{}` is listed twice", craft.word()));
        }
        crafts.push(craft);
    }
    crafts
}

fn craft(file: CraftFile) -> Craft {
    match file {
        CraftFile::Order => Craft::Order,
        CraftFile::Prepare => Craft::Prepare,
        CraftFile::Mask => Craft::Mask,
        CraftFile::Paint => Craft::Paint,
        CraftFile::Glitter => Craft::Glitter,
        CraftFile::Pour => Craft::Pour,
        CraftFile::Sand => Craft::Sand,
        CraftFile::Film => Craft::Film,
        CraftFile::Approve => Craft::Approve,
        CraftFile::Set => Craft::Set,
        CraftFile::Finish => Craft::Finish,
        CraftFile::Pack => Craft::Pack,
    }
}
