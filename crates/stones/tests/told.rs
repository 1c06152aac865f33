//! What a maker is told of a design that can be laid, but would not look or hold as meant.

mod support;

use piece::settings::DrawerStones;
use piece::{Colouring, Finish, Settings, StoneMaterial, StonePicture, Way};
use shape::shape;
use std::f64::consts::{FRAC_PI_2, PI};
use std::sync::Arc;
use stones::lay_stones;
use support::{Laid, band, body, lay, lay_as, plate, read, rows, scatter, try_lay};

const WALL: [(f64, f64); 2] = [(0.0, 37.0), (120.0, 37.0)];

fn told<'a>(laid: &'a Laid, about: &str) -> Vec<&'a str> {
    let texts = laid.stones.notes.iter().map(|note| note.message.as_str());
    texts.filter(|text| text.contains(about)).collect()
}

#[test]
fn a_large_flat_back_on_a_curved_wall_is_told_with_its_rise() {
    let of_size = |size: &str, measures: &[(f64, f64)]| {
        lay(&body(measures, &rows("moon", &band(20.0, 80.0), "level", size, 0.1)))
    };
    let laid = of_size("SS48", &WALL);
    // The sagitta of a circle, R - sqrt(R² - r²), as in any handbook of geometry (from memory): 0.41 mm for
    // a flat back of 11 mm; and r = sqrt(2 R 0.2 - 0.04) = 3.84 for one of 0.2 mm.
    let rise_mm = 37.0 - (37.0 * 37.0 - 5.5 * 5.5_f64).sqrt();
    let count = laid.stones.stones.len();
    let [text] = told(&laid, "off the curved wall")[..] else { panic!("{:?}", laid.stones.notes) };
    assert!(text.starts_with(&format!("{count} stones stand")), "{text}");
    assert!(text.contains(&format!("SS48 (11 mm) by up to {rise_mm:.2} mm")), "{text}");
    let note = laid.stones.notes.iter().find(|note| note.message == text).expect("the note");
    assert!(note.hints[0].contains("up to 7.6 mm there"), "{:?}", note.hints);
    assert!(note.hints[0].contains("bond_line = \"0.45 mm\""), "{:?}", note.hints);
    assert!(told(&of_size("SS30", &WALL), "off the curved wall").is_empty());
    assert!(told(&of_size("SS48", &[(0.0, 90.0), (120.0, 90.0)]), "off the curved").is_empty());
    let text = plate("circle = \"80 mm\"", "", &[("SS48", 100.0)]);
    assert!(told(&lay(&text), "off the curved wall").is_empty());
    // Whoever has said what the glue fills has been asked already.
    let text = body(&WALL, &rows("moon", &band(20.0, 80.0), "level", "SS48", 0.1));
    let laid = lay_as(&text, |finish| finish.rules.bond_line_mm = Some(0.5));
    assert!(told(&laid, "off the curved wall").is_empty());
}

/// A band of 40 to 80 mm with a gradient.
fn graded(name: &str, from_mm: f64, to_mm: f64, way: Way) -> Laid {
    lay_as(&body(&WALL, &rows(name, &band(from_mm, to_mm), "level", "SS12", 0.1)), |finish| {
        let stops = vec![(0.0, 0), (1.0, 1)];
        finish.layers[0].colouring = Colouring::Gradient { way: way.clone(), stops };
    })
}

#[test]
fn a_gradient_outside_its_zone_is_told_with_what_is_lost() {
    let wall = |from, to| graded("tide", 40.0, 80.0, Way::Wall { along_mm: (from, to) });
    assert!(told(&wall(40.0, 80.0), "gradient").is_empty());
    assert!(told(&wall(50.0, 70.0), "gradient").is_empty());
    // Of 100 mm, 30 to 130, ten hundredths lie above the zone and fifty below.
    let laid = wall(30.0, 130.0);
    let [text] = told(&laid, "gradient")[..] else { panic!("{:?}", laid.stones.notes) };
    assert_eq!(
        text,
        "the gradient of zone \"tide\" lies partly outside it: its first 10 % and its last 50 % fall \
         where no stone lies"
    );
    let note = laid.stones.notes.iter().find(|note| note.message == text).expect("the note");
    assert!(note.hints[0].contains("wall = [\"40 mm\", \"80 mm\"]"), "{:?}", note.hints);
    assert_eq!(note.path.0, "zone[0].stones.gradient");
    let upward = wall(100.0, 40.0);
    let [text] = told(&upward, "gradient")[..] else { panic!("{:?}", upward.stones.notes) };
    assert!(text.contains("its first 33 % falls"), "{text}");
    for (laid, end) in [(wall(90.0, 110.0), "beginning"), (wall(5.0, 30.0), "end")] {
        let [text] = told(&laid, "gradient")[..] else { panic!("{:?}", laid.stones.notes) };
        assert!(text.ends_with(&format!("every stone is as at its {end}")), "{text}");
    }
}

