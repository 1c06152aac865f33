//! What a studio counts besides its products, checked and brought into our units.

use crate::FieldPath;
use crate::file::scalars::Time;
use crate::file::settings::{SettingsFile, SupplyPerFile, TimesFile};
use crate::resolve::bounds::{Desk, LEAST_SETTING_MIN, span};
use crate::settings::{Supply, SupplyPer, Times};

pub(super) fn supplies(file: &SettingsFile, on: &mut Desk<'_, '_>) -> Vec<Supply> {
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

pub(super) fn times(file: &TimesFile, path: &FieldPath, on: &mut Desk<'_, '_>) -> Times {
    let mut min = |key: &str, time: Time| on.hands_on(&path.key(key), time, 0.0);
    let mut times = Times {
        prepare_min: min("prepare", file.prepare),
        mask_min: min("mask", file.mask),
        paint_coat_min: min("paint_coat", file.paint_coat),
        glitter_min: min("glitter", file.glitter),
        pour_min: min("pour", file.pour),
        watch_min: min("watch", file.watch),
        sand_min: min("sand", file.sand),
        vinyl_zone_min: min("vinyl_zone", file.vinyl_zone),
        vinyl_shape_min: min("vinyl_shape", file.vinyl_shape),
        vinyl_rest_min: 0.0,
        sitting_setup_min: min("sitting_setup", file.sitting_setup),
        sitting_min: 0.0,
        finish_min: min("finish", file.finish),
        pack_min: min("pack", file.pack),
        order_min: min("order", file.order),
        layout_pace: Vec::new(),
        delivery_days: file.delivery_days,
        post_days: file.post_days,
    };
    times.vinyl_rest_min = on.wait(&path.key("vinyl_rest"), file.vinyl_rest, 0.0);
    times.sitting_min = on.hands_on(&path.key("sitting"), file.sitting, LEAST_SETTING_MIN);
    if times.sitting_min - times.sitting_setup_min < LEAST_SETTING_MIN {
        let message = format!(
            "the longest sitting is {}, of which laying out takes {}: less than {} is left to set stones",
            span(times.sitting_min),
            span(times.sitting_setup_min),
            span(LEAST_SETTING_MIN)
        );
        on.bench.error(&path.key("sitting"), message);
    }
    times
}
