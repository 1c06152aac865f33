//! Prices of stones, the drawer and the repair kit, checked.

use crate::FieldPath;
use crate::file::settings::{RepairKitFile, SettingsFile};
use crate::resolve::Bench;
use crate::resolve::bounds::Desk;
use crate::resolve::stones::material;
use crate::settings::{DrawerStones, RepairKit, StonePrice};

pub(super) fn stone_prices(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Vec<StonePrice> {
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

pub(super) fn drawer(file: &SettingsFile, bench: &mut Bench<'_>) -> Vec<DrawerStones> {
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

pub(super) fn repair_kit(
    file: &RepairKitFile,
    path: &FieldPath,
    on: &mut Desk<'_, '_>,
) -> RepairKit {
    let glue_ml = file.glue.map_or(0.0, |glue| {
        on.within(&path.key("glue"), glue.0, (0.0, 1000.0), |ml| format!("{ml} ml"))
    });
    RepairKit { stones: file.stones, glue_ml }
}
