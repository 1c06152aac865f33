//! Options of a small piece, as text.

use super::*;
use crate::{Piece, StoneSize};

const PIECE: &str = r##"cupwright = 1
title = "Reed"
[colours]
"foam" = "#e8eef0"  # as bright as it comes
[[part]]
name = "body"
revolved = [ { along = "0 mm", diameter = "70 mm" }, { along = "120 mm", diameter = "60 mm" } ]
[[zone]]
name = "top"
part = "body"
band = { from = "30 mm", to = "40 mm" }
stones = { layout = "rows", follow = "edge", size = "SS8", colour = "foam", gap = "0.1 mm" }
# the wide one
[[zone]]
name = "wide"
part = "body"
band = { from = "50 mm", to = "90 mm" }
[[zone.stones]]
layout = "rows"
size = "SS10"  # as told
colour = "foam"
[[zone.stones]]
layout = "pockets"
size = "SS5"
colour = "foam"
[[zone]]
name = "ground"
part = "body"
band = { from = "20 mm", to = "110 mm" }
leave_out = [ { zone = "top" }, { zone = "wide", margin = "1 mm" } ]
paint = { colour = "foam", coats = 1 }
[[strength]]
name = "half"
stones = { wide = "50 %" }
"##;

fn level(along_mm: f64) -> Edge {
    Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
}

#[test]
fn a_bare_zone_is_gone_with_all_that_speaks_of_it() {
    let text = with_kept(PIECE, &[(1, Keep::Bare)]).expect("a piece");
    assert!(!text.contains("wide") && !text.contains("strength"), "{text}");
    assert!(text.contains("# as bright as it comes"), "{text}");
    let piece: Piece = text.parse().expect("a piece that can be read");
    assert_eq!(piece.zones.len(), 2);
    assert_eq!(piece.zones[1].region.leave_out, [(0, 0.0)]);
}

#[test]
fn a_zone_ends_sooner_and_keeps_its_beginning_and_its_comments() {
    let wave =
        Edge { along_mm: 66.5, wave: Wave::Sine, amplitude_mm: 2.0, count: 4, crest_rad: 0.25 };
    let text = with_kept(PIECE, &[(1, Keep::Upper { to: wave })]).expect("a piece");
    assert!(text.contains("# as told") && text.contains("# the wide one"), "{text}");
    let piece: Piece = text.parse().expect("a piece that can be read");
    let band = piece.zones[1].region.band.as_ref().expect("a band");
    assert_eq!((band.from, band.to.along_mm, band.to.count), (level(50.0), 66.5, 4));
    assert!((band.to.crest_rad - 0.25).abs() < 1e-4);
}

#[test]
fn a_sprinkle_keeps_size_and_colour() {
    let keep = Keep::Sprinkle { per_cm2: 3.25, apart_mm: 2.9 };
    let text = with_kept(PIECE, &[(0, keep)]).expect("a piece");
    let piece: Piece = text.parse().expect("a piece that can be read");
    let crate::Finish::Stones(stones) = &piece.zones[0].finish else { panic!("stones") };
    assert_eq!(
        stones.layers[0].layout,
        crate::Layout::Sparse { apart_mm: 2.9, per_mm2: Some(0.0325) }
    );
    assert_eq!(stones.sizes[0].name, "SS8");
    assert!(with_kept(PIECE, &[(1, keep)]).is_err());
}

#[test]
fn another_size_comes_into_every_layout_of_one_size_but_pockets() {
    let size = StoneSize::read("SS12").expect("a size");
    let text = with_size(PIECE, &size).expect("a piece").expect("layouts of one size");
    assert_eq!(text.matches("\"SS12\"").count(), 2, "{text}");
    assert!(text.contains("\"SS12\"  # as told") && text.contains("\"SS5\""), "{text}");
    let mixed = PIECE.replace("size = \"SS8\"", "sizes = [{ size = \"SS8\" }]");
    let only = mixed.replace("size = \"SS10\"", "sizes = [{ size = \"SS10\" }]");
    assert_eq!(with_size(&only, &size), Ok(None));
}

#[test]
fn lines_end_as_they_did() {
    let text = with_kept(&PIECE.replace('\n', "\r\n"), &[(0, Keep::Bare)]).expect("a piece");
    assert_eq!(text.matches('\n').count(), text.matches("\r\n").count());
}
