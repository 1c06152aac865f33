//! Places along the wall and heights, as they come out in mm on the part they stand on.
//!
//! The expected figures are worked out by hand from the readings of the sample: a wall 170 mm long.

use ::piece::{
    ArtSize, Colouring, Finish, Lie, MotifKind, NoArt, Piece, Source, Way, Zone, read_piece,
};

fn piece() -> Piece {
    let source = Source::new("good-places.toml", include_str!("pieces/good-places.toml"));
    read_piece(&source, &NoArt).value.expect("a sound piece")
}

fn zone<'p>(piece: &'p Piece, name: &str) -> &'p Zone {
    piece.zones.iter().find(|zone| zone.name == name).expect("a zone")
}

#[track_caller]
fn near(found: f64, expected: f64) {
    assert!((found - expected).abs() < 1e-9, "found {found}, expected {expected}");
}

fn band(piece: &Piece, name: &str) -> (f64, f64) {
    let band = zone(piece, name).region.band.as_ref().expect("a band");
    (band.from.along_mm, band.to.along_mm)
}

#[test]
fn edges_count_from_the_rim_from_the_foot_and_by_shares() {
    let piece = piece();
    assert_eq!(band(&piece, "sky"), (20.0, 85.0));
    let (from, to) = band(&piece, "tide");
    near(from, 170.0 - 0.625 * 170.0);
    near(to, 161.0);
    let tide = zone(&piece, "tide").region.band.as_ref().expect("a band");
    near(tide.from.amplitude_mm, 3.4);
    let (from, to) = band(&piece, "blades");
    near(from, 102.0);
    assert_eq!(to, 170.0, "the foot itself, to the last bit");
    // Of a lid the rim is the edge of its hole, and the foot its outer edge.
    assert_eq!(band(&piece, "ring"), (20.0, 38.0));
}

#[test]
fn heights_are_shares_of_the_band_or_of_the_wall() {
    let piece = piece();
    let art = |name: &str| zone(&piece, name).region.art.clone().expect("art");
    let words = art("words");
    assert_eq!(words.size, ArtSize::RoundShare(0.4));
    near(words.along_mm, 42.5);
    assert_eq!(words.lie, Lie::Level);
    // The band is 30 mm high.
    assert_eq!(art("name").size, ArtSize::HeightMm(15.0));
    near(art("name").rows.apart_mm, 22.5);
    let bird = art("bird");
    // There is no band, so it is 20 % of the wall. 3 in = 76.2 mm (NIST SP 811, appendix B.8).
    assert_eq!(bird.size, ArtSize::HeightMm(34.0));
    near(bird.along_mm, 170.0 - 76.2);
    let motif = |name: &str| zone(&piece, name).region.motif.clone().expect("a motif").kind;
    let MotifKind::Reeds { height_mm, .. } = motif("blades") else { panic!("reeds") };
    near(height_mm.0, 0.25 * 68.0);
    near(height_mm.1, 0.75 * 68.0);
    let MotifKind::Drips { length_mm, solid_mm, .. } = motif("run") else { panic!("drips") };
    near(length_mm.0, 17.0);
    near(length_mm.1, 30.0);
    near(solid_mm, 8.5);
}

#[test]
fn a_way_down_the_wall_counts_as_edges_do() {
    let piece = piece();
    let Finish::Stones(stones) = &zone(&piece, "tide").finish else { panic!("stones") };
    let Colouring::Gradient { way: Way::Wall { along_mm }, .. } = &stones.layers[0].colouring
    else {
        panic!("a gradient down the wall")
    };
    near(along_mm.0, 63.75);
    near(along_mm.1, 161.0);
}

/// On another wall everything that says so moves along, and everything else stays.
#[test]
fn on_a_longer_wall_places_keep_what_they_say() {
    let text = include_str!("pieces/good-places.toml").replace("\"170 mm\"", "\"206 mm\"");
    let longer = read_piece(&Source::new("longer.toml", text), &NoArt).value.expect("sound");
    assert_eq!(band(&longer, "sky"), (20.0, 103.0));
    near(band(&longer, "tide").1, 197.0);
    let (from, to) = band(&longer, "name");
    assert_eq!((from, to), (100.0, 166.0));
    let name = zone(&longer, "name").region.art.clone().expect("art");
    assert_eq!(name.size, ArtSize::HeightMm(33.0));
}