#[test]
fn a_gradient_round_a_window_is_told_in_degrees() {
    let window = "window = { from = \"-45 deg\", to = \"45 deg\" }";
    let text =
        body(&WALL, &rows("tide", &(band(40.0, 80.0) + "\n" + window), "level", "SS12", 0.1));
    let way = Way::Around { around: (-FRAC_PI_2, FRAC_PI_2) };
    let laid = lay_as(&text, |finish| {
        let stops = vec![(0.0, 0), (1.0, 1)];
        finish.layers[0].colouring = Colouring::Gradient { way: way.clone(), stops };
    });
    let [text] = told(&laid, "gradient")[..] else { panic!("{:?}", laid.stones.notes) };
    assert!(text.contains("its first 25 % and its last 25 %"), "{text}");
    let note = laid.stones.notes.iter().find(|note| note.message == text).expect("the note");
    assert!(note.hints[0].contains("around = [\"-45 deg\", \"45 deg\"]"), "{:?}", note.hints);
}

#[test]
fn zones_that_share_a_way_show_it_together() {
    let two = rows("upper", &band(20.0, 60.0), "level", "SS12", 0.1)
        + &rows("lower", &band(60.0, 100.0), "level", "SS12", 0.1);
    let mut piece = read(&body(&WALL, &two));
    let laid = |piece: &piece::Piece| {
        let shape = shape(piece, &Settings::demo()).expect("sound zones");
        let stones = lay_stones(piece, &shape, &Settings::demo(), &mut |_| true).expect("stones");
        Laid { piece: piece.clone(), shape, stones }
    };
    let mut give = |zone: usize, along_mm: (f64, f64)| {
        if let Finish::Stones(finish) = &mut piece.zones[zone].finish {
            let way = Way::Wall { along_mm };
            finish.layers[0].colouring =
                Colouring::Gradient { way, stops: vec![(0.0, 0), (1.0, 1)] };
        }
        laid(&piece)
    };
    assert_eq!(told(&give(0, (20.0, 100.0)), "gradient").len(), 1);
    assert!(told(&give(1, (20.0, 100.0)), "gradient").is_empty());
    let beyond = give(1, (20.0, 110.0));
    assert_eq!(told(&beyond, "gradient").len(), 2);
}

#[test]
fn a_picture_outside_its_zone_is_told_with_its_share() {
    // 40 mm square, set on the band from 40 to 80 mm.
    let at = |along_mm: f64, around: f64| {
        let picture = StonePicture {
            size: (2, 2),
            srgb: vec![[31, 111, 120], [232, 238, 240], [232, 238, 240], [31, 111, 120]],
            width_mm: 40.0,
            along_mm,
            around,
        };
        let window = "window = { from = \"-90 deg\", to = \"90 deg\" }";
        let region = band(40.0, 80.0) + "\n" + window;
        lay_as(&body(&WALL, &rows("tide", &region, "level", "SS12", 0.1)), |finish| {
            finish.layers[0].colouring = Colouring::Picture(Arc::new(picture.clone()));
        })
    };
    assert!(told(&at(60.0, 0.0), "picture").is_empty());
    let half = at(40.0, 0.0);
    let [text] = told(&half, "picture")[..] else { panic!("{:?}", half.stones.notes) };
    assert!(text.contains("partly outside it: 50 % of it"), "{text}");
    // Its middle on the side of the window: half of it lies beyond.
    let side = at(60.0, FRAC_PI_2);
    assert!(told(&side, "picture")[0].contains("50 % of it"), "{:?}", side.stones.notes);
    let behind = at(60.0, PI);
    assert!(told(&behind, "picture")[0].contains("wholly outside it"), "{:?}", behind.stones.notes);
}

