//! Strengths of a design: which zones of stones stay, and how much of them, for about so much of the
//! whole.
//!
//! Small zones are mostly lines, borders and motifs, and large ones grounds: a weaker strength keeps the
//! small ones, and cuts or leaves bare the large ones.

use piece::options::Keep;
use piece::{
    BandEdges, Diagnostic, Edge, FieldPath, Finish, Form, Layout, Piece, StoneFinish, Strength,
    Wave,
};
use shape::Shape;
use std::f64::consts::PI;

/// A zone of which nearly so much would stay is not worth cutting (our choice).
const NEARLY_WHOLE: f64 = 0.85;
/// Less than so much of a zone is a sliver (our choice), kept only where nothing else would stay.
const SLIVER: f64 = 0.2;
/// What a zone keeps at least, where nothing else would stay (our choice).
const LEAST: f64 = 0.1;
/// Edges are cut to so many mm, as a maker can measure them.
const STEP_MM: f64 = 0.5;
/// Rows of the largest stones that a zone must still have room for where the rule cuts it (our choice).
const ROWS: f64 = 2.0;
/// The rule makes up for a zone that would be too narrow by keeping more of it, up to so much (our choice).
const MOST_MORE: f64 = 0.5;
/// Stones of a filled zone, against the densest packing of circles (our choice, a little below the 0.9 to
/// 0.95 of rows).
const FILLED: f64 = 0.9;
/// Least distance in a sprinkle against that of the densest packing of as many (our choice).
const APART: f64 = 0.6;

/// What becomes of the zones of stones where about `share` (0 to 1) of the area that they cover is to
/// keep its stones. Zones that stay whole are not in the list.
///
/// Zones are taken from the smallest to the largest: each is whole while there is room, the first that
/// is too large is cut, and all larger ones are bare.
pub fn about(piece: &Piece, shape: &Shape, share: f64) -> Vec<(usize, Keep)> {
    let mut zones: Vec<(usize, f64)> = piece
        .zones
        .iter()
        .enumerate()
        .filter(|(_, zone)| matches!(zone.finish, Finish::Stones(_)))
        .map(|(zone, _)| (zone, shape.zones[zone].area_mm2))
        .collect();
    zones.sort_by(|a, b| a.1.total_cmp(&b.1).then(a.0.cmp(&b.0)));
    let mut left_mm2 = share * zones.iter().map(|(_, area_mm2)| area_mm2).sum::<f64>();
    let mut kept = Vec::new();
    let mut any = false;
    for (zone, area_mm2) in zones {
        let fits = if area_mm2 > 0.0 { (left_mm2 / area_mm2).clamp(0.0, 1.0) } else { 1.0 };
        left_mm2 -= area_mm2;
        if fits >= NEARLY_WHOLE {
            any = true;
        } else if fits >= SLIVER || !any {
            let nothing_else = !any;
            any = true;
            // Wide enough for its stones; if that is much more than there is room for, it is whole or bare.
            let least = least_share(piece, zone);
            let share = fits.max(LEAST).max(least);
            let cut = cut(piece, zone, share)
                .filter(|_| share < NEARLY_WHOLE && (nothing_else || least <= fits.max(MOST_MORE)));
            match cut {
                Some(keep) => kept.push((zone, keep)),
                None if fits >= 0.5 || nothing_else => {}
                None => kept.push((zone, Keep::Bare)),
            }
            left_mm2 = left_mm2.min(0.0);
        } else {
            kept.push((zone, Keep::Bare));
        }
    }
    kept.sort_by_key(|(zone, _)| *zone);
    kept
}

/// What becomes of the zones of stones in a strength of the maker's own; `index` is its place in the
/// file.
///
/// # Errors
/// Zones that can only be whole or bare.
pub fn of_maker(
    piece: &Piece,
    index: usize,
    strength: &Strength,
) -> Result<Vec<(usize, Keep)>, Vec<Diagnostic>> {
    let (mut kept, mut wrong) = (Vec::new(), Vec::new());
    for &(zone, share) in &strength.shares {
        if share >= 1.0 {
            continue;
        }
        if share <= 0.0 {
            kept.push((zone, Keep::Bare));
            continue;
        }
        match cut(piece, zone, share) {
            Some(keep) => kept.push((zone, keep)),
            None => {
                let name = &piece.zones[zone].name;
                let path = FieldPath::root().key("strength").index(index).key("stones").key(name);
                let message = format!(
                    "`{name}` cannot keep a part of its stones: it is no plain band, and has several layouts or one along a line"
                );
                wrong.push(
                    Diagnostic::error(path, message)
                        .hint("keep it whole, by leaving it out here, or bare, with \"0 %\""),
                );
            }
        }
    }
    kept.sort_by_key(|(zone, _)| *zone);
    if wrong.is_empty() { Ok(kept) } else { Err(wrong) }
}

