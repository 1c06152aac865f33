//! Colours of stones: differences, gradients, pictures, mingling.

mod support;

use palette::color_difference::Ciede2000;
use palette::{IntoColor, Lab, Srgb};
use piece::{Colour, Colouring, Finish, Piece, Settings, StonePicture, Way};
use shape::{Surface, SurfacePoint, shape};
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;
use stones::colour::{Course, ciede2000, difference, near_colours};
use stones::{Stone, lay_stones, mingling, picture_difference};
use support::{Laid, band, body, lay, read, rows, scatter};

/// Straight walls of a cup, mm.
const CUP: [(f64, f64); 2] = [(0.0, 40.0), (150.0, 40.0)];
/// A cone.
const CONE: [(f64, f64); 2] = [(0.0, 44.0), (150.0, 32.0)];

/// Lays a piece after a change of the colouring of its first zone.
fn lay_coloured(text: &str, colours: &[(&str, [u8; 3])], colouring: Colouring) -> Laid {
    let mut piece = read(text);
    piece.colours = colours
        .iter()
        .enumerate()
        .map(|(number, (name, srgb))| Colour {
            name: (*name).to_owned(),
            srgb: *srgb,
            letter: char::from(b'A' + number as u8).to_string(),
        })
        .collect();
    let Finish::Stones(finish) = &mut piece.zones[0].finish else { panic!("no stones") };
    finish.layers[0].colouring = colouring;
    finish.layers[0].colours =
        (0..colours.len()).map(|colour| (colour, 1.0 / colours.len() as f64)).collect();
    laid(piece)
}

fn laid(piece: Piece) -> Laid {
    let shape = shape(&piece, &Settings::demo()).unwrap_or_else(|faults| panic!("{faults:?}"));
    let stones = lay_stones(&piece, &shape, &Settings::demo(), &mut |_| true)
        .unwrap_or_else(|faults| panic!("{faults:?}"));
    Laid { piece, shape, stones }
}

/// Lab 1, Lab 2 and CIEDE2000: G. Sharma, W. Wu, E. N. Dalal, "The CIEDE2000 color-difference
/// formula: implementation notes, supplementary test data, and mathematical observations", Color
/// Research and Application 30 (2005), table 1; as published with the paper and as in the tests of
/// the library palette and of OpenIMAJ, which agree.
const SHARMA: [[f64; 7]; 34] = [
    [50.0, 2.6772, -79.7751, 50.0, 0.0, -82.7485, 2.0425],
    [50.0, 3.1571, -77.2803, 50.0, 0.0, -82.7485, 2.8615],
    [50.0, 2.8361, -74.02, 50.0, 0.0, -82.7485, 3.4412],
    [50.0, -1.3802, -84.2814, 50.0, 0.0, -82.7485, 1.0],
    [50.0, -1.1848, -84.8006, 50.0, 0.0, -82.7485, 1.0],
    [50.0, -0.9009, -85.5211, 50.0, 0.0, -82.7485, 1.0],
    [50.0, 0.0, 0.0, 50.0, -1.0, 2.0, 2.3669],
    [50.0, -1.0, 2.0, 50.0, 0.0, 0.0, 2.3669],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0009, 7.1792],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.001, 7.1792],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0011, 7.2195],
    [50.0, 2.49, -0.001, 50.0, -2.49, 0.0012, 7.2195],
    [50.0, -0.001, 2.49, 50.0, 0.0009, -2.49, 4.8045],
    [50.0, -0.001, 2.49, 50.0, 0.001, -2.49, 4.8045],
    [50.0, -0.001, 2.49, 50.0, 0.0011, -2.49, 4.7461],
    [50.0, 2.5, 0.0, 50.0, 0.0, -2.5, 4.3065],
    [50.0, 2.5, 0.0, 73.0, 25.0, -18.0, 27.1492],
    [50.0, 2.5, 0.0, 61.0, -5.0, 29.0, 22.8977],
    [50.0, 2.5, 0.0, 56.0, -27.0, -3.0, 31.903],
    [50.0, 2.5, 0.0, 58.0, 24.0, 15.0, 19.4535],
    [50.0, 2.5, 0.0, 50.0, 3.1736, 0.5854, 1.0],
    [50.0, 2.5, 0.0, 50.0, 3.2972, 0.0, 1.0],
    [50.0, 2.5, 0.0, 50.0, 1.8634, 0.5757, 1.0],
    [50.0, 2.5, 0.0, 50.0, 3.2592, 0.335, 1.0],
    [60.2574, -34.0099, 36.2677, 60.4626, -34.1751, 39.4387, 1.2644],
    [63.0109, -31.0961, -5.8663, 62.8187, -29.7946, -4.0864, 1.263],
    [61.2901, 3.7196, -5.3901, 61.4292, 2.248, -4.962, 1.8731],
    [35.0831, -44.1164, 3.7933, 35.0232, -40.0716, 1.5901, 1.8645],
    [22.7233, 20.0904, -46.694, 23.0331, 14.973, -42.5619, 2.0373],
    [36.4612, 47.858, 18.3852, 36.2715, 50.5065, 21.2231, 1.4146],
    [90.8027, -2.0831, 1.441, 91.1528, -1.6435, 0.0447, 1.4441],
    [90.9257, -0.5406, -0.9208, 88.6381, -0.8985, -0.7239, 1.5381],
    [6.7747, -0.2908, -2.4247, 5.8714, -0.0985, -2.2286, 0.6377],
    [2.0776, 0.0795, -1.135, 0.9033, -0.0636, -0.5514, 0.9082],
];

