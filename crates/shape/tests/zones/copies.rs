//! Warnings of copies that run into each other.

use crate::areas::warned;
use crate::support::*;
use piece::{ArtRows, ArtSize, PlacedArt};
use std::f64::consts::TAU;

const CAN: [(f64, f64); 2] = [(0.0, 40.0), (180.0, 40.0)];

fn told(art: PlacedArt) -> Vec<String> {
    let notes = warned(revolved(&CAN), vec![(drawn(art), film())]);
    notes.into_iter().filter(|note| note.contains("run into each other")).collect()
}

fn square(width_mm: f64, repeat: u32) -> PlacedArt {
    PlacedArt { repeat, ..path_art("M0 0H10V10H0Z", ArtSize::WidthMm(width_mm), 90.0, 0.3) }
}

#[test]
fn copies_side_by_side_overlap_by_their_width_less_a_share_of_the_round() {
    // Five copies stand 2π · 40 / 5 = 50.27 mm apart.
    let step_mm = TAU * 40.0 / 5.0;
    assert_eq!(told(square(step_mm - 0.2, 5)), Vec::<String>::new());
    let found = told(square(step_mm + 4.0, 5));
    assert!(found[0].contains("the 5 copies of zone `zone-0`"), "{found:?}");
    assert!(found[0].contains("each reaches 4.0 mm into the next"), "{found:?}");
}

#[test]
fn the_count_and_the_size_that_are_told_fit() {
    let shape = shaped(revolved(&CAN), vec![(drawn(square(54.0, 5)), film())]);
    let hint =
        &shape.notes.iter().find(|note| note.path.0 == "zone[0].art.repeat").expect("told").hints
            [0];
    // 251.3 mm / 54 mm is 4.65, and a fifth of 251.3 mm is 50.26 mm.
    assert!(hint.contains("repeat = 4 or width = \"50.2 mm\""), "{hint}");
    assert_eq!(told(square(54.0, 4)), Vec::<String>::new());
    assert_eq!(told(square(50.2, 5)), Vec::<String>::new());
    let word = |height_mm: f64, repeat: u32| PlacedArt {
        repeat,
        ..lettering("SALTMARSH", "rubik-bold", ArtSize::HeightMm(height_mm), 90.0)
    };
    let shape = shaped(revolved(&CAN), vec![(drawn(word(12.0, 3)), film())]);
    let note =
        shape.notes.iter().find(|note| note.path.0 == "zone[0].lettering.repeat").expect("told");
    let height: f64 = note.hints[0]
        .split("height = \"")
        .nth(1)
        .and_then(|rest| rest.split(' ').next())
        .and_then(|mm| mm.parse().ok())
        .expect("a height");
    assert!(height > 8.0 && height < 12.0, "{height}");
    assert_eq!(told(word(height, 3)), Vec::<String>::new());
    assert!(!told(word(height + 0.2, 3)).is_empty());
}

#[test]
fn copies_that_reach_past_each_other_without_touching_are_fine() {
    // A slanted bar: its rectangle is 60 mm wide, every level line through it 6 mm.
    let bar = PlacedArt {
        repeat: 5,
        ..path_art("M0 60L54 0H60L6 60Z", ArtSize::WidthMm(60.0), 90.0, 0.0)
    };
    assert_eq!(told(bar), Vec::<String>::new());
}

#[test]
fn rows_overlap_by_their_height_less_their_distance() {
    let rows = |apart_mm: f64, half_drop: bool, repeat: u32| PlacedArt {
        rows: ArtRows { count: 3, apart_mm, half_drop },
        along_mm: 50.0,
        ..square(20.0, repeat)
    };
    assert_eq!(told(rows(20.1, false, 4)), Vec::<String>::new());
    let found = told(rows(17.0, false, 4));
    assert!(found[0].contains("by 3.0 mm along the wall"), "{found:?}");
    // Half a step of 62.8 mm to the side they are clear of each other.
    assert_eq!(told(rows(17.0, true, 4)), Vec::<String>::new());
}