/// The share of its height that a plain band must keep to have room for its stones; 0 for other zones.
fn least_share(piece: &Piece, zone: usize) -> f64 {
    let of = &piece.zones[zone];
    let Finish::Stones(finish) = &of.finish else { return 0.0 };
    let (Form::Revolved(measures), Some(band)) = (&piece.parts[of.part].form, &of.region.band)
    else {
        return 0.0;
    };
    let BandEdges { from, to } = band;
    let high_mm = to.along_mm - from.along_mm;
    if high_mm <= 0.0 {
        return 0.0;
    }
    let widest_mm = finish.sizes.iter().map(|size| size.diameter_mm).fold(0.0, f64::max);
    let gap_mm = finish.layers.iter().map(|layer| layer.gap_mm).fold(0.0, f64::max);
    // Between two parallel waves it is narrowest where they are steepest: by the smallest girth here.
    let radii =
        measures.iter().map(|measure| measure.radius_mm).filter(|radius_mm| *radius_mm > 0.0);
    let girth_mm = 2.0 * PI * radii.fold(f64::INFINITY, f64::min);
    let waves = f64::from(from.count) * from.amplitude_mm / girth_mm;
    let slope = match from.wave {
        Wave::Level => 0.0,
        Wave::Zigzag => 4.0 * waves,
        Wave::Sine | Wave::Scallop => 2.0 * PI * waves,
    };
    ROWS * (widest_mm + gap_mm) * libm::sqrt(1.0 + slope * slope) / high_mm
}

/// A zone with this share of its stones; `None` if it can only be whole or bare.
fn cut(piece: &Piece, zone: usize, share: f64) -> Option<Keep> {
    let region = &piece.zones[zone].region;
    let Finish::Stones(finish) = &piece.zones[zone].finish else { return None };
    let plain = region.art.is_none() && region.motif.is_none() && region.inset_mm <= 0.0;
    if let (true, Form::Revolved(measures)) = (plain, &piece.parts[piece.zones[zone].part].form) {
        let wall_mm = measures.last()?.along_mm;
        let whole = BandEdges { from: level(0.0), to: level(wall_mm) };
        let BandEdges { from, to } = region.band.clone().unwrap_or(whole);
        let along_mm = from.along_mm + share * (to.along_mm - from.along_mm);
        let along_mm = (along_mm / STEP_MM).round() * STEP_MM;
        // Rows that follow the upper edge end along it, too.
        return Some(Keep::Upper { to: Edge { along_mm, ..from } });
    }
    sprinkle(finish, share)
}

/// Its one layout as single stones, so many that about this share of them is left.
fn sprinkle(finish: &StoneFinish, share: f64) -> Option<Keep> {
    let [layer] = finish.layers.as_slice() else { return None };
    if matches!(layer.layout, Layout::Line | Layout::Sparse { .. }) || layer.grade.is_some() {
        return None;
    }
    let mean_mm: f64 =
        layer.sizes.iter().map(|(size, share)| share * finish.sizes[*size].diameter_mm).sum();
    let widest_mm =
        layer.sizes.iter().map(|(size, _)| finish.sizes[*size].diameter_mm).fold(0.0, f64::max);
    // The densest packing of circles has 2 / (sqrt(3) d^2) for an area (Thue; Fejes Toth 1943).
    let densest = 2.0 / libm::sqrt(3.0);
    let per_mm2 = share * FILLED * densest / ((mean_mm + layer.gap_mm) * (mean_mm + layer.gap_mm));
    let apart_mm = (APART * libm::sqrt(densest / per_mm2)).max(widest_mm + layer.gap_mm);
    let most = 0.6 * densest / (apart_mm * apart_mm);
    Some(Keep::Sprinkle { per_cm2: 100.0 * per_mm2.min(most), apart_mm })
}