#[test]
fn ciede2000_gives_all_34_published_pairs() {
    for [l1, a1, b1, l2, a2, b2, published] in SHARMA {
        let there = ciede2000([l1, a1, b1], [l2, a2, b2]);
        let back = ciede2000([l2, a2, b2], [l1, a1, b1]);
        assert!((there - published).abs() < 1e-4, "{there} is not {published}");
        assert!((back - published).abs() < 1e-4, "{back} is not {published}");
    }
}

#[test]
fn light_that_adds_up_differs_as_the_colour_library_says() {
    for (a, b) in [
        ([18, 52, 59], [201, 178, 143]),
        ([255, 255, 255], [0, 0, 0]),
        ([200, 30, 40], [190, 40, 45]),
        ([12, 200, 90], [240, 240, 10]),
    ] {
        let lab = |[r, g, b]: [u8; 3]| -> Lab<palette::white_point::D65, f64> {
            Srgb::new(r, g, b).into_linear().into_color()
        };
        let library = lab(a).difference(lab(b));
        assert!((difference(a, b) - library).abs() < 2e-3, "{} {library}", difference(a, b));
    }
}

#[test]
fn colours_of_the_library_come_from_libm() {
    // Powers and angles of the standard library differ from machine to machine in the last bit.
    let lab: Lab<palette::white_point::D65, f64> =
        Srgb::new(90_u8, 140, 33).into_linear().into_color();
    let hues: Vec<u64> = (0..64)
        .map(|turn| {
            let turn = f64::from(turn) / 10.0;
            let other = Lab::new(50.0, 60.0 * libm::cos(turn), 60.0 * libm::sin(turn));
            lab.difference(other).to_bits()
        })
        .collect();
    assert_eq!(
        piece::fnv::fnv1a_64(piece::fnv::EMPTY, format!("{hues:?}").as_bytes()),
        16_698_692_729_711_422_784
    );
}

