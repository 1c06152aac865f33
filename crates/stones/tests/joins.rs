//! Where zones meet: the gap across a border, stones that straddle one, and no seam at the back.

mod support;

#[path = "joins/kept_apart.rs"]
mod kept_apart;
#[path = "joins/seam.rs"]
mod seam;
#[path = "joins/set_and_coloured.rs"]
mod set_and_coloured;
#[path = "joins/told.rs"]
mod told;

use piece::Finish;
use shape::{Area, Field};
use std::collections::BTreeMap;
use std::f64::consts::PI;
use stones::Stone;
use support::{Laid, band, body, lay, rows, scatter};

const CUP: [(f64, f64); 2] = [(0.0, 41.0), (90.0, 35.0)];
const STRAIGHT: [(f64, f64); 2] = [(0.0, 37.0), (90.0, 37.0)];

/// A blend for most of these trials.
const BLEND: [(&str, f64); 3] = [("SS10", 40.0), ("SS8", 30.0), ("SS6", 30.0)];

fn wave(kind: &str, along_mm: f64, amplitude_mm: f64) -> String {
    format!(
        "{{ along = \"{along_mm} mm\", wave = \"{kind}\", amplitude = \"{amplitude_mm} mm\", count = 4, crest = \"150 deg\" }}"
    )
}

fn between(from: &str, to: &str) -> String {
    format!("band = {{ from = {from}, to = {to} }}")
}

fn windowed(from_mm: f64, to_mm: f64, from_deg: f64, to_deg: f64) -> String {
    format!(
        "{}\nwindow = {{ from = \"{from_deg} deg\", to = \"{to_deg} deg\" }}",
        band(from_mm, to_mm)
    )
}

/// The zones of a text, all of whose stones may straddle their borders.
fn straddling(zones: &str) -> String {
    zones.replace("stones = {", "stone_rules = { straddle = true }\nstones = {")
}

fn of_zone(laid: &Laid, zone: usize) -> Vec<&Stone> {
    laid.stones.stones.iter().filter(|stone| stone.zone == zone).collect()
}

fn gap_mm(laid: &Laid, zone: usize) -> f64 {
    match &laid.piece.zones[zone].finish {
        Finish::Stones(finish) => finish.least_gap_mm(),
        other => panic!("{other:?}"),
    }
}

/// All pairs of stones of a part, one by one, straight through space: the larger gap of both zones.
fn check_gaps(laid: &Laid) {
    let stones = &laid.stones.stones;
    let mut across = 0;
    for (i, a) in stones.iter().enumerate() {
        for b in stones[..i].iter().filter(|b| b.part == a.part) {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            let gap = gap_mm(laid, a.zone).max(gap_mm(laid, b.zone));
            assert!(clear >= gap - 1e-6, "{clear} mm clear, {gap} mm asked: {a:?} {b:?}");
            across += usize::from(a.zone != b.zone && clear < gap + 0.5);
        }
    }
    assert!(across > 10, "stones of two zones are neighbours");
}

/// Stones that lie with some of their girdle in another zone.
fn over_borders(laid: &Laid) -> usize {
    let fields: BTreeMap<usize, Field> = laid
        .stones
        .zones
        .iter()
        .map(|filled| {
            let zone = &laid.shape.zones[filled.zone];
            (filled.zone, Field::new(&zone.surface, &zone.area))
        })
        .collect();
    let stones = laid.stones.stones.iter();
    stones
        .filter(|stone| fields[&stone.zone].clearance_mm(stone.at) < stone.diameter_mm / 2.0 - 0.01)
        .count()
}

/// Every stone lies whole inside the zones together, and its centre in its own.
fn check_joined(laid: &Laid) {
    let zones: Vec<usize> = laid.stones.zones.iter().map(|filled| filled.zone).collect();
    let areas: Vec<&Area> = zones.iter().map(|zone| &laid.shape.zones[*zone].area).collect();
    let part = laid.shape.zones[zones[0]].part;
    let all = Area::united(&areas, &laid.shape.parts[part].surface);
    for zone in zones {
        let shape = &laid.shape.zones[zone];
        let (own, whole) =
            (Field::new(&shape.surface, &shape.area), Field::new(&shape.surface, &all));
        for stone in of_zone(laid, zone) {
            assert!(whole.clearance_mm(stone.at) >= stone.diameter_mm / 2.0 - 1e-4, "{stone:?}");
            assert!(own.clearance_mm(stone.at) > -1e-4, "{stone:?}");
            let place = shape.surface.world_from_surface(stone.at);
            assert!(place.distance(stone.centre_mm) < 1e-9);
        }
    }
}

