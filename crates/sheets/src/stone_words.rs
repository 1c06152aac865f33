//! How the stones of a zone are laid, in words for people.

use crate::words::trimmed;
use piece::{
    Blend, Colouring, Follow, Layout, Piece, Stagger, StoneFinish, StoneLayer, Taper, Way,
};

/// Material, sizes and colours of a finish; with several layouts, each of them in its turn.
pub(crate) fn in_full(piece: &Piece, finish: &StoneFinish) -> String {
    let material = finish.material.name();
    match finish.layers.as_slice() {
        [one] => {
            format!("{material} stones, {}; {}", sizes(finish, one).join(", "), colours(piece, one))
        }
        layers => {
            let layers: Vec<String> =
                layers.iter().map(|layer| layer_in_full(piece, finish, layer)).collect();
            format!("{material} stones: {}", layers.join("; then "))
        }
    }
}

/// One layout with its sizes and colours: `outline of SS6, foam`, `scatter of SS12 and SS6, from foam
/// to reed down the wall`.
pub(crate) fn layer_in_full(piece: &Piece, finish: &StoneFinish, layer: &StoneLayer) -> String {
    let of = match (&layer.grade, sizes(finish, layer).as_slice()) {
        (Some(_), [first, .., last]) => format!("{first} to {last}"),
        (_, [all @ .., last]) if !all.is_empty() => format!("{} and {last}", all.join(", ")),
        (_, all) => all.join(", "),
    };
    let blend = match layer.blend {
        Blend::Area => " by area",
        Blend::Free if !fills_gaps(layer.layout) => " in whatever numbers cover most",
        Blend::Free | Blend::Count => "",
    };
    format!("{} of {of}{blend}, {}", layout(layer.layout), colours(piece, layer))
}

/// Whether its smaller sizes go only where they fit.
fn fills_gaps(layout: Layout) -> bool {
    matches!(layout, Layout::Pockets | Layout::Rows { taper: Taper::Wedge, .. })
}

/// The layout with what tells it from its like.
fn layout(layout: Layout) -> String {
    match layout {
        Layout::Rows { follow, stagger, taper } => {
            let aligned = if stagger == Stagger::Aligned { "aligned " } else { "" };
            match (follow, taper) {
                (Follow::Spiral, _) => format!("one {aligned}spiral row"),
                (Follow::Edge, _) => format!("{aligned}rows along the edge"),
                (Follow::Level, Taper::Spread) => format!("{aligned}rows"),
                (Follow::Level, Taper::Wedge) => {
                    format!("{aligned}rows with a wedge at the back")
                }
                (Follow::Level, Taper::Groups { rows: Some(rows) }) => {
                    format!("{aligned}rows in groups of {rows}")
                }
                (Follow::Level, Taper::Groups { rows: None }) => format!("{aligned}rows in groups"),
            }
        }
        Layout::Scatter { .. } => "scatter".to_owned(),
        Layout::Outline { rows: 1 } => "outline".to_owned(),
        Layout::Outline { rows } => format!("outline in {rows} rows"),
        Layout::Rings => "rings".to_owned(),
        Layout::Line => "single stones along the strokes".to_owned(),
        Layout::Sparse { apart_mm, .. } => {
            format!("accents at least {}\u{a0}mm apart", trimmed(apart_mm, 1))
        }
        Layout::Pockets => "pockets".to_owned(),
    }
}

fn sizes<'a>(finish: &'a StoneFinish, layer: &StoneLayer) -> Vec<&'a str> {
    layer.sizes.iter().map(|(size, _)| finish.sizes[*size].name.as_str()).collect()
}

/// Colours as they are given to the stones.
fn colours(piece: &Piece, layer: &StoneLayer) -> String {
    let name = |colour: usize| piece.colours[colour].name.as_str();
    let listed: Vec<&str> = layer.colours.iter().map(|(colour, _)| name(*colour)).collect();
    match &layer.colouring {
        Colouring::Mingled => listed.join(", "),
        Colouring::Gradient { way, stops } => {
            let stops: Vec<&str> = stops.iter().map(|(_, colour)| name(*colour)).collect();
            let along = match way {
                Way::Wall { .. } => "along the wall",
                Way::Around { .. } => "round the part",
                Way::Line { .. } => "along a line",
            };
            format!("from {} {along}", stops.join(" to "))
        }
        Colouring::Picture(picture) => format!(
            "a picture {}\u{a0}mm wide in {}",
            trimmed(picture.width_mm, 1),
            listed.join(", ")
        ),
    }
}

/// The rules of a finish that bind, each a few words; empty without any.
pub(crate) fn rules(finish: &StoneFinish) -> Vec<String> {
    let rules = &finish.rules;
    let mut words = Vec::new();
    if let Some((within_mm, least_mm)) = rules.wear {
        words.push(format!(
            "none under {}\u{a0}mm across within {}\u{a0}mm of the ends of the part",
            trimmed(least_mm, 2),
            trimmed(within_mm, 1)
        ));
    }
    if let Some(bond_mm) = rules.bond_line_mm {
        words.push(format!("a bond line of at most {}\u{a0}mm", trimmed(bond_mm, 2)));
    }
    if rules.from_drawer {
        words.push("no more of any stone than the drawer has".to_owned());
    }
    if rules.straddle {
        words.push(
            "stones across the border to a joined zone (grey rings: its stones that reach in)"
                .to_owned(),
        );
    }
    words
}

#[cfg(test)]
mod tests {
    use super::*;

    const LAYERS: &str = r##"
cupwright = 1
title = "Moon tide"
colours = { foam = "#e8eef0", reed = "#6b8e23" }
[[part]]
name = "topper"
flat = { circle = "60 mm" }
[[zone]]
name = "moon"
part = "topper"
stone_rules = { wear = { within = "6 mm", least = "SS6" }, straddle = true }
[[zone.stones]]
layout = "outline"
rows = 2
size = "SS6"
colour = "foam"
[[zone.stones]]
layout = "scatter"
sizes = [ { size = "SS6" }, { size = "SS10" }, { size = "SS12" } ]
grade = { wall = ["-20 mm", "20 mm"] }
colours = [ "foam", "reed" ]
gradient = { around = ["-20 mm", "20 mm"] }
[[zone.stones]]
layout = "pockets"
sizes = [ { size = "SS5" }, { size = "SS6" } ]
colour = "foam"
[[zone]]
name = "stars"
part = "topper"
stones = { layout = "sparse", apart = "6.5 mm", size = "SS6", colour = "foam" }
"##;

    #[test]
    fn layers_are_told_in_their_order() {
        let piece: Piece = LAYERS.parse().expect("a sound piece");
        let of = |zone: usize| match &piece.zones[zone].finish {
            piece::Finish::Stones(stones) => stones,
            other => panic!("{other:?}"),
        };
        assert_eq!(
            in_full(&piece, of(0)),
            "glass stones: outline in 2 rows of SS6, foam; then scatter of SS12 to SS6, from foam \
             to reed round the part; then pockets of SS6 and SS5, foam"
        );
        assert_eq!(in_full(&piece, of(1)), "glass stones, SS6; foam");
        let accents = layer_in_full(&piece, of(1), &of(1).layers[0]);
        assert_eq!(accents, "accents at least 6.5\u{a0}mm apart of SS6, foam");
        assert_eq!(
            rules(of(0)),
            [
                "none under 2\u{a0}mm across within 6\u{a0}mm of the ends of the part",
                "stones across the border to a joined zone (grey rings: its stones that reach in)"
            ]
        );
        assert!(rules(of(1)).is_empty());
    }
}