#[test]
fn a_way_runs_from_0_to_1_down_the_wall_round_the_part_and_along_a_line() {
    let cup = surface(&CUP);
    let at = |around: f64, along_mm: f64| SurfacePoint { around, along_mm };
    let wall = Course::new(&Way::Wall { along_mm: (120.0, 20.0) }, &cup);
    assert_eq!([130.0, 95.0, 0.0].map(|along| wall.share(at(2.0, along))), [0.0, 0.25, 1.0]);
    let round = Course::new(&Way::Around { around: (FRAC_PI_2, 3.0 * FRAC_PI_2) }, &cup);
    // Across the back, where angles leap from half a turn to minus half a turn.
    let shares = [FRAC_PI_2, PI, -PI, -0.75 * PI].map(|around| round.share(at(around, 9.0)));
    let asked = [0.0, 0.5, 0.5, 0.75];
    assert!(shares.iter().zip(asked).all(|(is, asked)| (is - asked).abs() < 1e-12), "{shares:?}");
    assert_eq!([0.2, -0.2].map(|around| round.share(at(around, 9.0))), [0.0, 1.0]);
    // On a cylinder of 40 mm a line from (0, 20) to (1 rad, 60) is a straight line of the unrolled
    // wall from (0, 20) to (40, 60) mm: the foot of (40, 20) is its middle.
    let line = Way::Line { corners: vec![(0.0, 20.0), (1.0, 60.0)] };
    let line = Course::new(&line, &cup);
    assert!((line.share(at(1.0, 20.0)) - 0.5).abs() < 1e-9);
    assert!((line.share(at(0.25, 30.0)) - 0.25).abs() < 1e-9);
    // The same wall under a coat: ways are drawn on the bare part.
    let under = Way::Line { corners: vec![(0.0, 20.0), (1.0, 60.0)] };
    let grown = Course::new(&under, &cup.grown(2.0));
    assert!((grown.share(at(1.0, 20.0)) - 0.5).abs() < 1e-9);
    // A corner where two legs meet: 60 mm of 80 mm.
    let bent = Way::Line { corners: vec![(0.0, 20.0), (0.0, 80.0), (0.5, 80.0)] };
    assert!((Course::new(&bent, &cup).share(at(-0.1, 80.0)) - 0.75).abs() < 1e-9);
}

fn surface(measures: &[(f64, f64)]) -> Surface {
    laid(read(&body(measures, ""))).shape.parts[0].surface.clone()
}

/// Pairs of stones that are each among the other's near ones, by number.
fn joins(stones: &[Stone]) -> Vec<(usize, usize)> {
    let mut joins = Vec::new();
    for (i, a) in stones.iter().enumerate() {
        for (j, b) in stones[..i].iter().enumerate() {
            let clear = a.centre_mm.distance(b.centre_mm) - (a.diameter_mm + b.diameter_mm) / 2.0;
            if clear < 0.4 * a.diameter_mm.min(b.diameter_mm) {
                joins.push((i, j));
            }
        }
    }
    joins
}

