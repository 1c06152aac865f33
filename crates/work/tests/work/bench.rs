//! Trial pieces for the tests of this crate.

use coats::Coats;
use glam::DVec3;
use piece::{Finish, Piece, Settings};
use shape::{Shape, SurfacePoint};
use std::fmt::Write as _;
use stones::{Stone, Stones};

/// A cup with a lid and a topper, and the zones given as (part, name, finish).
pub fn text(zones: &[(&str, &str, &str)]) -> String {
    let mut text = r##"cupwright = 1
title = "Trial"
due = 2027-05-22
[colours]
"reed" = "#556b2f"
"foam" = "#e8eef0"
[[part]]
name = "body"
revolved = [{ along = "0 mm", diameter = "74 mm" }, { along = "205 mm", diameter = "74 mm" }]
[[part]]
name = "lid"
sits_on = { part = "body", sink = "6 mm" }
revolved = [{ along = "0 mm", radius = "10 mm" }, { along = "26 mm", radius = "36 mm" }]
[[part]]
name = "topper"
sits_on = { part = "lid", sink = "0 mm", upright = true }
flat = { circle = "40 mm" }
"##
    .to_owned();
    for (part, name, finish) in zones {
        let region = match *part {
            "body" => "band = { from = \"15 mm\", to = \"200 mm\" }",
            "lid" => "band = { from = \"2 mm\", to = \"25 mm\" }",
            _ => "inset = \"2 mm\"",
        };
        writeln!(text, "[[zone]]\nname = \"{name}\"\npart = \"{part}\"\n{region}\n{finish}")
            .expect("text grows");
    }
    text
}

/// A trial piece and its coats.
pub struct Trial {
    pub piece: Piece,
    pub shape: Shape,
}

impl Trial {
    pub fn new(zones: &[(&str, &str, &str)]) -> Self {
        let piece: Piece = text(zones).parse().unwrap_or_else(|faults| panic!("{faults:?}"));
        let shape = shape::shape(&piece, &Settings::demo()).expect("the trial has a shape");
        Self { piece, shape }
    }

    pub fn coats(&self, settings: &Settings) -> Coats {
        coats::plan_coats(&self.piece, &self.shape, settings).expect("its resin can be poured")
    }

    /// So many stones in each zone of stones, in patches of fifty; where they lie is of no matter here.
    pub fn stones(&self, each: usize) -> Stones {
        let mut stones = Vec::new();
        for (zone, told) in self.piece.zones.iter().enumerate() {
            let Finish::Stones(finish) = &told.finish else { continue };
            for number in 0..each {
                let size = number % finish.sizes.len();
                stones.push(Stone {
                    zone,
                    layer: 0,
                    part: told.part,
                    patch: (number / 50 + 1) as u32,
                    row: 0,
                    size,
                    diameter_mm: finish.sizes[size].diameter_mm,
                    colour: finish.colours()[number % finish.colours().len()],
                    at: SurfacePoint { around: 0.0, along_mm: 50.0 },
                    centre_mm: DVec3::ZERO,
                    normal: DVec3::X,
                    around_mm: 0.0,
                });
            }
        }
        Stones { stones, zones: Vec::new(), notes: Vec::new() }
    }
}

pub const PAINT: &str = "paint = { colour = \"reed\", coats = 2 }";
pub const RESIN: &str = "resin = { coats = 1, film = \"0.2 mm\" }";
pub const RESIN_3: &str = "resin = { coats = 3, film = \"0.2 mm\" }";
pub const GLITTER: &str = "glitter = { colour = \"foam\", flake = \"0.4 mm\" }";
pub const FILM: &str = "vinyl = { colour = \"reed\" }";
pub const STONES: &str = "stones = { layout = \"rows\", size = \"SS10\", colour = \"foam\" }";

/// Everything at once.
pub fn full() -> Trial {
    Trial::new(&[
        ("body", "ground", PAINT),
        ("body", "bond", RESIN),
        ("body", "shingle", GLITTER),
        ("body", "clear", RESIN_3),
        ("body", "sash", FILM),
        ("body", "seal", RESIN),
        ("body", "tide", STONES),
        ("lid", "lid-ground", PAINT),
        ("lid", "lid-clear", RESIN_3),
        ("lid", "lid-stones", STONES),
        ("topper", "topper-clear", RESIN),
        ("topper", "topper-stones", STONES),
    ])
}
