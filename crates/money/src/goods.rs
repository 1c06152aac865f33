//! Resin, paint, glitter, film and supplies on the bill.

use crate::bill::{Wanted, shade};
use crate::{BillLine, Goods};
use coats::{Coats, CutPlan, Matter};
use piece::settings::SupplyPer;
use piece::{Money, PartRole, Piece, Settings, Ware};
use std::collections::BTreeMap;
use work::{StepKind, Steps};

/// Resin in kits.
pub(crate) fn resin(piece: &Piece, settings: &Settings, coats: &Coats) -> Option<BillLine> {
    let mixed = coats.coats.iter().map(|coat| match &coat.matter {
        Matter::Resin(mix) => mix.mixed_ml(),
        Matter::Paint { .. } | Matter::Glitter { .. } => 0.0,
    });
    let need = mixed.sum::<f64>() * f64::from(piece.quantity);
    (need > 0.0).then(|| {
        Wanted {
            goods: Goods::Resin,
            ware: Ware::Resin,
            item: settings.resin.name.clone(),
            unit: "ml",
            need,
            repair_kit: 0.0,
            spared: need * (1.0 + settings.spare_materials),
            at_hand: 0.0,
            pack: settings.resin.kit_ml,
            pack_price: settings.resin.kit_price,
        }
        .line()
    })
}

/// Paint by colour.
pub(crate) fn paint(piece: &Piece, settings: &Settings, coats: &Coats) -> Vec<BillLine> {
    let mut wet: BTreeMap<usize, f64> = BTreeMap::new();
    for coat in &coats.coats {
        if let Matter::Paint { colour, wet_ml } = coat.matter {
            *wet.entry(colour).or_default() += wet_ml * f64::from(piece.quantity);
        }
    }
    let paint = &settings.paint;
    by_name(piece, wet)
        .into_iter()
        .map(|(name, (colour, need))| {
            Wanted {
                goods: Goods::Paint,
                ware: Ware::Paint { shade: shade(piece, colour) },
                item: format!("paint, {name}"),
                unit: "ml",
                need,
                repair_kit: 0.0,
                spared: need * (1.0 + settings.spare_materials),
                at_hand: 0.0,
                pack: paint.pack_ml,
                pack_price: paint.pack_price,
            }
            .line()
        })
        .collect()
}

/// Glitter by colour and flake. The shaker must hold more than stays on; what is caught goes back.
pub(crate) fn glitter(piece: &Piece, settings: &Settings, coats: &Coats) -> Vec<BillLine> {
    // Flakes by width in micrometres: need, and the most that one shaking takes over what it leaves.
    let mut taken: BTreeMap<(String, u64), (usize, f64, f64)> = BTreeMap::new();
    for coat in &coats.coats {
        if let Matter::Glitter { colour, flake_mm, on_cup_g, in_shaker_g, .. } = coat.matter {
            let key = (piece.colours[colour].name.clone(), (flake_mm * 1000.0).round() as u64);
            let (_, need, caught) = taken.entry(key).or_insert((colour, 0.0, 0.0));
            *need += on_cup_g * f64::from(piece.quantity);
            *caught = caught.max(in_shaker_g - on_cup_g);
        }
    }
    taken
        .into_iter()
        .map(|((name, flake_um), (colour, need, caught))| {
            Wanted {
                goods: Goods::Glitter,
                ware: Ware::Glitter { flake_um, shade: shade(piece, colour) },
                item: format!("glitter {} mm, {name}", flake_um as f64 / 1000.0),
                unit: "g",
                need,
                repair_kit: 0.0,
                spared: need * (1.0 + settings.glitter.spare),
                at_hand: need + caught,
                pack: settings.glitter.pack_g,
                pack_price: settings.glitter.pack_price,
            }
            .line()
        })
        .collect()
}

