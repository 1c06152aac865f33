//! The cutting plan: everything lies on a sheet, nothing on anything else, in bounded time.

use coats::{CutPlan, Film, FilmPiece, plan_cutting};
use i_overlay::core::fill_rule::FillRule;
use i_overlay::core::overlay_rule::OverlayRule;
use i_overlay::float::single::SingleFloatOverlay;
use piece::FilmTurns;
use piece::Settings;
use piece::settings::VinylProduct;

fn film(sizes_mm: &[(f64, f64)]) -> Film {
    let piece = |&(width, height): &(f64, f64)| FilmPiece::rectangle(width, height);
    film_of(sizes_mm.iter().map(piece).collect())
}

fn film_of(pieces: Vec<FilmPiece>) -> Film {
    let (turns, mirrored) = (FilmTurns::Quarter, false);
    Film {
        zone: 0,
        part: 0,
        colour: 0,
        turns,
        mirrored,
        area_mm2: 1.0,
        pieces,
        copies: Vec::new(),
        lie: None,
        shapes: 1,
    }
}

fn plan(films: &[Film], quantity: u32, sheet: (f64, f64)) -> CutPlan {
    let mut all = plan_cutting(films, quantity, &vinyl(sheet.0, sheet.1));
    all.of_colour.remove(&0).expect("the colour")
}

/// Area of an outer outline less its holes, mm².
fn area(outlines: &[Vec<[f64; 2]>]) -> f64 {
    let edges = outlines.iter().flat_map(|one| one.iter().zip(one.iter().cycle().skip(1)));
    0.5 * edges.map(|(a, b)| a[0] * b[1] - b[0] * a[1]).sum::<f64>().abs()
}

fn vinyl(width: f64, height: f64) -> VinylProduct {
    let mut vinyl = Settings::demo().vinyl;
    (vinyl.sheet_width_mm, vinyl.sheet_height_mm) = (width, height);
    vinyl
}

fn count(sizes_mm: &[(f64, f64)], quantity: u32) -> u32 {
    plan(&[film(sizes_mm)], quantity, (305.0, 305.0)).count()
}

#[test]
fn four_quarters_fill_one_sheet_and_a_fifth_opens_another() {
    assert_eq!(count(&[(152.5, 152.5)], 4), 1);
    assert_eq!(count(&[(152.5, 152.5)], 5), 2);
}

#[test]
fn a_tall_rectangle_is_turned_to_share_a_sheet() {
    assert_eq!(count(&[(100.0, 300.0)], 3), 1);
    assert_eq!(count(&[(100.0, 300.0), (100.0, 300.0), (300.0, 100.0)], 1), 1);
}

#[test]
fn sheets_that_are_alike_are_told_once() {
    let plan = plan(&[film(&[(152.5, 152.5)])], 42, (305.0, 305.0));
    let times: Vec<u32> = plan.sheets.iter().map(|sheet| sheet.times).collect();
    assert_eq!((times, plan.count()), (vec![10, 1], 11));
}

/// Rectangles of all sheets, checked one against the other.
fn nothing_overlaps(films: &[Film], plan: &CutPlan, sheet: (f64, f64)) {
    for on in &plan.sheets {
        let mut boxes: Vec<[f64; 4]> = Vec::new();
        for laid in &on.pieces {
            let (w, h) = films[laid.film].pieces[laid.piece].size_mm;
            let (w, h) = if laid.quarter % 2 == 1 { (h, w) } else { (w, h) };
            let (x, y) = laid.at_mm;
            assert!(x + w <= sheet.0 + 1e-6 && y + h <= sheet.1 + 1e-6, "{laid:?}");
            let apart = |b: &[f64; 4]| {
                b[2] <= x + 1e-6 || x + w <= b[0] + 1e-6 || b[3] <= y + 1e-6 || y + h <= b[1] + 1e-6
            };
            assert!(boxes.iter().all(apart), "{laid:?} overlaps");
            boxes.push([x, y, x + w, y + h]);
        }
    }
}

proptest::proptest! {
    #[test]
    fn every_piece_lies_on_a_sheet_and_on_no_other(
        sizes in proptest::collection::vec((17.0..300.0_f64, 17.0..200.0_f64), 1..30),
        quantity in 1..9_u32,
    ) {
        let films = [film(&sizes)];
        let plan = plan(&films, quantity, (305.0, 205.0));
        nothing_overlaps(&films, &plan, (305.0, 205.0));
        let laid: u32 = plan.sheets.iter().map(|sheet| sheet.times * sheet.pieces.len() as u32).sum();
        proptest::prop_assert_eq!(laid, quantity * sizes.len() as u32);
        // No fewer sheets than the area asks for.
        let area: f64 = sizes.iter().map(|(w, h)| w * h).sum::<f64>() * f64::from(quantity);
        proptest::prop_assert!(f64::from(plan.count()) * 305.0 * 205.0 >= area - 1e-6);
    }
}

/// A right-angled triangle in the upper left half of a square.
fn triangle(side: f64) -> FilmPiece {
    let body = vec![vec![[0.0, 0.0], [side, 0.0], [0.0, side]]];
    FilmPiece { body, ..FilmPiece::rectangle(side, side) }
}

