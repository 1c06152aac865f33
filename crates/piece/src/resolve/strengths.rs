//! Strengths of a design: zones of stones found by name.

use super::Bench;
use crate::file::strength::StrengthFile;
use crate::{FieldPath, Finish, Strength, Zone};

pub(super) fn strengths(
    file: &[StrengthFile],
    zones: &[Zone],
    bench: &mut Bench<'_>,
) -> Vec<Strength> {
    let names: Vec<&str> = file.iter().map(|one| one.name.0.as_str()).collect();
    bench.unique("strength", "strength", &names);
    let list = FieldPath::root().key("strength");
    let of_stones: Vec<&str> = zones
        .iter()
        .filter(|zone| matches!(zone.finish, Finish::Stones(_)))
        .map(|zone| zone.name.as_str())
        .collect();
    let mut strengths = Vec::with_capacity(file.len());
    for (index, one) in file.iter().enumerate() {
        let path = list.index(index);
        if one.name.0 == "full" {
            bench.error_hint(
                &path.key("name"),
                "`full` is the name of the whole design",
                "call it by another name, such as \"half\"",
            );
        }
        let mut shares = Vec::new();
        for (name, share) in &one.stones.0 {
            let at = path.key("stones").key(name);
            let zone = bench.find(&at, "zone of stones", name, &of_stones);
            let Some(zone) =
                zone.and_then(|of| zones.iter().position(|zone| zone.name == of_stones[of]))
            else {
                continue;
            };
            if share.0 > 1.0 {
                bench.error_hint(
                    &at,
                    format!("a zone keeps at most 100 % of its stones, not {} %", share.0 * 100.0),
                    "leave the zone out if it keeps them all",
                );
            }
            shares.push((zone, share.0));
        }
        let stays = |zone: usize| shares.iter().all(|(bare, share)| *bare != zone || *share > 0.0);
        let stones =
            || (0..zones.len()).filter(|zone| matches!(zones[*zone].finish, Finish::Stones(_)));
        if stones().next().is_some() && !stones().any(stays) {
            bench.error_hint(
                &path.key("stones"),
                format!("the strength `{}` leaves no zone with stones", one.name.0),
                "let at least one zone keep some",
            );
        }
        strengths.push(Strength { name: one.name.0.clone(), shares });
    }
    strengths
}
