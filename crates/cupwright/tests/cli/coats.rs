//! `cupwright coats`: the pours of a piece, followed through the studio's room.

use crate::room::{Room, names};

/// A straight cup with chunky glitter under clear coats, its lid, and stones.
const PIECE: &str = r##"cupwright = 1
title = "Samphire rim"

[colours]
"samphire" = "#3f6b3a"

[[part]]
name = "body"
revolved = [
  { along = "0 mm", radius = "36 mm" },
  { along = "150 mm", radius = "36 mm" },
]

[[zone]]
name = "bed"
part = "body"
band = { from = "25 mm", to = "140 mm" }
resin = { coats = 1, film = "0.2 mm" }

[[zone]]
name = "flakes"
part = "body"
band = { from = "25 mm", to = "140 mm" }
glitter = { colour = "samphire", flake = "1.6 mm" }

[[zone]]
name = "clear"
part = "body"
band = { from = "25 mm", to = "140 mm" }
resin = { coats = 4, film = "0.26 mm" }
"##;

fn studio(room: &Room, edit: impl FnOnce(String) -> String) {
    let text = include_str!("../../../../examples/studio.toml").to_owned();
    room.write("studio.toml", edit(text));
}

#[test]
fn each_pour_is_told_with_its_waits_and_what_stays_on() {
    let room = Room::new();
    room.write("cup.toml", PIECE);
    let ran = room.run(&["coats", "cup.toml"]);
    ran.ended(0, &[]);
    for words in [
        "The sheet of slow clear epoxy at 24 °C (75 °F)",
        "In a room at 24 °C",
        "bed, 1 of 1",
        "clear, 4 of 4",
        "quick brushed sealer",
        "Pour coat 1 of 4 on body (clear)",
        "sand first after",
        "safety data sheet",
    ] {
        assert!(ran.stdout.contains(words), "{words}\n{}", ran.stdout);
    }
    let told: serde_json::Value =
        serde_json::from_str(&room.run(&["coats", "cup.toml", "--json"]).stdout).expect("JSON");
    let coats = &told["coats"];
    // In a room as warm as the sheet has it the waits are those of the sheet.
    assert_eq!(coats["waits"]["recoat_from_min"], 240.0);
    assert_eq!(coats["waits"]["recoat_to_min"], 480.0);
    assert_eq!(coats["waits"]["sandable_min"], 1440.0);
    assert_eq!(coats["waits"]["full_cure_min"], 4320.0);
    // What is told in words is there for a script too.
    let resin = &coats["resin"];
    assert!(resin["taken_as_usual"].as_array().is_some_and(|keys| !keys.is_empty()));
    // Film down a slope held to 5 mm, and 0.3 μ R / ρ g h² (both by hand from what is told beside).
    let clear = &resin["pours"][1];
    let (creep_mm, level_deg) = (clear["creep_mm"].as_f64(), clear["level_deg"].as_f64());
    let (creep_mm, level_deg) = (creep_mm.expect("a number"), level_deg.expect("a number"));
    assert!((creep_mm / 0.2 * level_deg / 5.0 - 1.0).abs() < 1e-3, "{creep_mm} {level_deg}");
    let standing_s = clear["standing_s"].as_f64().expect("a number");
    let by_hand_s = 0.3 * 36.6e-3 / (1050.0 * 9.80665 * 0.26e-3 * 0.26e-3);
    assert!((standing_s / by_hand_s - 1.0).abs() < 0.03, "{standing_s} {by_hand_s}");
    assert!(coats["dust"]["near_mg_m3"].is_number());
    // Moffatt's limit by hand at 6 rpm, 1 Pa s, 1.05 g/ml and 36.6 mm: 0.70708 √(Ω R μ / ρ g) = 1.056 mm.
    let share = coats["resin"]["pours"][1]["share_of_what_stays_on"].as_f64().expect("a number");
    assert!((share - 0.26 / 1.056).abs() < 0.005, "{share}");
}

#[test]
fn a_cold_night_makes_evenings_slower_and_a_cold_room_is_refused() {
    let room = Room::new();
    room.write("cup.toml", PIECE);
    let with = |room: &Room, lines: &str| {
        studio(room, |text| text.replace("\n[turner]", &format!("\n[room]\n{lines}\n[turner]")));
    };
    let waits = |room: &Room| -> f64 {
        let ran = room.run(&["coats", "cup.toml", "--studio", "studio.toml", "--json"]);
        let told: serde_json::Value = serde_json::from_str(&ran.stdout).expect("JSON");
        told["coats"]["waits"]["recoat_from_min"].as_f64().expect("a number")
    };
    with(&room, "temperature = \"24 C\"\nhumidity = \"50 %\"\n");
    let warm_min = waits(&room);
    with(&room, "day = \"24 C\"\nnight = \"19 C\"\n");
    let swinging_min = waits(&room);
    with(&room, "temperature = \"19 C\"\n");
    let cool_min = waits(&room);
    assert!(
        warm_min < swinging_min && swinging_min < cool_min,
        "{warm_min} {swinging_min} {cool_min}"
    );
    with(&room, "temperature = \"12 C\"\n");
    let cold = room.run(&["coats", "cup.toml", "--studio", "studio.toml"]);
    cold.ended(1, &["12 °C", "18 °C", "Warm the room", "--> studio.toml:", "lowest = \"65 F\""]);
    assert!(!cold.stderr.contains("cup.toml"), "the piece is sound\n{}", cold.stderr);
    room.run(&["plan", "cup.toml", "--studio", "studio.toml", "--out", "out"])
        .ended(1, &["12 °C", "18 °C"]);
}

