//! The four sides show the art where the tape measure has it: colours of patches are looked up in the
//! pictures at places worked out by plain geometry.

use glam::DVec3;
use picture::sides::{Side, Sides};
use picture::{Camera, build_scene};

/// Girths at rim and foot and length of wall, mm.
const RIM_MM: f64 = 276.0;
const FOOT_MM: f64 = 212.0;
const WALL_MM: f64 = 168.0;

/// Patches: colour, middle round from the front in degrees, middle along in mm.
const PATCHES: [(&str, [u8; 3], f64, f64); 6] = [
    ("red", [200, 30, 30], 0.0, 40.0),
    ("green", [30, 160, 40], 30.0, 120.0),
    ("blue", [40, 60, 200], 90.0, 60.0),
    ("yellow", [220, 200, 30], 180.0, 90.0),
    ("violet", [150, 40, 170], 215.0, 40.0),
    ("cyan", [30, 190, 200], 270.0, 110.0),
];

fn piece() -> String {
    let mut text = format!(
        "cupwright = 1\ntitle = \"Patches\"\n[colours]\nwhite = \"#f4f4f0\"\n{}\n[[part]]\n\
         name = \"body\"\ncolour = \"white\"\nrevolved = [ {{ along = \"0 mm\", \
         circumference = \"{RIM_MM} mm\" }}, {{ along = \"{WALL_MM} mm\", \
         circumference = \"{FOOT_MM} mm\" }} ]\n",
        PATCHES
            .map(|(name, [r, g, b], ..)| format!("{name} = \"#{r:02x}{g:02x}{b:02x}\""))
            .join("\n")
    );
    for (name, _, around, along) in PATCHES {
        text += &format!(
            "[[zone]]\nname = \"{name}\"\npart = \"body\"\nband = {{ from = \"{} mm\", to = \"{} mm\" \
             }}\nwindow = {{ from = \"{} deg\", to = \"{} deg\" }}\npaint = {{ colour = \"{name}\" }}\n",
            along - 5.0,
            along + 5.0,
            around - 7.0,
            around + 7.0,
        );
    }
    text
}

/// A place of the bare cone in space: front towards +x, right towards +y, the foot at 0.
fn place(around_deg: f64, along_mm: f64) -> DVec3 {
    let turn = std::f64::consts::TAU;
    let radius = |share: f64| (RIM_MM + (FOOT_MM - RIM_MM) * share) / turn;
    let lean = radius(0.0) - radius(1.0);
    let height_mm = libm::sqrt(WALL_MM * WALL_MM - lean * lean);
    let share = along_mm / WALL_MM;
    let (sine, cosine) = libm::sincos(around_deg.to_radians());
    DVec3::new(radius(share) * cosine, radius(share) * sine, height_mm * (1.0 - share))
}

/// Mean colour of the nine pixels about a place of a picture.
fn colour(image: &picture::Image, (x, y): (f64, f64)) -> [f64; 3] {
    let (x, y) = ((x * image.width as f64) as usize, (y * image.height as f64) as usize);
    let mut sum = [0.0; 3];
    for (row, column) in (y - 1..=y + 1).flat_map(|row| (x - 1..=x + 1).map(move |c| (row, c))) {
        for (k, sum) in sum.iter_mut().enumerate() {
            *sum += f64::from(image.rgb[(row * image.width + column) * 3 + k]) / 9.0;
        }
    }
    sum
}

/// The patch whose hue a colour has; `None` for grey.
fn named(seen: [f64; 3]) -> Option<&'static str> {
    let direction = |c: [f64; 3]| {
        let mean = c.iter().sum::<f64>() / 3.0;
        let off = c.map(|v| v - mean);
        let length = libm::sqrt(off.iter().map(|v| v * v).sum());
        (off.map(|v| v / length.max(1e-9)), length)
    };
    let (hue, strength) = direction(seen);
    if strength < 25.0 {
        return None;
    }
    let likeness = |rgb: [u8; 3]| {
        let (other, _) = direction(rgb.map(f64::from));
        hue.iter().zip(other).map(|(a, b)| a * b).sum::<f64>()
    };
    let best = PATCHES.iter().max_by(|a, b| likeness(a.1).total_cmp(&likeness(b.1)));
    best.map(|(name, ..)| *name)
}

fn sides() -> Sides {
    let piece: piece::Piece = piece().parse().unwrap_or_else(|faults| panic!("{faults:?}"));
    let settings = piece::Settings::demo();
    let shape = shape::shape(&piece, &settings).expect("a shape");
    let stones = stones::lay_stones(&piece, &shape, &settings, &mut |_| true).expect("no stones");
    Sides::of(&build_scene(&piece, &shape, &stones))
}

#[test]
fn each_patch_is_seen_where_the_tape_has_it_and_nowhere_else() {
    let sides = sides();
    let mut seen = 0;
    for (side, camera, image) in &sides.views {
        for (name, _, around, along_mm) in PATCHES {
            let place = place(around, along_mm);
            // Well on this side, or it is hidden or too slanted to tell its colour.
            let off = (around - f64::from(side.degrees()) + 540.0).rem_euclid(360.0) - 180.0;
            if off.abs() > 50.0 {
                continue;
            }
            seen += 1;
            assert_eq!(named(colour(image, camera.seen(place))), Some(name), "{side:?}");
            // Right of the middle is right as one looks at that side.
            let (x, _) = camera.seen(place);
            assert!(off == 0.0 && (x - 0.5).abs() < 0.01 || (x > 0.5) == (off > 0.0), "{side:?}");
            if off != 0.0 {
                let mirrored = f64::from(side.degrees()) - off;
                let there = colour(image, camera.seen(self::place(mirrored, along_mm)));
                assert_ne!(named(there), Some(name), "{side:?} is mirrored");
            }
        }
    }
    // Each of the four on its own side, and two on one side each besides.
    assert_eq!(seen, 6);
}

#[test]
fn all_sides_are_of_one_scale_with_the_axis_in_the_middle() {
    let sides = sides();
    let (width, height) = sides.size();
    assert!(height > width, "a tall cup has a tall picture: {width} by {height}");
    let spot = |camera: &Camera, side: Side| {
        let around = f64::from(side.degrees());
        [place(around, 0.0), place(around, WALL_MM), place(around + 90.0, 0.0)]
            .map(|place| camera.seen(place))
    };
    let [front, rest @ ..] = &sides.views;
    let front = spot(&front.1, front.0);
    assert!((front[0].0 - 0.5).abs() < 1e-3 && (front[1].0 - 0.5).abs() < 1e-3, "{front:?}");
    for (side, camera, _) in rest {
        for (here, there) in spot(camera, *side).iter().zip(front) {
            assert!((here.0 - there.0).abs() < 1e-3 && (here.1 - there.1).abs() < 1e-3, "{side:?}");
        }
    }
}