/// Two zones that share a border, the lower in other colours.
fn two(kind: &str, amplitude_mm: f64, stones: &dyn Fn(&str, &str) -> String) -> String {
    let line = wave(kind, 42.0, amplitude_mm);
    stones("upper", &between("\"15 mm\"", &line))
        + &stones("lower", &between(&line, "\"75 mm\""))
            .replace("colour = \"ebb\" }", "colour = \"foam\" }")
}

fn blend(name: &str, region: &str) -> String {
    scatter(name, region, &BLEND, 0.1)
}

/// Mean and standard error of the mean.
fn mean_and_error(values: &[f64]) -> (f64, f64) {
    let count = values.len() as f64;
    let mean = values.iter().sum::<f64>() / count;
    let squares = values.iter().map(|value| (value - mean) * (value - mean)).sum::<f64>();
    (mean, (squares / (count - 1.0) / count).sqrt())
}

/// Welch's statistic: how many standard errors two means are apart. By chance it is beyond 3.3 once in a
/// thousand times, when both come from one population of many (the normal distribution, two-sided).
fn errors_apart(one: &[f64], other: &[f64]) -> f64 {
    let ((a, da), (b, db)) = (mean_and_error(one), mean_and_error(other));
    (a - b) / (da * da + db * db).sqrt().max(1e-9)
}

#[test]
fn joined_zones_are_filled_as_one() {
    let whole = lay(&body(&CUP, &blend("whole", &band(15.0, 75.0))));
    for (kind, amplitude) in [("sine", 5.0), ("zigzag", 6.0)] {
        let text = two(kind, amplitude, &blend);
        let laid = lay(&body(&CUP, &straddling(&text)));
        let apart = lay(&body(&CUP, &text));
        check_gaps(&laid);
        check_joined(&laid);
        assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
        assert!(over_borders(&laid) > 50 && over_borders(&apart) == 0);
        // As dense as a zone without a border, and denser than two with one.
        let covered = |laid: &Laid| {
            let area = |one: &stones::ZoneStones| one.coverage * one.area_mm2;
            laid.stones.zones.iter().map(area).sum::<f64>()
                / laid.stones.zones.iter().map(|one| one.area_mm2).sum::<f64>()
        };
        let [whole, joined, apart] = [&whole, &laid, &apart].map(covered);
        assert!((joined - whole).abs() < 0.004, "{joined} joined, {whole} whole");
        assert!(joined > apart + 0.004, "{joined} joined, {apart} apart");
        // Shares are those of the zones together: 40, 30 and 30 % by count.
        let count = laid.stones.stones.len() as f64;
        for (size, share) in [0.4, 0.3, 0.3].into_iter().enumerate() {
            let is = laid.stones.stones.iter().filter(|stone| stone.size == size).count() as f64;
            assert!((is / count - share).abs() < 0.01, "{is} of {count}");
        }
        for (number, zone) in laid.stones.zones.iter().enumerate() {
            let of = of_zone(&laid, number);
            assert_eq!(zone.count, of.len());
            let circles: f64 =
                of.iter().map(|stone| PI / 4.0 * stone.diameter_mm * stone.diameter_mm).sum();
            assert!((zone.coverage - circles / zone.area_mm2).abs() < 1e-12);
            assert!(of.iter().all(|stone| stone.colour == of[0].colour));
        }
        assert_ne!(of_zone(&laid, 0)[0].colour, of_zone(&laid, 1)[0].colour);
    }
}

#[test]
fn a_border_does_not_show_in_the_packing() {
    // Rows on a straight wall lie as if there were no border at all, to the last digit but that of the
    // grid on which areas are united (0.00002 mm).
    for follow in ["level", "edge", "spiral"] {
        let of = |name: &str, region: &str| rows(name, region, follow, "SS10", 0.1);
        let whole = lay(&body(&STRAIGHT, &of("upper", &band(15.0, 75.0))));
        let joined = lay(&body(&STRAIGHT, &straddling(&two("sine", 4.0, &of))));
        assert_eq!(whole.stones.stones.len(), joined.stones.stones.len(), "{follow}");
        let places = |laid: &Laid| {
            let mut at: Vec<glam::DVec3> =
                laid.stones.stones.iter().map(|stone| stone.centre_mm).collect();
            at.sort_by(|a, b| b.z.total_cmp(&a.z));
            at
        };
        let (whole, joined) = (places(&whole), places(&joined));
        for place in &whole {
            let near = joined.iter().map(|other| other.distance(*place)).fold(f64::MAX, f64::min);
            assert!(near < 2e-3, "{follow}: {near} mm");
        }
    }
    // Gaps between neighbours near the border are those that are found elsewhere: of stones with their
    // centre within 2 mm of the border, and of as many 10 mm from it.
    let laid = lay(&body(&CUP, &straddling(&two("sine", 5.0, &blend))));
    let upper = &laid.shape.zones[0];
    let border = Field::new(&upper.surface, &upper.area);
    let nearest = |stone: &Stone| {
        let others = laid.stones.stones.iter().filter(|other| *other != stone);
        let clear = |other: &Stone| {
            other.centre_mm.distance(stone.centre_mm)
                - (other.diameter_mm + stone.diameter_mm) / 2.0
        };
        let mut all: Vec<f64> = others.map(clear).collect();
        all.sort_by(f64::total_cmp);
        all[..4].iter().sum::<f64>() / 4.0
    };
    let gaps = |low: f64, high: f64| -> Vec<f64> {
        let near = |stone: &&Stone| {
            let away = border.clearance_mm(stone.at).abs();
            (low..high).contains(&away) && (30.0..54.0).contains(&stone.at.along_mm)
        };
        laid.stones.stones.iter().filter(near).map(nearest).collect()
    };
    let (at_border, beyond) = (gaps(0.0, 2.0), gaps(5.0, 9.0));
    assert!(at_border.len() > 150 && beyond.len() > 150);
    let apart = errors_apart(&at_border, &beyond);
    assert!(apart.abs() < 3.3, "{apart} standard errors");
}