#[test]
fn triangles_lie_two_to_a_square_where_they_may_be_turned() {
    // 100 of 30 mm: 50 squares and the rows that the steps between them cost; as rectangles, 100
    // squares on sheets of 9 by 9.
    let count = |turns: FilmTurns| {
        let films = [Film { turns, ..film_of(vec![triangle(30.0); 100]) }];
        plan(&films, 1, (280.0, 280.0)).count()
    };
    assert_eq!(count(FilmTurns::Quarter), 1);
    assert_eq!(count(FilmTurns::Half), 1);
    assert_eq!(count(FilmTurns::None), 2);
}

#[test]
fn a_piece_lies_in_the_hole_of_another() {
    let ring = |side: f64, hole: f64| {
        let (a, b) = (0.5 * (side - hole), 0.5 * (side + hole));
        let hole = vec![[a, a], [a, b], [b, b], [b, a]];
        let whole = FilmPiece::rectangle(side, side);
        FilmPiece { body: vec![whole.body[0].clone(), hole], ..whole }
    };
    let films = [film_of(vec![ring(200.0, 120.0), FilmPiece::rectangle(110.0, 110.0)])];
    let plan = plan(&films, 1, (205.0, 205.0));
    assert_eq!((plan.count(), plan.length_mm()), (1, 200.0));
    // 40000 - 14400 + 12100.
    assert!((plan.bodies_mm2 - 37_700.0).abs() < 1e-6, "{}", plan.bodies_mm2);
}

proptest::proptest! {
    #[test]
    fn nested_pieces_share_no_place_and_take_no_more_sheets_than_shelves(
        sides in proptest::collection::vec(20.0..120.0_f64, 1..25),
        quantity in 1..4_u32,
    ) {
        let films = [film_of(sides.iter().map(|&side| triangle(side)).collect())];
        let size = (305.0, 205.0);
        let nested = plan(&films, quantity, size);
        let boxes = [film(&sides.iter().map(|&side| (side, side)).collect::<Vec<_>>())];
        proptest::prop_assert!(nested.count() <= plan(&boxes, quantity, size).count());
        let mut laid = vec![0; sides.len()];
        for sheet in &nested.sheets {
            let mut bodies: Vec<Vec<Vec<[f64; 2]>>> = Vec::new();
            for piece in &sheet.pieces {
                laid[piece.piece] += sheet.times;
                let told = &films[0].pieces[piece.piece];
                let turn = |one: &Vec<[f64; 2]>| -> Vec<[f64; 2]> {
                    one.iter().map(|&at| piece.on_sheet(told.size_mm, at)).collect()
                };
                let body: Vec<_> = told.body.iter().map(turn).collect();
                for &[x, y] in body.iter().flatten() {
                    proptest::prop_assert!((-1e-6..=size.0 + 1e-6).contains(&x));
                    proptest::prop_assert!((-1e-6..=sheet.length_mm + 1e-6).contains(&y));
                    proptest::prop_assert!(sheet.length_mm <= size.1 + 1e-6);
                }
                for other in &bodies {
                    // The overlay library is asked, not the rows by which they were laid.
                    let shared = other.overlay(&body, OverlayRule::Intersect, FillRule::EvenOdd);
                    let area: f64 = shared.iter().map(|shape| area(shape)).sum();
                    proptest::prop_assert!(area < 1e-3, "{area}");
                }
                bodies.push(body);
            }
        }
        proptest::prop_assert!(laid.iter().all(|times| *times == quantity));
    }
}

#[test]
fn six_hundred_different_pieces_are_nested_with_bounded_work() {
    let sides = (0..600).map(|n| 20.0 + 0.05 * f64::from(n));
    let films = [film_of(sides.map(triangle).collect())];
    let begun = std::time::Instant::now();
    let nested = plan(&films, 1, (305.0, 305.0));
    // Some 0.5 s here.
    assert!(begun.elapsed() < std::time::Duration::from_secs(20), "{:?}", begun.elapsed());
    let area: f64 = films[0].pieces.iter().map(FilmPiece::body_mm2).sum();
    let used = nested.length_mm() * 305.0;
    assert!(area / used > 0.8, "{} of {used} mm² on {} sheets", area, nested.count());
}

#[test]
fn twenty_thousand_small_pieces_are_packed_at_once() {
    // All of different sizes, so that no run of equal ones helps.
    let sizes: Vec<(f64, f64)> = (0..20_000)
        .map(|n| (17.0 + f64::from(n % 141) * 0.1, 17.0 + f64::from(n) * 0.001))
        .collect();
    let begun = std::time::Instant::now();
    let films = [film(&sizes)];
    let plan = plan(&films, 1, (305.0, 305.0));
    // Some 10 ms here; squared growth would take seconds.
    assert!(begun.elapsed() < std::time::Duration::from_secs(2), "{:?}", begun.elapsed());
    assert_eq!(plan.sheets.iter().map(|sheet| sheet.pieces.len()).sum::<usize>(), 20_000);
    let area: f64 = sizes.iter().map(|(w, h)| w * h).sum();
    assert!(f64::from(plan.count()) * 305.0 * 305.0 < 1.4 * area);
}