#[test]
fn a_turner_out_of_level_and_resin_that_thickens_too_soon_are_told() {
    let room = Room::new();
    room.write("cup.toml", PIECE);
    studio(&room, |text| text.replace("out_of_level = \"0.2 deg\"", "out_of_level = \"5 deg\""));
    room.run(&["coats", "cup.toml", "--studio", "studio.toml"])
        .ended(0, &["the coat of `clear` creeps", "Level the axis, not the wall, to 0."]);
    // Twelve cups of 20 min each are poured before the first is sprinkled.
    room.write("cup.toml", PIECE.replacen("\n\n[colours]", "\nquantity = 12\n\n[colours]", 1));
    room.run(&["coats", "cup.toml"]).ended(0, &["the bed of `flakes` is 240 min old"]);
}

#[test]
fn a_pour_that_gets_too_cold_is_refused_with_its_hour_and_those_that_would_do() {
    let room = Room::new();
    room.write("cup.toml", PIECE);
    let at_night = "\n[room]\nday = \"25 C\"\nnight = \"17 C\"\n";
    studio(&room, |text| text + at_night);
    // Tack-free at 24 °C after 4 h: from 21:00 after 339.3 min at 17.54 °C by the same cosine and
    // 58 kJ/mol (scipy); from 09:00 to 18:00 the room stays above 19.7 °C until then.
    let refused = [
        "poured at 21:00: the room is at 17.5 °C (63.6 °F) 5 h 39 min after the pour",
        "this resin needs 18.3 °C (65.0 °F) or more",
        "would do at 09:00, 12:00, 14:00, 15:00, 18:00",
    ];
    room.run(&["coats", "cup.toml", "--studio", "studio.toml"]).ended(1, &refused);
    let told = room.run(&["check", "cup.toml", "--studio", "studio.toml", "--json"]).stdout;
    let told: serde_json::Value = serde_json::from_str(&told).expect("JSON");
    let found = &told["pieces"][0]["diagnostics"][0];
    assert_eq!((&found["file"], &found["path"]), (&"studio.toml".into(), &"resin.lowest".into()));
    let text = std::fs::read_to_string(room.path("studio.toml")).expect("a file");
    let line = found["line"].as_u64().expect("a line") as usize;
    assert!(text.lines().nth(line - 1).is_some_and(|line| line.starts_with("lowest = ")), "{line}");
    // Evenings that end earlier are warm enough; at night a pour would not do, and the hour is told.
    studio(&room, |text| text.replace("18:00-21:30", "18:00-19:30") + at_night);
    room.run(&["coats", "cup.toml", "--studio", "studio.toml"])
        .ended(0, &["warning: at ", "no pour at 18"]);
    studio(&room, |text| text + "\n[room]\nday = \"16 C\"\nnight = \"14 C\"\n");
    room.run(&["coats", "cup.toml", "--studio", "studio.toml"])
        .ended(1, &["poured at 09:00", "at no hour of the day"]);
}

#[test]
fn where_nothing_is_poured_nothing_is_drawn() {
    let room = Room::new();
    let mut piece = PIECE.to_owned();
    piece.truncate(piece.find("[[zone]]").expect("a zone"));
    room.write("cup.toml", piece);
    room.run(&["coats", "cup.toml", "--out", "coats"]).ended(0, &["nothing to draw"]);
    assert!(!room.path("coats").exists());
}

#[test]
fn the_plots_are_written_whole_and_no_plan_is_written_over() {
    let room = Room::new();
    room.write("cup.toml", PIECE);
    room.run(&["coats", "cup.toml", "--out", "coats"]).ended(0, &[]);
    let names = names(&room.path("coats"));
    let plots = ["coat-1", "coat-2", "cure", "wall-1", "wall-2"];
    let mut expected: Vec<String> =
        plots.iter().flat_map(|plot| [format!("{plot}.png"), format!("{plot}.svg")]).collect();
    expected.insert(0, ".cupwright".to_owned());
    assert_eq!(names, expected);
    let page = include_str!("../../../../docs/handbook/coats.md");
    for name in ["`cure`", "`coat-N`", "`wall-N`"] {
        assert!(page.contains(name), "the handbook explains {name}");
    }
    room.run(&["compare", "cup.toml"]).ended(2, &["no zone of stones"]);
    room.write("out/mine.txt", "mine");
    room.run(&["coats", "cup.toml", "--out", "out"]).ended(3, &["out"]);
}