#[test]
fn several_zones_join_across_the_back_and_round_a_hole() {
    let stones = |name: &str, region: &str| blend(name, region);
    let zones = stones("left", &windowed(20.0, 50.0, -100.0, 100.0))
        + &stones("back", &windowed(20.0, 50.0, 100.0, 260.0))
        + &stones(
            "foot",
            &(band(50.0, 75.0) + "\nleave_out = [ { zone = \"sign\", margin = \"0 mm\" } ]"),
        )
        + &stones("sign", &windowed(58.0, 68.0, 150.0, 215.0));
    let joined = lay(&body(&CUP, &straddling(&zones)));
    assert!(joined.stones.notes.is_empty(), "{:?}", joined.stones.notes);
    check_gaps(&joined);
    check_joined(&joined);
    for filled in &joined.stones.zones {
        assert!(filled.coverage > 0.7, "{filled:?}");
        assert_eq!(filled.quality.pockets, Some(0), "{filled:?}");
    }
    // The band at the foot keeps clear of something else as before.
    let film = "[[zone]]\nname = \"name\"\npart = \"body\"\n".to_owned()
        + &windowed(30.0, 40.0, 60.0, 120.0)
        + "\nvinyl = { colour = \"ebb\" }\n";
    let apart = "leave_out = [ { zone = \"name\", margin = \"2 mm\" } ]";
    let zones = film
        + &stones("left", &(windowed(20.0, 50.0, -100.0, 100.0) + "\n" + apart))
        + &stones("back", &(windowed(20.0, 50.0, 100.0, 260.0) + "\n" + apart));
    let laid = lay(&body(&CUP, &straddling(&zones)));
    check_gaps(&laid);
    check_joined(&laid);
    let film = &laid.shape.zones[0];
    let field = Field::new(&film.surface, &film.area);
    for stone in &laid.stones.stones {
        let away = -field.clearance_mm(stone.at) - stone.diameter_mm / 2.0;
        assert!(away > 2.0 - 0.01, "{away} mm: {stone:?}");
    }
}

#[test]
fn stacks_of_unlike_thickness_are_joined_on_their_own_surfaces() {
    let paint = "[[zone]]\nname = \"under\"\npart = \"body\"\n\
                 band = { from = \"42 mm\", to = \"75 mm\" }\nresin = { coats = 1, film = \"0.15 mm\" }\n";
    let line = "\"42 mm\"";
    let zones =
        blend("upper", &between("\"15 mm\"", line)) + &blend("lower", &between(line, "\"75 mm\""));
    let laid = lay(&body(&CUP, &(paint.to_owned() + &straddling(&zones))));
    assert!(laid.stones.notes.is_empty(), "{:?}", laid.stones.notes);
    assert!(over_borders(&laid) > 30);
    check_gaps(&laid);
    check_joined(&laid);
    // A hollow waist, on which a thicker stack is shorter.
    let waist = "cupwright = 1\ntitle = \"Trial\"\nseed = 4\n[colours]\nebb = \"#1f6f78\"\n[[part]]\n\
        name = \"body\"\nrevolved = [ { along = \"0 mm\", radius = \"40 mm\" }, \
        { along = \"45 mm\", radius = \"30 mm\", run = \"smooth\" }, \
        { along = \"90 mm\", radius = \"40 mm\", run = \"smooth\" } ]\n";
    let laid = lay(&(waist.to_owned() + paint + &straddling(&zones)));
    assert!(over_borders(&laid) > 30);
    check_gaps(&laid);
}