#[test]
fn a_gradient_follows_its_ramp_and_stays_mingled() {
    let texts = [
        rows("tide", &band(10.0, 130.0), "level", "SS10", 0.1),
        scatter("tide", &band(10.0, 130.0), &[("SS16", 30.0), ("SS10", 40.0), ("SS6", 30.0)], 0.1),
    ];
    let three = [("foam", [232, 238, 240]), ("ebb", [31, 111, 120]), ("night", [18, 52, 59])];
    let stops = vec![(0.0, 0), (0.5, 1), (1.0, 2)];
    let ways = [
        Way::Wall { along_mm: (30.0, 110.0) },
        Way::Around { around: (-FRAC_PI_2, FRAC_PI_2) },
        Way::Line { corners: vec![(-1.2, 20.0), (0.0, 120.0), (1.2, 20.0)] },
    ];
    for (text, measures) in texts.iter().zip([CUP, CONE]) {
        for way in &ways {
            let colouring = Colouring::Gradient { way: way.clone(), stops: stops.clone() };
            let laid = lay_coloured(&body(&measures, text), &three, colouring);
            let stones = &laid.stones.stones;
            let course = Course::new(way, &laid.shape.zones[0].surface);
            let wanted: Vec<[f64; 3]> = stones
                .iter()
                .map(|stone| {
                    let share = 2.0 * course.share(stone.at);
                    [(1.0 - share).max(0.0), 1.0 - (share - 1.0).abs(), (share - 1.0).max(0.0)]
                })
                .collect();
            for slice in 0..20 {
                let of: Vec<usize> = (0..stones.len())
                    .filter(|one| (course.share(stones[*one].at) * 20.0).min(19.0) as u32 == slice)
                    .collect();
                // Dealt out by chance, half and half of a hundred stones would stray by 15 (three
                // times the binomial spread).
                let most = 0.06 * of.len() as f64 + 1.0;
                let counted = |colour: usize| {
                    let is = of.iter().filter(|one| stones[**one].colour == colour).count() as f64;
                    (is, of.iter().map(|one| wanted[*one][colour]).sum::<f64>())
                };
                for (is, asked) in [0, 1, 2].map(counted) {
                    assert!((is - asked).abs() <= most, "{is} instead of {asked}: {way:?}");
                }
            }
            let (mut alike, mut by_chance) = (0.0, 0.0);
            let joins = joins(stones);
            for &(i, j) in &joins {
                alike += f64::from(u8::from(stones[i].colour == stones[j].colour));
                by_chance +=
                    (0..3).map(|colour| wanted[i][colour] * wanted[j][colour]).sum::<f64>();
            }
            // Where a colour is pure, all are alike by any means: those joins are left out.
            let pure = joins
                .iter()
                .filter(|(i, j)| [i, j].iter().all(|one| wanted[**one].contains(&1.0)))
                .count() as f64;
            assert!(alike - pure < 0.92 * (by_chance - pure), "{alike} {by_chance} {pure}");
        }
    }
}

/// A heron at dusk, 200 by 150 pixels: a sky that darkens upwards and reddens to the right, a low
/// sun, and the bird before it.
fn dusk() -> StonePicture {
    let (wide, high) = (200_usize, 150_usize);
    let pixel = |x: usize, y: usize| {
        let (u, v) = (x as f64 / wide as f64, y as f64 / high as f64);
        let within = |cx: f64, cy: f64, rx: f64, ry: f64, tilt: f64| {
            let (dx, dy) = (x as f64 - cx, y as f64 - cy);
            let (c, s) = (libm::cos(tilt), libm::sin(tilt));
            let (p, q) = ((dx * c + dy * s) / rx, (dy * c - dx * s) / ry);
            p * p + q * q <= 1.0
        };
        let bird = within(95.0, 80.0, 30.0, 14.0, 0.35)
            || within(72.0, 52.0, 4.5, 26.0, -0.25)
            || within(62.0, 28.0, 9.0, 5.0, 0.1)
            || within(44.0, 31.0, 14.0, 1.8, -0.15)
            || within(96.0, 120.0, 2.0, 32.0, 0.05)
            || within(106.0, 120.0, 2.0, 32.0, -0.08);
        if bird {
            return [24, 38, 52];
        }
        if within(150.0, 95.0, 20.0, 20.0, 0.0) {
            return [255, 226, 150];
        }
        let mix = |from: f64, to: f64, share: f64| (from + (to - from) * share) as u8;
        [mix(60.0, 235.0, v * (0.4 + 0.6 * u)), mix(90.0, 170.0, v), mix(130.0, 140.0, 1.0 - u)]
    };
    StonePicture {
        size: (wide, high),
        srgb: (0..wide * high).map(|at| pixel(at % wide, at / wide)).collect(),
        width_mm: 160.0,
        along_mm: 70.0,
        around: 0.0,
    }
}

/// Colours of a small stock.
const STOCK: [(&str, [u8; 3]); 7] = [
    ("night", [18, 30, 45]),
    ("ebb", [60, 95, 130]),
    ("reed", [110, 130, 90]),
    ("dusk", [230, 160, 130]),
    ("rust", [150, 70, 45]),
    ("foam", [232, 238, 240]),
    ("sun", [250, 215, 120]),
];

