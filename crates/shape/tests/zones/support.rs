//! Pieces and studios small enough to reason about.

use ::piece::settings::*;
use ::piece::*;
use shape::{Shape, SurfacePoint, ZoneShape, shape};

/// The made-up studio with thicknesses and a lip of our own.
pub fn studio() -> Settings {
    let mut studio = Settings::demo();
    (studio.paint.film_mm, studio.glitter.flake_thickness_mm) = (0.05, 0.05);
    (studio.vinyl.film_mm, studio.glue.bond_mm) = (0.08, 0.1);
    studio.vinyl.least_stroke_mm = 1.0;
    studio.lip_mm = 20.0;
    studio
}

/// The wall of most tests: radius 45 mm at the rim to 33 mm after 180 mm.
pub const CUP: [(f64, f64); 2] = [(0.0, 45.0), (180.0, 33.0)];

pub fn revolved(points: &[(f64, f64)]) -> Form {
    let measure = |(along_mm, radius_mm): &(f64, f64)| Measure {
        along_mm: *along_mm,
        radius_mm: *radius_mm,
        run: Run::Straight,
        crease: false,
        radius_step_mm: 0.0,
    };
    Form::Revolved(points.iter().map(measure).collect())
}

pub fn level(along_mm: f64) -> Edge {
    Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
}

pub fn wave(along_mm: f64, wave: Wave, amplitude_mm: f64, count: u32, crest_rad: f64) -> Edge {
    Edge { along_mm, wave, amplitude_mm, count, crest_rad }
}

pub fn everything() -> Region {
    Region {
        band: None,
        from_left_out: false,
        window_rad: None,
        inset_mm: 0.0,
        art: None,
        motif: None,
        leave_out: Vec::new(),
    }
}

pub fn band(from: Edge, to: Edge) -> Region {
    Region { band: Some(BandEdges { from, to }), ..everything() }
}

pub fn path_art(data: &str, size: ArtSize, along_mm: f64, around: f64) -> PlacedArt {
    PlacedArt::new(Art::Path(data.into()), size, along_mm, around)
}

pub fn svg_art(text: &str, size: ArtSize, along_mm: f64) -> PlacedArt {
    let art = Art::Svg { file: "reeds.svg".into(), text: text.into(), layer: None };
    PlacedArt { art, ..path_art("", size, along_mm, 0.0) }
}

pub fn lettering(text: &str, font: &str, size: ArtSize, along_mm: f64) -> PlacedArt {
    let art = Art::Lettering { text: text.into(), font: Font::Shipped(font.into()) };
    PlacedArt { art, ..path_art("", size, along_mm, 0.0) }
}

pub fn drawn(art: PlacedArt) -> Region {
    Region { art: Some(art), ..everything() }
}

pub fn film() -> Finish {
    Finish::Vinyl { colour: 0, cut: FilmCut::PLAIN }
}

pub fn stones() -> Finish {
    Finish::Stones(StoneFinish {
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
    })
}

/// A body of this form with these zones, in order.
pub fn piece_of(form: Form, zones: Vec<(Region, Finish)>) -> Piece {
    let zones = zones.into_iter().enumerate().map(|(index, (region, finish))| Zone {
        name: format!("zone-{index}"),
        part: 0,
        region,
        finish,
    });
    Piece {
        title: "Test".into(),
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
            form,
            blank_colour: None,
            seat: None,
            handle: None,
            fit: piece::Fit::default(),
        }],
        zones: zones.collect(),
        colours: Vec::new(),
        strengths: Vec::new(),
    }
}

#[track_caller]
pub fn shaped(form: Form, zones: Vec<(Region, Finish)>) -> Shape {
    shape(&piece_of(form, zones), &studio()).expect("sound piece")
}

/// One zone of film.
#[track_caller]
pub fn zone(form: Form, region: Region) -> ZoneShape {
    shaped(form, vec![(region, film())]).zones.remove(0)
}

/// What is wrong with one zone: path and message.
#[track_caller]
pub fn wrong(form: Form, region: Region) -> Vec<(String, String)> {
    let found = shape(&piece_of(form, vec![(region, film())]), &studio()).expect_err("a fault");
    found.into_iter().map(|one| (one.path.0, one.message)).collect()
}

#[track_caller]
pub fn near(found: f64, expected: f64, within: f64) {
    assert!(
        (found - expected).abs() <= within,
        "found {found}, expected {expected} within {within}"
    );
}

pub fn at(around: f64, along_mm: f64) -> SurfacePoint {
    SurfacePoint { around, along_mm }
}