/// Sheets of film by colour, and transfer tape for all of them, as they are laid out for cutting.
pub(crate) fn film(piece: &Piece, settings: &Settings, coats: &Coats) -> Vec<BillLine> {
    let (vinyl, cutting) = (&settings.vinyl, &coats.cutting);
    let colours: BTreeMap<usize, &CutPlan> =
        cutting.of_colour.iter().map(|(colour, plan)| (*colour, plan)).collect();
    let mut lines: Vec<BillLine> = by_name(piece, colours)
        .into_iter()
        .map(|(name, (colour, plan))| {
            let ware = Ware::Film { shade: shade(piece, colour) };
            film_line(settings, plan, (ware, format!("film, {name}")), vinyl.sheet_price)
        })
        .collect();
    if cutting.tape.count() > 0 {
        let item = (Ware::TransferTape, "transfer tape".to_owned());
        lines.push(film_line(settings, &cutting.tape, item, vinyl.transfer_price));
    }
    lines
}

/// The line of one plan: the need is the area of its pieces with what is left round them to weed by;
/// spare is what the sheets that are opened leave over, up to the usual share.
fn film_line(
    settings: &Settings,
    plan: &CutPlan,
    (ware, item): (Ware, String),
    price: Money,
) -> BillLine {
    let sheets = f64::from(plan.count());
    let need = plan.bodies_mm2 / (plan.width_mm * plan.height_mm);
    Wanted {
        goods: Goods::Film,
        ware,
        item,
        unit: "sheets",
        need,
        repair_kit: 0.0,
        spared: (need * (1.0 + settings.spare_materials)).min(sheets).max(need),
        at_hand: sheets,
        pack: 1.0,
        pack_price: price,
    }
    .line()
}

/// Units of what is measured out rather than counted.
const MEASURES: [&str; 12] =
    ["mm", "cm", "m", "in", "ft", "ml", "l", "fl oz", "oz", "g", "kg", "cm²"];

/// Blanks, lids, gloves, cups, boxes: by what they count with; spare only of what is measured out,
/// such as tape and alcohol.
pub(crate) fn supplies(piece: &Piece, settings: &Settings, steps: &Steps) -> Vec<BillLine> {
    let parts = |role: PartRole| piece.parts.iter().filter(|part| part.role == role).count();
    let kind = |kind: StepKind| steps.steps.iter().filter(|step| step.kind == kind).count();
    let mut lines: Vec<BillLine> = settings
        .supplies
        .iter()
        .filter_map(|supply| {
            let times = match supply.per {
                SupplyPer::Piece => 1,
                SupplyPer::Body => parts(PartRole::Body),
                SupplyPer::Lid => parts(PartRole::Lid),
                SupplyPer::Topper => parts(PartRole::Topper),
                SupplyPer::Pour => kind(StepKind::Pour),
                SupplyPer::Sanding => kind(StepKind::Sand),
            };
            let spare = match MEASURES.contains(&supply.unit.as_str()) {
                true => settings.spare_materials,
                false => 0.0,
            };
            let need = supply.amount * times as f64 * f64::from(piece.quantity);
            let mut line = Wanted {
                goods: Goods::Supplies,
                ware: Ware::Supply { name: supply.name.clone() },
                item: supply.name.clone(),
                unit: "each",
                need,
                repair_kit: 0.0,
                spared: need * (1.0 + spare),
                at_hand: 0.0,
                pack: supply.pack,
                pack_price: supply.pack_price,
            }
            .line();
            line.unit.clone_from(&supply.unit);
            (need > 0.0).then_some(line)
        })
        .collect();
    lines.sort_by(|a, b| a.item.cmp(&b.item));
    lines
}

/// Colours with their amounts, sorted by the colour's name.
fn by_name<T>(piece: &Piece, amounts: BTreeMap<usize, T>) -> BTreeMap<&str, (usize, T)> {
    amounts
        .into_iter()
        .map(|(colour, amount)| (piece.colours[colour].name.as_str(), (colour, amount)))
        .collect()
}
