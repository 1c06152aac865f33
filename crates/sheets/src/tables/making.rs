//! `coats.csv` and `steps.csv`.

use super::Table;
use crate::Plan;
use crate::numbers::fixed;
use crate::words;
use coats::Matter;

/// Columns of `coats.csv`; amounts for one piece. A coat leaves the columns of other matters empty.
pub(crate) const COAT_COLUMNS: [&str; 19] = [
    "order",
    "part",
    "zone",
    "coat",
    "of",
    "matter",
    "colour",
    "area_mm2",
    "film_mm",
    "girth_added_mm",
    "girth_at_mm",
    "wet_ml",
    "glitter_g",
    "shaker_g",
    "loss_ml",
    "a_ml",
    "b_ml",
    "a_g",
    "b_g",
];

/// Columns of `steps.csv`; times in min for one piece, local times as ISO 8601.
pub(crate) const STEP_COLUMNS: [&str; 14] = [
    "step",
    "kind",
    "part",
    "zone",
    "name",
    "hands_on_min",
    "wait_min",
    "turner_min",
    "sitting_min",
    "sand_after_min",
    "after",
    "sittings",
    "begins",
    "ends",
];

/// One row a coat of paint, glitter or resin, in order of work. `wet_ml` of resin is what ends on
/// the cup; `loss_ml` comes on top, and A and B hold both.
pub(crate) fn coats_csv(plan: &Plan) -> Vec<u8> {
    let mut table = Table::new(&COAT_COLUMNS);
    for (order, coat) in plan.coats.coats.iter().enumerate() {
        let mut row = vec![
            (order + 1).to_string(),
            plan.piece.parts[coat.part].name.clone(),
            plan.piece.zones[coat.zone].name.clone(),
            coat.number.to_string(),
            coat.of.to_string(),
        ];
        let colour = |index: usize| plan.piece.colours[index].name.clone();
        let (matter, named, amounts) = match &coat.matter {
            Matter::Paint { colour: index, wet_ml } => {
                ("paint", colour(*index), [Some(*wet_ml), None, None, None, None, None, None, None])
            }
            Matter::Glitter { colour: index, on_cup_g, in_shaker_g, .. } => (
                "glitter",
                colour(*index),
                [None, Some(*on_cup_g), Some(*in_shaker_g), None, None, None, None, None],
            ),
            Matter::Resin(mix) => (
                "resin",
                String::new(),
                [
                    Some(mix.on_cup_ml),
                    None,
                    None,
                    Some(mix.loss_ml),
                    Some(mix.a_ml),
                    Some(mix.b_ml),
                    Some(mix.a_g),
                    Some(mix.b_g),
                ],
            ),
        };
        row.extend([
            matter.to_owned(),
            named,
            fixed(coat.area_mm2, 1),
            fixed(coat.film_mm, 3),
            fixed(coat.girth_added_mm, 3),
            fixed(coat.girth_at_mm, 1),
        ]);
        row.extend(
            amounts.map(|amount| amount.map_or_else(String::new, |amount| fixed(amount, 2))),
        );
        table.row(&row);
    }
    table.finish()
}

/// One row a step. `after` names the steps that must be done and waited for; `begins` and `ends`
/// are the first and last sitting's, empty without a timetable.
pub(crate) fn steps_csv(plan: &Plan) -> Vec<u8> {
    let mut table = Table::new(&STEP_COLUMNS);
    let minutes = |value: Option<f64>| value.map_or_else(String::new, |value| fixed(value, 1));
    for (index, step) in plan.steps.steps.iter().enumerate() {
        let sittings: Vec<_> = plan
            .timetable
            .iter()
            .flat_map(|timetable| &timetable.sittings)
            .filter(|sitting| sitting.step == index)
            .collect();
        let after: Vec<_> = step.after.iter().map(|before| (before + 1).to_string()).collect();
        let name =
            |index: Option<usize>, of: &dyn Fn(usize) -> String| index.map_or_else(String::new, of);
        table.row(&[
            (index + 1).to_string(),
            words::step_kind(step.kind).to_owned(),
            name(step.part, &|part| plan.piece.parts[part].name.clone()),
            name(step.zone, &|zone| plan.piece.zones[zone].name.clone()),
            step.name.clone(),
            fixed(step.hands_on_min, 1),
            fixed(step.wait_min, 1),
            fixed(step.turner_min, 1),
            minutes(step.sitting_min),
            minutes(step.sand_after_min),
            after.join(" "),
            if plan.timetable.is_some() { sittings.len().to_string() } else { String::new() },
            sittings.first().map_or_else(String::new, |sitting| sitting.begins.to_string()),
            sittings.last().map_or_else(String::new, |sitting| sitting.ends.to_string()),
        ]);
    }
    table.finish()
}