fn level(along_mm: f64) -> Edge {
    Edge { along_mm, wave: Wave::Level, amplitude_mm: 0.0, count: 0, crest_rad: 0.0 }
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::Settings;

    /// Bands of 10, 20 and 70 mm on a cylinder, so that areas are shares of 100.
    fn bands() -> Piece {
        let zone = |name: &str, from: u32, to: u32| {
            format!(
                "[[zone]]\nname = \"{name}\"\npart = \"body\"\nband = {{ from = \"{from} mm\", to = \"{to} mm\" }}\n\
                 stones = {{ layout = \"rows\", size = \"SS10\", colour = \"foam\" }}\n"
            )
        };
        let text = format!(
            "cupwright = 1\ntitle = \"Bands\"\n[colours]\n\"foam\" = \"#e8eef0\"\n[[part]]\nname = \"body\"\n\
             revolved = [ {{ along = \"0 mm\", diameter = \"70 mm\" }}, {{ along = \"150 mm\", diameter = \"70 mm\" }} ]\n{}{}{}",
            zone("wide", 70, 140),
            zone("mid", 45, 65),
            zone("thin", 30, 40),
        );
        text.parse().expect("a piece")
    }

    fn shaped(piece: &Piece) -> Shape {
        shape::shape(piece, &Settings::demo()).expect("a shape")
    }

    #[test]
    fn small_zones_stay_and_the_first_too_large_is_cut() {
        let piece = bands();
        let shape = shaped(&piece);
        // Half of 100: thin (10) and mid (20) whole, 20 of the 70 of wide, from its upper edge at 70.
        assert_eq!(about(&piece, &shape, 0.5), [(0, Keep::Upper { to: level(90.0) })]);
        // A fifth: thin whole, half of mid, wide bare.
        let expected = [(0, Keep::Bare), (1, Keep::Upper { to: level(55.0) })];
        assert_eq!(about(&piece, &shape, 0.2), expected);
        // 0.35 leaves 5 of 70 for wide: a sliver, so it is bare.
        assert_eq!(about(&piece, &shape, 0.35), [(0, Keep::Bare)]);
        assert_eq!(about(&piece, &shape, 1.0), []);
    }

    #[test]
    fn something_always_stays() {
        let piece = bands();
        let expected = [(0, Keep::Bare), (1, Keep::Bare), (2, Keep::Upper { to: level(36.0) })];
        assert_eq!(about(&piece, &shaped(&piece), 0.0), expected);
    }

    #[test]
    fn a_zone_is_never_cut_too_narrow_for_its_stones() {
        let mut piece = bands();
        let Finish::Stones(finish) = &mut piece.zones[2].finish else { panic!("stones") };
        finish.sizes[0].diameter_mm = 2.4;
        // Alone it would keep a tenth of its 10 mm; two rows of 2.4 mm and two gaps of 0.1 mm take 5 mm.
        let kept = about(&piece, &shaped(&piece), 0.0);
        assert_eq!(kept[2], (2, Keep::Upper { to: level(35.0) }));
        // Teeth of 9 mm, 12 on 219.9 mm, are as steep as 4 * 9 * 12 / 219.9 = 1.964: 5 mm across is 11.02 mm
        // down.
        let Some(band) = &mut piece.zones[2].region.band else { panic!("a band") };
        band.from = Edge { wave: Wave::Zigzag, amplitude_mm: 9.0, count: 12, ..band.from };
        assert!((least_share(&piece, 2) * 10.0 - 11.02).abs() < 0.005);
    }

    #[test]
    fn the_makers_own_shares_are_taken_as_they_are() {
        let piece = bands();
        let strength =
            Strength { name: "mine".to_owned(), shares: vec![(1, 0.25), (0, 0.0), (2, 1.0)] };
        let expected = [(0, Keep::Bare), (1, Keep::Upper { to: level(50.0) })];
        assert_eq!(of_maker(&piece, 0, &strength).expect("plain bands"), expected);
    }

    #[test]
    fn a_sprinkle_has_about_its_share_of_the_stones() {
        let text = "cupwright = 1\ntitle = \"Disc\"\n[colours]\n\"foam\" = \"#e8eef0\"\n[[part]]\nname = \"topper\"\n\
                    flat = { circle = \"80 mm\" }\n[[zone]]\nname = \"field\"\npart = \"topper\"\ninset = \"1 mm\"\n\
                    stones = { layout = \"rows\", size = \"SS10\", colour = \"foam\" }\n";
        let count = |text: &str| {
            let piece: Piece = text.parse().expect("a piece");
            let settings = Settings::demo();
            let shape = shaped(&piece);
            let laid = crate::lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
            (laid.stones.len() as f64, piece, shape)
        };
        let (full, piece, shape) = count(text);
        for share in [0.2, 0.5] {
            let kept = about(&piece, &shape, share);
            let (less, ..) = count(&piece::options::with_kept(text, &kept).expect("a piece"));
            assert!((less / full / share - 1.0).abs() < 0.15, "{share}: {less} of {full}");
        }
    }
}
