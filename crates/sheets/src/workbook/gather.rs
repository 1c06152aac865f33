//! What to buy and gather.

use crate::Plan;
use crate::words;
use money::{BillLine, Goods};
use serde_json::{Value, json};

/// Data of the list, for the whole quantity, by kind of goods.
pub(super) fn data(plan: &Plan) -> Value {
    let mut groups: Vec<(Goods, Vec<Value>)> = Vec::new();
    for line in &plan.bill.lines {
        let value = row(line);
        match groups.last_mut() {
            Some((goods, lines)) if *goods == line.goods => lines.push(value),
            _ => groups.push((line.goods, vec![value])),
        }
    }
    let groups: Vec<_> = groups
        .into_iter()
        .map(|(goods, lines)| {
            json!({ "goods": heading(goods), "spare": spare(plan, goods), "lines": lines })
        })
        .collect();
    json!({
        "quantity": plan.piece.quantity,
        "groups": groups,
        "bench": bench(plan),
    })
}

/// The same for so many people: what each of them gets, and what all of them take, without prices.
pub(crate) fn kit(one: &Plan, all: &Plan) -> Value {
    let mut groups: Vec<(Goods, Vec<Value>)> = Vec::new();
    for line in &all.bill.lines {
        let each =
            one.bill.lines.iter().find(|each| each.goods == line.goods && each.item == line.item);
        let value = json!({
            "item": line.item,
            "unit": words::unit(2.0, &line.unit),
            "each": each.map(|each| amount(each.with_spare, &each.unit)),
            "all": amount(line.with_spare, &line.unit),
            "pack": pack(line),
            "packs": words::grouped(line.packs as usize),
        });
        match groups.last_mut() {
            Some((goods, lines)) if *goods == line.goods => lines.push(value),
            _ => groups.push((line.goods, vec![value])),
        }
    }
    let group = |(goods, lines): (Goods, Vec<Value>)| json!({ "goods": heading(goods), "spare": spare(all, goods), "lines": lines });
    json!({
        "people": all.piece.quantity,
        "groups": groups.into_iter().map(group).collect::<Vec<_>>(),
        "bench": bench(one),
    })
}

fn row(line: &BillLine) -> Value {
    json!({
        "item": line.item,
        "unit": words::unit(line.need, &line.unit),
        "need": amount(line.need, &line.unit),
        "with_spare": amount(line.with_spare, &line.unit),
        "pack": pack(line),
        "packs": words::grouped(line.packs as usize),
    })
}

/// What one pack holds, behind the number of packs: `× 144 stones`, or only the unit where it is
/// sold singly.
fn pack(line: &BillLine) -> String {
    if (line.pack - 1.0).abs() < 1e-9 {
        return words::unit(f64::from(line.packs), &line.unit);
    }
    let unit = words::unit(line.pack, &line.unit);
    format!("×\u{a0}{} {unit}", amount(line.pack, &line.unit)).trim_end().to_owned()
}

/// What was added to the need of one kind of goods.
fn spare(plan: &Plan, goods: Goods) -> String {
    let share = words::percent(plan.settings.spare_materials);
    match goods {
        Goods::Stones => {
            let kit = match plan.settings.repair_kit.stones {
                0 => String::new(),
                stones => format!(", and {stones} of each in every repair kit"),
            };
            format!(
                "spare: {} more{kit}; each colour and size from one lot, ten of each kept back",
                words::percent(plan.settings.spare_stones)
            )
        }
        Goods::Glue if plan.settings.repair_kit.glue_ml > 0.0 => format!(
            "spare: {share} more, and {} ml in every repair kit",
            words::trimmed(plan.settings.repair_kit.glue_ml, 1)
        ),
        Goods::Glue | Goods::Resin | Goods::Paint => format!("spare: {share} more"),
        Goods::Glitter => format!(
            "spare: {share} more, and at hand {} times what stays on, since most falls off again",
            words::trimmed(plan.settings.glitter.shaker_times, 2)
        ),
        Goods::Film => format!("spare: what the sheets leave over, up to {share}"),
        Goods::Supplies => {
            format!("spare: {share} more of what is measured out, none of what is counted")
        }
    }
}

/// Stones are counted; ml and g are measured to a tenth; everything else to a hundredth.
fn amount(value: f64, unit: &str) -> String {
    match unit {
        "stones" => words::grouped(value.max(0.0).ceil() as usize),
        "ml" | "g" => words::trimmed(value, 1),
        _ => words::trimmed(value, 2),
    }
}

fn heading(goods: Goods) -> &'static str {
    match goods {
        Goods::Stones => "Stones",
        Goods::Glue => "Glue for stones",
        Goods::Resin => "Resin",
        Goods::Paint => "Paint",
        Goods::Glitter => "Glitter",
        Goods::Film => "Film and transfer tape",
        Goods::Supplies => "Blanks and supplies",
    }
}

/// Tools that the kinds of work in this piece ask for: common practice of the trade. What the bill
/// lists already is left out, so that nothing is gathered twice.
fn bench(plan: &Plan) -> Vec<&'static str> {
    let on_bill = |word: &str| plan.bill.lines.iter().any(|line| line.item.contains(word));
    let mut tools = tools(plan);
    tools.retain(|tool| match *tool {
        "masking tape" => !on_bill("masking tape"),
        "nitrile gloves" => !on_bill("gloves"),
        "wipe-down alcohol" => !on_bill("alcohol"),
        _ => true,
    });
    tools
}

fn tools(plan: &Plan) -> Vec<&'static str> {
    use coats::Matter;
    let has =
        |matches: fn(&Matter) -> bool| plan.coats.coats.iter().any(|coat| matches(&coat.matter));
    let mut tools =
        vec!["soft tape and ruler", "lint-free cloths", "wipe-down alcohol", "masking tape"];
    if has(|matter| matches!(matter, Matter::Paint { .. })) {
        tools.extend(["spray mask or brush", "drying rack"]);
    }
    if has(|matter| matches!(matter, Matter::Resin(_))) {
        tools.extend([
            "turner and foam plug",
            "scale to 0.1 g",
            "nitrile gloves",
            "vapour mask",
            "thermometer and humidity meter",
        ]);
    }
    if has(|matter| matches!(matter, Matter::Glitter { .. })) {
        tools.push("clean paper, one sheet a colour");
    }
    if !plan.coats.films.is_empty() {
        tools.extend(["cutter or knife", "weeding hook", "squeegee"]);
    }
    if !plan.stones.stones.is_empty() {
        tools.extend(["sorting tray", "picker", "glue syringe and tips", "cradle", "good light"]);
    }
    tools
}
