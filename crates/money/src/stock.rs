//! Stones and their glue on the bill.

use crate::bill::{Wanted, shade};
use crate::{BillLine, Goods};
use piece::settings::StonePrice;
use piece::{
    Diagnostic, FieldPath, Finish, Piece, Settings, StoneFinish, StoneMaterial, StoneSize, Ware,
};
use std::collections::BTreeMap;
use stones::Stones;
use work::glue::per_stone_ml;

/// What is counted together: material, then size by its diameter in micrometres (so that lines come
/// smallest first), size name, colour.
type Kind = (StoneMaterial, u64, String, usize);

/// Stones by material, size and colour.
pub(crate) fn stones(
    piece: &Piece,
    settings: &Settings,
    stones: &Stones,
) -> Result<Vec<BillLine>, Vec<Diagnostic>> {
    let mut counts: BTreeMap<Kind, (f64, u64)> = BTreeMap::new();
    let mut missing = Vec::new();
    for (zone, told) in piece.zones.iter().enumerate() {
        let Finish::Stones(finish) = &told.finish else { continue };
        missing.extend(without_price(settings, zone, finish));
        for stone in stones.stones.iter().filter(|stone| stone.zone == zone) {
            let size = &finish.sizes[stone.size];
            let width = (size.diameter_mm * 1000.0).round() as u64;
            let kind = (finish.material, width, size.name.clone(), stone.colour);
            counts.entry(kind).or_insert((size.diameter_mm, 0)).1 += u64::from(piece.quantity);
        }
    }
    if !missing.is_empty() {
        return Err(missing);
    }
    let kits = f64::from(piece.quantity) * f64::from(settings.repair_kit.stones);
    let lines = counts.into_iter().filter_map(|((material, _, size, colour), told)| {
        let (diameter_mm, need) = (told.0, told.1 as f64);
        // Whole stones; a hair is taken off so that 100 and 12 % are 112, not 113.
        let spared = (need * (1.0 + settings.spare_stones) - 1e-6).ceil() + kits;
        // A size may come in packs of several sizes: the one that is cheapest for this many.
        let bought =
            |price: &&StonePrice| price.pack_price.times((spared / f64::from(price.pack)).ceil());
        let price = prices_of(settings, material, &size).min_by_key(bought)?;
        let item = format!("{size} {}, {}", material.name(), piece.colours[colour].name);
        Some(
            Wanted {
                goods: Goods::Stones,
                ware: Ware::Stones {
                    material,
                    size: StoneSize { name: size.clone(), diameter_mm },
                    shade: shade(piece, colour),
                },
                item,
                unit: "stones",
                need,
                repair_kit: kits,
                spared,
                at_hand: 0.0,
                pack: f64::from(price.pack),
                pack_price: price.pack_price,
            }
            .line(),
        )
    });
    Ok(lines.collect())
}

fn prices_of<'a>(
    settings: &'a Settings,
    material: StoneMaterial,
    size: &'a str,
) -> impl Iterator<Item = &'a StonePrice> {
    let of_it = move |price: &&StonePrice| price.material == material && price.size == size;
    settings.stones.iter().filter(of_it).filter(|price| price.pack > 0)
}

fn without_price(settings: &Settings, zone: usize, finish: &StoneFinish) -> Vec<Diagnostic> {
    let table = FieldPath::root().key("zone").index(zone).key("stones");
    let unpriced = finish
        .sizes
        .iter()
        .enumerate()
        .filter(|(_, size)| prices_of(settings, finish.material, &size.name).next().is_none());
    unpriced
        .map(|(index, size)| {
            let path = match finish.sizes.len() {
                1 => table.key("size"),
                _ => table.key("sizes").index(index).key("size"),
            };
            let mut priced: Vec<&str> = settings
                .stones
                .iter()
                .filter(|price| price.material == finish.material)
                .map(|price| price.size.as_str())
                .collect();
            priced.dedup();
            let known = if priced.is_empty() {
                format!("No size of {} has a price", finish.material.name())
            } else {
                format!("Sizes of {} with a price: {}", finish.material.name(), priced.join(", "))
            };
            Diagnostic::error(
                path,
                format!("the settings give no price for {} stones of {}", size.name, finish.material.name()),
            )
            .hint(format!(
                "Add a stone price with material \"{}\", size \"{}\", stones in a pack, price of a pack and stones set in an hour to the settings",
                finish.material.key(),
                size.name
            ))
            .hint(known)
        })
        .collect()
}

/// Glue for all stones.
pub(crate) fn glue(piece: &Piece, settings: &Settings, stones: &Stones) -> Option<BillLine> {
    let each: f64 =
        stones.stones.iter().map(|stone| per_stone_ml(stone.diameter_mm, &settings.glue)).sum();
    let need = each * f64::from(piece.quantity);
    let repair_kit = settings.repair_kit.glue_ml * f64::from(piece.quantity);
    (need > 0.0).then(|| {
        Wanted {
            goods: Goods::Glue,
            ware: Ware::Glue,
            item: "clear glue for stones".to_owned(),
            unit: "ml",
            need,
            repair_kit,
            spared: need * (1.0 + settings.spare_materials) + repair_kit,
            at_hand: 0.0,
            pack: settings.glue.pack_ml,
            pack_price: settings.glue.pack_price,
        }
        .line()
    })
}
