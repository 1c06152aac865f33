//! Name bands: how high, how many, how evenly, and what is refused.

use crate::motifs::{CAN, of_kind};
use crate::support::*;
use ::piece::*;
use shape::Field;
use std::f64::consts::{PI, TAU};

fn band_of(text: &str) -> NameBand {
    NameBand {
        text: text.into(),
        font: Font::Shipped("rubik-bold".into()),
        ornament: Some(Ornament::Diamond),
        round: None,
        border_mm: 0.0,
        only: None,
    }
}

fn area_mm2(band: NameBand, from_mm: f64, to_mm: f64) -> f64 {
    zone(revolved(&CAN), of_kind(MotifKind::NameBand(band), from_mm, to_mm)).area_mm2
}

#[test]
fn words_are_as_high_as_the_band_and_as_wide_as_lettering_of_that_height() {
    // H is as high as a capital, so that in a band of 12 mm it is lettering of 12 mm.
    let band = NameBand { ornament: None, round: Some(1), ..band_of("HEH") };
    let kind = MotifKind::NameBand(band);
    let one = zone(revolved(&CAN), of_kind(kind, 60.0, 72.0));
    let same = lettering("HEH", "rubik-bold", ArtSize::HeightMm(12.0), 66.0);
    let same = zone(revolved(&CAN), drawn(same));
    near(one.area_mm2, same.area_mm2, 1e-3 * same.area_mm2);
    let (one, same) = (one.area.extent(&one.surface), same.area.extent(&same.surface));
    let (one, same) = (one.expect("words"), same.expect("words"));
    near(one.width_mm, same.width_mm, 0.02);
    near(one.along_mm.0, 60.0, 0.02);
    near(one.along_mm.1, 72.0, 0.02);
}

#[test]
fn names_go_round_at_even_distances_and_close() {
    for round in [1, 2, 5] {
        let band = NameBand { round: Some(round), ..band_of("ROW") };
        let region = of_kind(MotifKind::NameBand(band), 60.0, 70.0);
        let whole = zone(revolved(&CUP), region.clone());
        // Three letters, O with a hole in it, and a diamond for each.
        assert_eq!(whole.area.shapes(&whole.surface), 4 * round as usize);
        // Turned by the way from one name to the next it is the same band.
        let field = Field::new(&whole.surface, &whole.area);
        let step = TAU / f64::from(round);
        // The cut at the back is no edge.
        let on_cut = |place: &&shape::SurfacePoint| PI - place.around.abs() < 1e-6;
        for place in whole.area.loops.iter().flatten().filter(|place| !on_cut(place)) {
            let around = (place.around + step + PI).rem_euclid(TAU) - PI;
            let off_mm = field.clearance_mm(at(around, place.along_mm));
            assert!(off_mm.abs() < 2e-3, "{off_mm} at {place:?}");
        }
    }
}

#[test]
fn parts_of_a_band_together_are_the_band() {
    let with = |only: Option<BandPart>| NameBand { border_mm: 1.0, only, ..band_of("TIDE") };
    let whole = area_mm2(with(None), 50.0, 64.0);
    let parts = [BandPart::Text, BandPart::Ornaments, BandPart::Border];
    let parts = parts.map(|part| area_mm2(with(Some(part)), 50.0, 64.0));
    near(parts.iter().sum::<f64>(), whole, 1e-6 * whole);
    // Two rings of 1 mm round a cylinder of 40 mm.
    near(parts[2], 2.0 * TAU * 40.0, 0.01);
    let motif = Motif { kind: MotifKind::NameBand(with(None)), seed: None, inverse: true };
    let bare = Region { motif: Some(motif), ..band(level(50.0), level(64.0)) };
    near(zone(revolved(&CAN), bare).area_mm2 + whole, TAU * 40.0 * 14.0, 0.05);
}

#[test]
fn every_ornament_makes_its_shapes() {
    for (ornament, shapes) in [
        (Ornament::Dot, 1),
        (Ornament::Diamond, 1),
        (Ornament::Star, 1),
        (Ornament::Wave, 1),
        (Ornament::Reeds, 3),
    ] {
        let band = NameBand {
            ornament: Some(ornament),
            only: Some(BandPart::Ornaments),
            round: Some(2),
            ..band_of("TIDE")
        };
        let made = zone(revolved(&CAN), of_kind(MotifKind::NameBand(band), 50.0, 62.0));
        let found = made.area.shapes(&made.surface);
        assert!(found == 2 * shapes || (shapes == 3 && found >= 2), "{ornament:?}: {found}");
        let (top, bottom) = made.area.along_range_mm().expect("shapes");
        assert!(top >= 50.0 - 1e-3 && bottom <= 62.0 + 1e-3, "{ornament:?}: {top} to {bottom}");
    }
}

#[test]
fn too_many_names_are_refused_with_what_fits() {
    let found = wrong(
        revolved(&CAN),
        of_kind(
            MotifKind::NameBand(NameBand { round: Some(9), ..band_of("SALTMARSH ROWING") }),
            50.0,
            62.0,
        ),
    );
    assert_eq!(found[0].0, "zone[0].motif.name_band");
    assert!(found[0].1.contains("9 of these names take"), "{found:?}");
    let thick = NameBand { border_mm: 4.0, ..band_of("TIDE") };
    let found = wrong(revolved(&CAN), of_kind(MotifKind::NameBand(thick), 50.0, 62.0));
    assert!(found[0].1.contains("leave no room for words"), "{found:?}");
}
