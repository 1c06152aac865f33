//! The trial regions: a strip closed all round, the same with a wavy lower edge, and an annulus.

use piece::{
    BandEdges, Blend, Colouring, Drinks, Edge, Finish, Fit, Form, Layout, Measure, Part, PartRole,
    Piece, Region as PieceRegion, Run, Source, StoneFinish, StoneLayer, StoneMaterial, StoneRules,
    StoneSize, Wave, Zone, read_settings,
};
use shape::{Shape, shape};
use std::f64::consts::TAU;

/// A region with its name.
pub struct Region {
    pub name: &'static str,
    pub shape: Shape,
}

fn level(along_mm: f64) -> Edge {
    Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
}

/// A part with one zone, in space.
fn region(name: &'static str, wall: &[(f64, f64)], from: Edge, to: Edge) -> Region {
    let measure = |(along_mm, radius_mm): &(f64, f64)| Measure {
        along_mm: *along_mm,
        radius_mm: *radius_mm,
        run: Run::Straight,
        crease: false,
        radius_step_mm: 0.0,
    };
    let stones = StoneFinish {
        layers: vec![StoneLayer {
            layout: Layout::Scatter { rounds: None },
            sizes: vec![(0, 1.0)],
            blend: Blend::Count,
            grade: None,
            colours: vec![(0, 1.0)],
            colouring: Colouring::Mingled,
            gap_mm: 0.1,
        }],
        sizes: vec![StoneSize { name: "SS10".into(), diameter_mm: 2.8 }],
        material: StoneMaterial::Glass,
        rules: StoneRules::default(),
    };
    let piece = Piece {
        title: name.into(),
        notes: String::new(),
        quantity: 1,
        due: None,
        drinks: Drinks::Cold,
        for_child: false,
        seed: 1,
        parts: vec![Part {
            name: "body".into(),
            role: PartRole::Body,
            capacity_ml: None,
            walls: None,
            form: Form::Revolved(wall.iter().map(measure).collect()),
            blank_colour: None,
            seat: None,
            handle: None,
            fit: Fit::default(),
        }],
        zones: vec![Zone {
            name: name.into(),
            part: 0,
            region: PieceRegion {
                from_left_out: false,
                band: Some(BandEdges { from, to }),
                window_rad: None,
                inset_mm: 0.0,
                art: None,
                motif: None,
                leave_out: Vec::new(),
            },
            finish: Finish::Stones(stones),
        }],
        colours: Vec::new(),
    };
    let studio = Source::new("studio.toml", include_str!("../../examples/studio.toml"));
    let settings = read_settings(&studio).value.expect("the studio that ships");
    Region { name, shape: shape(&piece, &settings).expect("sound region") }
}

/// The strip, `times` as long round and down.
pub fn strip(times: f64) -> Region {
    let (radius, high) = (235.0 * times / TAU, 120.0 * times);
    region("strip", &[(0.0, radius), (high + 20.0, radius)], level(10.0), level(high + 10.0))
}

/// The strip with five waves of 7 mm along its lower edge.
pub fn wavy() -> Region {
    let radius = 235.0 / TAU;
    let lower =
        Edge { along_mm: 130.0, wave: Wave::Sine, amplitude_mm: 7.0, count: 5, crest_rad: 0.0 };
    region("wavy", &[(0.0, radius), (150.0, radius)], level(10.0), lower)
}

/// A level ring from radius 30 to 44 mm.
pub fn annulus() -> Region {
    region("annulus", &[(0.0, 20.0), (30.0, 50.0)], level(10.0), level(24.0))
}
