//! Where zones meet: the gap across a border, stones that straddle one, and no seam at the back.

mod support;

use piece::{Finish, Severity};
use shape::{Area, Field};
use std::collections::BTreeMap;
use std::f64::consts::{PI, TAU};
use stones::Stone;
use support::{Laid, band, body, lay, rows, scatter, try_lay};

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

/// Rows repeat all round, so that chance has no say: what differs by less than this, in share of cover or
/// mm of gap, nobody sees (a thirtieth of the hand's gap).
const UNSEEN: f64 = 0.001;

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
fn neighbours_keep_the_larger_gap_across_any_border() {
    // Paint and resin beneath the lower zone alone: its stones lie 0.5 mm higher.
    let resin = "[[zone]]\nname = \"under\"\npart = \"body\"\n\
                 band = { from = \"42 mm\", to = \"75 mm\" }\nresin = { coats = 2, film = \"0.25 mm\" }\n";
    for kind in ["sine", "zigzag", "scallop"] {
        for (first, second) in [(0.1, 0.4), (0.4, 0.0)] {
            let line = wave(kind, 42.0, 4.0);
            let upper = scatter(
                "upper",
                &between("\"15 mm\"", &line),
                &[("SS12", 50.0), ("SS6", 50.0)],
                first,
            );
            let lower = rows("lower", &between(&line, "\"75 mm\""), "edge", "SS10", second);
            check_gaps(&lay(&body(&CUP, &(upper + &lower))));
        }
    }
    for below in ["", resin] {
        let side = blend("side", &windowed(20.0, 42.0, 95.0, 200.0));
        let upper = rows("upper", &windowed(20.0, 42.0, -160.0, 95.0), "level", "SS16", 0.3);
        let lower = scatter("lower", &band(42.0, 70.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.15);
        let laid = lay(&body(&CUP, &(below.to_owned() + &side + &upper + &lower)));
        assert!(over_borders(&laid) == 0);
        check_gaps(&laid);
    }
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
fn patches_of_joined_zones_are_set_in_order() {
    let laid = lay(&body(&CUP, &straddling(&two("sine", 5.0, &blend))));
    let stones = &laid.stones.stones;
    let mut number = 0;
    for patch in stones.chunk_by(|a, b| a.patch == b.patch) {
        number += 1;
        assert_eq!(patch[0].patch, number);
        assert!(patch.iter().all(|stone| stone.zone == patch[0].zone));
        let turn = |a: &Stone, b: &Stone| {
            let turn = (a.at.around - b.at.around).rem_euclid(TAU);
            turn.min(TAU - turn)
        };
        let widest = patch.iter().flat_map(|a| patch.iter().map(move |b| turn(a, b)));
        assert!(widest.fold(0.0, f64::max) <= PI / 2.0 + 1e-9);
    }
    // A stone of the lower zone that touches one of the upper is set after it, and both are in.
    let (mut across, mut later) = (0, 0);
    for a in stones.iter().filter(|stone| stone.zone == 0) {
        for b in stones.iter().filter(|stone| stone.zone == 1) {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            if clear < 0.3 {
                across += 1;
                later += usize::from(b.patch > a.patch);
            }
        }
    }
    assert!(across > 50 && later == across, "{later} of {across}");
}

/// A closed band with a wavy edge, filled in one way; the trial turns the wave and chooses the chance.
fn closed(layout: &str, wall: &[(f64, f64)], trial: u32) -> Laid {
    let region = format!(
        "band = {{ from = {{ along = \"18 mm\", wave = \"sine\", amplitude = \"2 mm\", count = 18, \
         crest = \"{} deg\" }}, to = \"48 mm\" }}",
        7 * trial
    );
    let text = format!(
        "[[zone]]\nname = \"tide\"\npart = \"body\"\n{region}\nstones = {{ {layout}, colour = \"ebb\" }}\n"
    );
    lay(&body(wall, &text).replace("seed = 11", &format!("seed = {}", 20 + trial)))
}

/// Of a window of 20 degrees about so many degrees from the front: the share of it under stones, counted on a grid,
/// and the mean gap of the stones with their middles in it to the nearest other.
fn window(laid: &Laid, middle_deg: f64) -> (f64, f64) {
    let surface = &laid.shape.zones[0].surface;
    let stones = &laid.stones.stones;
    let turn = |around: f64| (around - middle_deg.to_radians() + PI).rem_euclid(TAU) - PI;
    let near: Vec<&Stone> =
        stones.iter().filter(|stone| turn(stone.at.around).abs() < 0.45).collect();
    let half = 10_f64.to_radians();
    let (mut covered, mut points) = (0, 0);
    for row in 0..160 {
        for column in 0..80 {
            let around = middle_deg.to_radians() + half * ((f64::from(column) + 0.5) / 40.0 - 1.0);
            let along_mm = 16.0 + 32.0 * (f64::from(row) + 0.5) / 160.0;
            let place = surface.world_from_surface(shape::SurfacePoint { around, along_mm });
            points += 1;
            covered += usize::from(
                near.iter().any(|stone| stone.centre_mm.distance(place) < stone.diameter_mm / 2.0),
            );
        }
    }
    let gaps: Vec<f64> = near
        .iter()
        .filter(|stone| turn(stone.at.around).abs() < half)
        .map(|stone| {
            let clear = |other: &&&Stone| {
                other.centre_mm.distance(stone.centre_mm)
                    - (other.diameter_mm + stone.diameter_mm) / 2.0
            };
            let others = near.iter().filter(|other| **other != *stone);
            others.map(|other| clear(&other)).fold(f64::MAX, f64::min)
        })
        .collect();
    (covered as f64 / f64::from(points), gaps.iter().sum::<f64>() / gaps.len() as f64)
}

#[test]
fn nothing_shows_at_the_back() {
    for (layout, wall) in [
        ("layout = \"rows\", size = \"SS10\"", STRAIGHT),
        ("layout = \"rows\", size = \"SS10\"", CUP),
        ("layout = \"rows\", follow = \"edge\", size = \"SS10\"", CUP),
        ("layout = \"rings\", size = \"SS8\"", CUP),
        ("layout = \"outline\", rows = 3, size = \"SS8\"", CUP),
        ("layout = \"sparse\", apart = \"5 mm\", size = \"SS10\"", CUP),
        (
            "layout = \"scatter\", sizes = [ { size = \"SS10\", share = \"40 %\" }, \
             { size = \"SS6\", share = \"60 %\" } ]",
            CUP,
        ),
    ] {
        let (mut back, mut elsewhere) = ((vec![], vec![]), (vec![], vec![]));
        for trial in 0..5 {
            let laid = closed(layout, &wall, trial);
            // One wave to each window, so that they are alike.
            for number in 0..18 {
                let middle_deg = 180.0 + 20.0 * f64::from(number);
                let to = if number == 0 { &mut back } else { &mut elsewhere };
                let (covered, gap_mm) = window(&laid, middle_deg);
                to.0.push(covered);
                to.1.push(gap_mm);
            }
        }
        // Five windows at the back against 85 others: as spread as those are, the mean of five strays by
        // their standard deviation over the root of five. Beyond 3.3 of it chance goes once in a thousand
        // times. A seam of half a stone's width all along would take 1.4 mm of 14, a tenth of the cover.
        for (name, back, elsewhere) in
            [("cover", &back.0, &elsewhere.0), ("gap", &back.1, &elsewhere.1)]
        {
            let ((at, _), (mean, error)) = (mean_and_error(back), mean_and_error(elsewhere));
            let spread = error * (elsewhere.len() as f64).sqrt();
            let stray = (at - mean) / (spread / 5_f64.sqrt()).max(UNSEEN);
            assert!(stray.abs() < 3.3, "{layout}: {name} {at} at the back, {mean} ± {spread}");
            assert!(spread < 0.35 * mean, "{layout}: {name} {mean} ± {spread} tells nothing");
        }
    }
}

#[test]
fn a_zone_across_the_back_is_the_one_in_front_turned_round() {
    // A half turn is a whole number of steps of the grid on which areas are drawn.
    for follow in ["level", "edge"] {
        let of = |from_deg: f64, to_deg: f64| {
            let zone = rows("tide", &windowed(20.0, 60.0, from_deg, to_deg), follow, "SS10", 0.1);
            lay(&body(&CUP, &zone))
        };
        let (back, front) = (of(100.0, 260.0), of(-80.0, 80.0));
        assert_eq!(back.stones.stones.len(), front.stones.stones.len(), "{follow}");
        for stone in &front.stones.stones {
            let turned =
                glam::DVec3::new(-stone.centre_mm.x, -stone.centre_mm.y, stone.centre_mm.z);
            let others = back.stones.stones.iter();
            let away =
                others.map(|other| other.centre_mm.distance(turned)).fold(f64::MAX, f64::min);
            assert!(away < 1e-3, "{follow}: {away} mm from {stone:?}");
        }
    }
    for seed in ["11", "12", "13"] {
        let of = |from_deg: f64, to_deg: f64| {
            let zone = blend("tide", &windowed(20.0, 60.0, from_deg, to_deg));
            lay(&body(&CUP, &zone).replace("seed = 11", &format!("seed = {seed}"))).stones.zones[0]
                .coverage
        };
        let (back, front) = (of(100.0, 260.0), of(-80.0, 80.0));
        assert!((back - front).abs() < 0.005, "{back} at the back, {front} in front");
    }
}

#[test]
fn joined_zones_are_coloured_each_in_its_own_way() {
    let text = two("scallop", 5.0, &|name, region| {
        let mingled = rows(name, region, "level", "SS10", 0.1);
        if name == "upper" {
            return mingled;
        }
        let colours = mingled.find("colours = ").expect("has colours");
        mingled[..colours].to_owned()
            + "colours = [ \"ebb\", \"foam\" ], gradient = { wall = [\"42 mm\", \"70 mm\"] } }\n"
    });
    let laid = lay(&body(&CUP, &straddling(&text)));
    check_gaps(&laid);
    check_joined(&laid);
    let ebb = laid.piece.colours.iter().position(|colour| colour.name == "ebb").expect("is used");
    let upper = of_zone(&laid, 0);
    let share = upper.iter().filter(|stone| stone.colour == ebb).count();
    assert!((share as f64 - 0.6 * upper.len() as f64).abs() <= 0.5, "{share} of {}", upper.len());
    // Rows of every zone count from 1.
    for zone in [0, 1] {
        let rows: Vec<u32> = of_zone(&laid, zone).iter().map(|stone| stone.row).collect();
        assert_eq!(rows.iter().min(), Some(&1), "zone {zone}");
    }
    assert!(laid.stones.zones[0].quality.mingling.is_some_and(|mingling| mingling < 1.0));
    assert_eq!(laid.stones.zones[1].quality.mingling, None);
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

fn warned(text: &str) -> Vec<String> {
    let laid = try_lay(text).unwrap_or_else(|faults| panic!("{faults:?}\n{text}"));
    let notes = laid.stones.notes.iter().filter(|note| note.path.0.ends_with("straddle"));
    notes
        .map(|note| {
            assert_eq!(note.severity, Severity::Warning);
            note.message.clone()
        })
        .collect()
}

#[test]
fn what_keeps_neighbours_apart_is_told() {
    let first = blend("upper", &windowed(32.0, 42.0, -50.0, 50.0));
    let second = blend("lower", &windowed(42.0, 52.0, -50.0, 50.0));
    let with = |zones: String| warned(&body(&CUP, &straddling(&zones)));
    for (change, differs) in [
        (second.replace("0.1 mm", "0.25 mm"), "gap (0.1 mm and 0.25 mm)"),
        (second.replace("SS8", "SS5"), "sizes (SS10, SS8, SS6 and SS10, SS6, SS5)"),
        (
            second
                .replace("\"SS10\", share = \"40 %\"", "\"SS10\", share = \"30 %\"")
                .replace("\"SS8\", share = \"30 %\"", "\"SS8\", share = \"40 %\""),
            "shares of the sizes",
        ),
        (
            rows("lower", &windowed(42.0, 52.0, -50.0, 50.0), "level", "SS10", 0.1),
            "layout (scatter and rows)",
        ),
        (second.replace("gap =", "material = \"resin\", gap ="), "material (glass and resin)"),
    ] {
        let expected = format!(
            "no stone can straddle the border between zones \"upper\" and \"lower\": they differ in \
             their {differs}"
        );
        assert_eq!(with(first.clone() + &change), [expected]);
    }
    let rule = straddling(&(first.clone() + &second)).replacen(
        "straddle = true",
        "straddle = true, bond_line = \"0.4 mm\"",
        1,
    );
    assert!(warned(&body(&CUP, &rule))[0].ends_with("their rule \"bond_line\""));
    // Resin beneath one of them only, and film that comes between them.
    let resin = "[[zone]]\nname = \"under\"\npart = \"body\"\n\
                 band = { from = \"42 mm\", to = \"75 mm\" }\nresin = { coats = 2, film = \"0.25 mm\" }\n";
    let told = with(resin.to_owned() + &first + &second);
    assert!(told[0].ends_with("thickness of what lies beneath (0.00 mm and 0.50 mm)"), "{told:?}");
    let film = "[[zone]]\nname = \"name\"\npart = \"body\"\n\
                band = { from = \"80 mm\", to = \"85 mm\" }\nvinyl = { colour = \"ebb\" }\n";
    let told = with(first.clone() + film + &second);
    assert!(told[0].ends_with("order of work (zone \"name\" comes between)"), "{told:?}");
    // None beside it, or one that does not.
    let told = with(first.clone() + &blend("lower", &windowed(43.0, 52.0, -50.0, 50.0)));
    let alone = |zone: &str| {
        format!(
            "zone \"{zone}\" has straddle = true, but borders no other zone of stones that has it"
        )
    };
    assert_eq!(told, [alone("upper"), alone("lower")]);
    let told = warned(&body(&CUP, &(straddling(&first) + &second)));
    assert_eq!(told, [alone("upper")]);
}

#[test]
fn a_joined_zone_too_thin_for_a_stone_is_refused() {
    let zones = rows("upper", &band(15.0, 42.0), "level", "SS16", 0.1)
        + &rows("line", &band(42.0, 42.2), "level", "SS16", 0.1)
        + &rows("lower", &band(42.2, 75.0), "level", "SS16", 0.1);
    let faults = try_lay(&body(&STRAIGHT, &straddling(&zones))).err().expect("no row is in it");
    assert_eq!(faults[0].path.0, "zone[1].stones");
    assert!(faults[0].message.starts_with("zone \"line\" gets no stone"), "{}", faults[0].message);
}