#[test]
fn a_scatter_that_the_drawer_cuts_short_says_how_much_stays_bare() {
    let piece = read(&body(&WALL, &scatter("tide", &band(20.0, 100.0), &[("SS10", 100.0)], 0.1)));
    let laid = |held: u32| {
        let mut piece = piece.clone();
        if let Finish::Stones(finish) = &mut piece.zones[0].finish {
            finish.rules.from_drawer = true;
        }
        let settings = Settings {
            drawer: vec![DrawerStones {
                size: "SS10".to_owned(),
                colour: "ebb".to_owned(),
                material: StoneMaterial::Glass,
                count: held,
            }],
            ..Settings::demo()
        };
        let shape = shape(&piece, &settings).expect("a sound zone");
        let stones = lay_stones(&piece, &shape, &settings, &mut |_| true).expect("stones");
        Laid { piece, shape, stones }
    };
    // Without end.
    let full = laid(100_000);
    assert!(told(&full, "stays bare").is_empty(), "{:?}", full.stones.notes);
    let most = full.stones.stones.len();
    let short = laid(most as u32 / 2);
    let [text] = told(&short, "stays bare")[..] else { panic!("{:?}", short.stones.notes) };
    let share: f64 = text
        .split("about ")
        .nth(1)
        .and_then(|rest| rest.split(' ').next()?.parse().ok())
        .expect("a share");
    // Half of the stones of a full zone cover half of it, if they lie as close (own model).
    assert!((share - 50.0).abs() < 6.0, "{text}");
}

#[test]
fn a_spiral_without_room_for_a_turn_says_how_wide_it_must_be() {
    let of_width = |to_mm: f64| {
        try_lay(&body(&WALL, &rows("tide", &band(20.0, to_mm), "spiral", "SS10", 0.1)))
    };
    let faults = of_width(24.0).err().expect("no turn");
    // In a honeycomb rows lie the pitch times the height of an equilateral triangle apart: 0.866 x 2.9 =
    // 2.51 mm, and a stone is 2.8 mm.
    assert!(faults[0].message.contains("at least 5.3 mm wide"), "{}", faults[0].message);
    assert!(faults[0].message.contains("takes 4.0 mm"), "{}", faults[0].message);
    assert!(of_width(26.0).is_ok());
}

#[test]
fn pockets_without_any_and_a_distance_without_effect_are_told() {
    let of = |stones: &str| {
        let zone =
            format!("[[zone]]\nname = \"tide\"\npart = \"body\"\n{}\n{stones}", band(20.0, 60.0));
        lay(&body(&WALL, &zone))
    };
    let rows = "[[zone.stones]]\nlayout = \"rows\"\nsize = \"SS6\"\ncolour = \"ebb\"\n";
    // Between three stones that touch but for the gap lies a circle of 2/sqrt 3 - 1 of their reach (Soddy):
    // far less than one of them.
    let none = of(&format!(
        "{rows}[[zone.stones]]\nlayout = \"pockets\"\nsize = \"SS6\"\ncolour = \"foam\"\n"
    ));
    assert_eq!(
        told(&none, "pockets"),
        ["no stone is laid in the pockets of zone \"tide\": none of them takes SS6 (2 mm)"]
    );
    assert!(none.stones.stones.iter().all(|stone| stone.layer == 0));
    let sparse = |apart_mm: f64| {
        of(&format!(
            "stones = {{ layout = \"sparse\", size = \"SS10\", apart = \"{apart_mm} mm\", colour = \"ebb\" }}"
        ))
    };
    // 2.8 mm and the gap of a hand, 0.1 mm.
    let near = sparse(1.0);
    let [text] = told(&near, "changes nothing")[..] else { panic!("{:?}", near.stones.notes) };
    assert!(text.contains("SS10 (2.8 mm) with their gap are 2.9 mm apart"), "{text}");
    assert!(told(&sparse(6.0), "changes nothing").is_empty());
}