#[test]
fn a_picture_is_nearer_in_diffused_stones_than_in_the_nearest_colours() {
    let texts = [
        rows("dusk", &band(5.0, 135.0), "level", "SS8", 0.1),
        scatter("dusk", &band(5.0, 135.0), &[("SS16", 30.0), ("SS10", 40.0), ("SS6", 30.0)], 0.1),
    ];
    for text in texts {
        let colouring = Colouring::Picture(Arc::new(dusk()));
        let Laid { piece, shape, mut stones } = lay_coloured(&body(&CUP, &text), &STOCK, colouring);
        let surface = &shape.zones[0].surface;
        let diffused = picture_difference(&piece, surface, 0, &stones.stones).unwrap_or(f64::NAN);
        // Summed up in another order, as the stones are set in patches since.
        let told = stones.zones[0].quality.picture.unwrap_or(f64::NAN);
        assert!((told - diffused).abs() < 1e-9, "{told} and {diffused}");
        let picture = dusk();
        for stone in &mut stones.stones {
            let x = stone.at.around * 40.0 / 160.0 * 200.0 + 100.0;
            let y = (stone.at.along_mm - 70.0) / 160.0 * 200.0 + 75.0;
            let outside = !(0.0..200.0).contains(&x) || !(0.0..150.0).contains(&y);
            if !outside {
                let srgb = picture.srgb[y as usize * 200 + x as usize];
                let far = |colour: &usize| difference(srgb, STOCK[*colour].1);
                stone.colour =
                    (0..STOCK.len()).min_by(|a, b| far(a).total_cmp(&far(b))).unwrap_or(0);
            }
        }
        let nearest = picture_difference(&piece, surface, 0, &stones.stones).unwrap_or(f64::NAN);
        assert!(diffused < 2.5 && diffused < 0.5 * nearest, "{diffused} {nearest}");
    }
}

#[test]
fn mingling_is_1_by_chance_below_it_when_mingled_and_above_it_in_clumps() {
    let text = body(&CUP, &rows("tide", &band(10.0, 130.0), "level", "SS10", 0.1));
    let mut stones = lay(&text).stones.stones;
    let ratio = |stones: &[Stone]| mingling(stones).map_or(f64::NAN, |is| is.against_chance());
    let mingled = ratio(&stones);
    assert!((0.6..0.92).contains(&mingled), "{mingled}");
    // Half and half dealt out by a multiplicative hash (Knuth, The Art of Computer Programming 6.4):
    // without replacement (n / 2 - 1) / (n - 1), just under a half.
    for (number, stone) in stones.iter_mut().enumerate() {
        let hash = (number as u64).wrapping_add(1).wrapping_mul(0x9E37_79B9_7F4A_7C15);
        stone.colour = (hash ^ (hash >> 29)).wrapping_mul(0xBF58_476D_1CE4_E5B9) as usize >> 62 & 1;
    }
    let by_chance = mingling(&stones).map_or(f64::NAN, |is| is.by_chance);
    assert!((by_chance - 0.5).abs() < 0.01, "{by_chance}");
    assert!((ratio(&stones) - 1.0).abs() < 0.03, "{}", ratio(&stones));
    for stone in &mut stones {
        stone.colour = usize::from(stone.at.around > 0.0);
    }
    assert!(ratio(&stones) > 1.8);
    for stone in &mut stones {
        stone.colour = 3;
    }
    assert_eq!(mingling(&stones), None);
}

#[test]
fn colours_that_look_alike_are_told_apart_by_their_letters() {
    let text = rows("tide", &band(10.0, 60.0), "level", "SS10", 0.1);
    let colours = [("foam", [232, 238, 240]), ("mist", [228, 234, 238]), ("night", [18, 52, 59])];
    let laid = lay_coloured(&body(&CUP, &text), &colours, Colouring::Mingled);
    assert_eq!(near_colours(&laid.piece.colours, &[0, 1, 2]), [(0, 1)]);
    let said: Vec<&str> = laid.stones.notes.iter().map(|note| note.message.as_str()).collect();
    assert!(
        said.iter().any(|said| said.contains("only by their letters: foam (A) and mist (B)")),
        "{said:?}"
    );
}
