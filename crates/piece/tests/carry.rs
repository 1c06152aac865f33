//! A design carried from cup to cup in the text of its file: what is changed and what is not.

use ::piece::blanks::{BLANKS, find};
use ::piece::carry::{Onto, body, pairs, text};
use ::piece::read::{Art, Pixels, Unread};
use ::piece::{Form, Piece, Reading, Severity, Source, read_piece};
use proptest::prelude::*;
use std::sync::Arc;

const EXAMPLES: [(&str, &str); 6] = [
    ("heron-low-tide", include_str!("../../../examples/heron-low-tide.toml")),
    ("regatta-pair", include_str!("../../../examples/regatta-pair.toml")),
    ("samphire-bottle", include_str!("../../../examples/samphire-bottle.toml")),
    ("frost-lid", include_str!("../../../examples/frost-lid.toml")),
    ("moon-tide", include_str!("../../../examples/moon-tide.toml")),
    ("tern-topper", include_str!("../../../examples/tern-topper.toml")),
];

/// Any drawing is a square.
struct Square;

impl Art for Square {
    fn svg(&self, _: &str) -> Result<Arc<str>, Unread> {
        Ok(Arc::from(
            "<svg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 9 9'><path d='M0 0H9V9H0Z'/></svg>",
        ))
    }

    fn font(&self, _: &str) -> Result<Arc<[u8]>, Unread> {
        Err(Unread::not_there("there is none"))
    }

    fn pixels(&self, _: &str) -> Result<Pixels, Unread> {
        Ok(Pixels { size: (1, 1), srgb: vec![[0; 3]] })
    }
}

fn reading(text: &str) -> Reading<Piece> {
    read_piece(&Source::new("piece.toml", text), &Square)
}

#[track_caller]
fn read(text: &str) -> Piece {
    let reading = reading(text);
    reading.value.unwrap_or_else(|| panic!("{:?}\n{text}", reading.diagnostics))
}

/// The body of one file put onto that of another.
#[track_caller]
fn onto(design: &str, cup: &str) -> String {
    let pairs = pairs(&read(design), &read(cup), None).expect("a pair");
    let moves: Vec<_> = pairs.iter().map(|(part, to)| (*part, Onto::Part(cup, *to))).collect();
    text(design, &moves).expect("carried")
}

#[test]
fn every_example_with_a_body_goes_to_every_blank_and_comes_back_as_it_was() {
    let mut carried = 0;
    for (name, design) in EXAMPLES {
        let Ok(part) = body(&read(design), None) else { continue };
        for blank in &BLANKS {
            let there = text(design, &[(part, Onto::Blank(blank))]).expect("carried");
            // On another wall it may need mending, but it is a piece file.
            let of_form = reading(&there);
            let piece = of_form.value.or(of_form.draft).expect("the form of a piece file");
            assert_eq!(piece.parts[part].form, Form::Revolved(blank.measures()), "{name}");
            assert_eq!(piece.parts[part].capacity_ml, Some(blank.capacity_ml()), "{name}");
            assert_eq!(piece.parts[part].handle.is_some(), blank.handle.is_some(), "{name}");
            let back = text(&there, &[(part, Onto::Part(design, part))]).expect("carried back");
            assert_eq!(read(&back), read(design), "{name} by {}", blank.name);
            carried += 1;
        }
    }
    assert_eq!(carried, 3 * BLANKS.len());
}

/// Lines outside the measurements, in order.
fn others(text: &str) -> Vec<&str> {
    let measured = |line: &&str| {
        let line = line.trim_start();
        let keys =
            ["revolved", "{ along = ", "]", "capacity", "blank", "handle", "read_to", "wall"];
        !keys.iter().any(|key| line.starts_with(key)) || line.contains("share")
    };
    text.lines().filter(measured).collect()
}

#[test]
fn comments_and_layout_stay() {
    for (name, design) in EXAMPLES {
        let Ok(part) = body(&read(design), None) else { continue };
        let blank = find("tapered 30 fl oz").expect("a blank");
        let there = text(design, &[(part, Onto::Blank(blank))]).expect("carried");
        assert_eq!(others(&there), others(design), "{name}");
        assert!(there.contains("\nblank = \"tapered 30 fl oz\"\n"), "{name}: {there}");
    }
}

/// The new measurements stand where the old ones stood, with the comments of the file they are from.
#[test]
fn measurements_come_with_their_own_comments() {
    let design = "\
cupwright = 1
title = \"Reed bed\"   # for the ferry

# The old cup.
[[part]]
name = \"body\"
# Read on Monday.
revolved = [ { along = \"0 mm\", diameter = \"80 mm\" }, { along = \"150 mm\", diameter = \"80 mm\" } ]
colour = \"mud\"   # powder-coated

[colours]
\"mud\" = \"#b9a68c\"
";
    let cup = "\
cupwright = 1
title = \"Cup\"
[[part]]
name = \"body\"
capacity = \"30 fl oz\"
# Read on Friday, twice.
revolved = [
  { along = \"0 mm\", diameter = \"81 mm\" },   # below the rolled rim
  { along = \"242 mm\", diameter = \"81 mm\" },
]
";
    let expected = "\
cupwright = 1
title = \"Reed bed\"   # for the ferry

# The old cup.
[[part]]
name = \"body\"
capacity = \"30 fl oz\"
# Read on Friday, twice.
revolved = [
  { along = \"0 mm\", diameter = \"81 mm\" },   # below the rolled rim
  { along = \"242 mm\", diameter = \"81 mm\" },
]
colour = \"mud\"   # powder-coated

[colours]
\"mud\" = \"#b9a68c\"
";
    assert_eq!(onto(design, cup), expected);
    // Lines end as they did.
    assert_eq!(onto(&design.replace('\n', "\r\n"), cup), expected.replace('\n', "\r\n"));
}

const MUG: &str = "\
cupwright = 1
title = \"Mug\"
[[part]]
name = \"mug\"
role = \"body\"
wall = \"single\"
[part.handle]
from = \"12 mm\"
to = \"82 mm\"
width = \"28 mm\"
beneath = [\"ground\", \"elsewhere\"]
[[part.revolved]]
along = \"0 mm\"
diameter = \"86 mm\"
[[part.revolved]]
along = \"98 mm\"
diameter = \"82 mm\"
[[zone]]
name = \"ground\"
part = \"mug\"
paint = { colour = \"mud\" }
[[zone]]
name = \"elsewhere\"
part = \"mug\"
paint = { colour = \"mud\" }
[colours]
mud = \"#b9a68c\"
";

/// Tables with headings of their own become values, and so do those of a part that is written in a list.
#[test]
fn any_way_to_write_a_part_can_be_carried() {
    let inline = "\
cupwright = 1
title = \"Tern\"
part = [ { name = \"body\", flat = { circle = \"9 mm\" }, role = \"topper\" }, { name = \"cup\", role = \"body\", handle = { from = \"5 mm\", to = \"50 mm\", width = \"20 mm\", beneath = [ \"ground\" ] }, revolved = [ { along = \"0 mm\", radius = \"40 mm\" }, { along = \"100 mm\", radius = \"30 mm\" } ] } ]
zone = [ { name = \"ground\", part = \"cup\", paint = { colour = \"mud\" } } ]
colours = { mud = \"#b9a68c\" }
";
    let there = onto(inline, MUG);
    let (piece, mug) = (read(&there), read(MUG));
    assert_eq!(piece.parts[1].form, mug.parts[0].form);
    assert_eq!(piece.parts[1].walls, mug.parts[0].walls);
    let handle = piece.parts[1].handle.clone().expect("a handle");
    assert_eq!(handle.along_mm, (12.0, 82.0));
    // What ran on beneath the old handle runs on beneath the new one.
    assert_eq!(handle.beneath, [0]);
    let back = onto(&there, inline);
    assert_eq!(read(&back), read(inline));
    // And a headed part takes those of a list.
    let headed = read(&onto(MUG, inline));
    assert_eq!(headed.parts[0].form, read(inline).parts[1].form);
    assert_eq!(headed.parts[0].handle.as_ref().map(|handle| handle.beneath.len()), Some(2));
    assert_eq!(read(&onto(&onto(MUG, inline), MUG)), mug);
}

#[test]
fn a_blank_with_a_handle_keeps_what_runs_on_beneath_it() {
    let blank = find("handled 40 fl oz").expect("a blank");
    let there = text(MUG, &[(0, Onto::Blank(blank))]).expect("carried");
    let handle = read(&there).parts[0].handle.clone().expect("a handle");
    assert_eq!((handle.along_mm, handle.width_mm), ((15.0, 135.0), 40.0));
    assert_eq!(handle.beneath, [0, 1]);
}

/// A lid and its body are measured together, and so is how far it sinks.
#[test]
fn lid_and_body_are_carried_together() {
    let pair = |lid_mm: u32, sink: &str| {
        format!(
            "cupwright = 1\ntitle = \"Pair\"\n[[part]]\nname = \"body\"\nblank = \"straight 20 fl oz\"\n\
             [[part]]\nname = \"lid\"\nsits_on = {{ part = \"body\", sink = \"{sink}\" }} # as pushed on\n\
             revolved = [ {{ along = \"0 mm\", radius = \"0 mm\" }}, {{ along = \"50 mm\", radius = \"{lid_mm} mm\" }} ]\n"
        )
    };
    let (old, new) = (pair(40, "6 mm"), pair(44, "9 mm"));
    let there = onto(&old, &new);
    assert!(
        there.contains("sits_on = { part = \"body\", sink = \"9 mm\" } # as pushed on\n"),
        "{there}"
    );
    assert_eq!(read(&there), read(&new));
    // One alone, if that is asked for.
    let pairs = pairs(&read(&old), &read(&new), Some("lid")).expect("a pair");
    assert_eq!(pairs, [(1, 1)]);
}

#[test]
fn parts_that_cannot_be_carried_say_why() {
    let (topper, heron) = (read(EXAMPLES[5].1), read(EXAMPLES[0].1));
    let why = |complaint: Result<_, ::piece::units::Complaint>| {
        complaint.map(|_: Vec<_>| ()).expect_err("refused")
    };
    assert!(why(pairs(&topper, &heron, None)).message.contains("no part of `topper`"));
    assert!(why(pairs(&heron, &heron, Some("bodi"))).hints[0].contains("`body`"));
    assert!(why(pairs(&heron, &topper, Some("lid"))).message.contains("it has `topper`"));
    assert!(body(&topper, None).expect_err("no body").message.contains("has no body"));
    assert!(body(&heron, Some("lid")).expect_err("a lid").message.contains("is no body"));
    let flat = "cupwright = 1\ntitle = \"Flat\"\n[[part]]\nname = \"body\"\nflat = { circle = \"9 mm\" }\n";
    assert!(why(pairs(&heron, &read(flat), None)).message.contains("is round and `body` is flat"));
}

/// Readings of any number, some of them impossible.
fn readings() -> impl Strategy<Value = Vec<(f64, f64, bool)>> {
    prop::collection::vec((-5.0..900.0_f64, -2.0..300.0_f64, any::<bool>()), 0..6)
}

fn cup(readings: &[(f64, f64, bool)], style: u8, extra: &str) -> String {
    let mut at = 0.0;
    let measures: Vec<String> = readings
        .iter()
        .map(|(step, across, smooth)| {
            let run = if *smooth { ", run = \"smooth\"" } else { "" };
            let along = at;
            at += step;
            format!("along = \"{along:.2} mm\", diameter = \"{across:.1} mm\"{run}")
        })
        .collect();
    let list: Vec<String> = measures.iter().map(|one| format!("{{ {one} }}")).collect();
    let body = match style % 3 {
        0 => format!("[[part]]\nname = \"body\"\n{extra}revolved = [ {} ]\n", list.join(", ")),
        1 => {
            let tables: Vec<String> = measures
                .iter()
                .map(|one| format!("[[part.revolved]]\n{}\n", one.replace(", ", "\n")))
                .collect();
            format!("[[part]]\nname = \"body\"\n{extra}{}", tables.concat())
        }
        _ => format!(
            "part = [ {{ name = \"body\", {}revolved = [\n{} # tape\n] }} ]\n",
            extra.replace('\n', ", "),
            list.iter().map(|one| format!("  {one}, # read\n")).collect::<String>()
        ),
    };
    format!("cupwright = 1\ntitle = \"Cup\"\n{body}")
}

proptest! {
    #![proptest_config(ProptestConfig::with_cases(300))]

    /// Whatever was measured, the new file is TOML and has the measurements of the other, sound or not.
    #[test]
    fn the_new_file_always_parses(
        old in readings(), new in readings(), styles in (any::<u8>(), any::<u8>()),
        extras in (0..4_usize, 0..4_usize), windows in any::<bool>(),
    ) {
        let extra = [
            "",
            "capacity = \"20 fl oz\"\n",
            "read_to = \"1 mm\"\nwall = \"single\"\n",
            "handle = { from = \"9 mm\", to = \"40 mm\", width = \"20 mm\", beneath = [ \"tide\" ] }\n",
        ];
        let zone = "\n[[zone]]\nname = \"tide\"\npart = \"body\"\nband = { from = \"10 %\", to = \"2 mm from foot\" }\nresin = {}\n";
        let listed = zone.trim().replace("[[zone]]\n", "zone = [ { ").replace('\n', ", ") + " } ]\n";
        let mut old = cup(&old, styles.0, extra[extras.0]);
        old.push_str(if styles.0 % 3 == 2 { &listed } else { zone });
        if windows {
            old = old.replace('\n', "\r\n");
        }
        let new = cup(&new, styles.1, extra[extras.1]);
        let measured = |text: &str| {
            let table: toml::Table = text.parse().expect("TOML");
            let part = table["part"].get(0).cloned();
            // A part without a reading has no list of them in one style and an empty one in the others.
            part.and_then(|part| part.get("revolved").cloned()).filter(|list| list.as_array().is_some_and(|list| !list.is_empty()))
        };
        let there = text(&old, &[(0, Onto::Part(&new, 0))]).expect("carried");
        prop_assert_eq!(measured(&there), measured(&new), "{}", there);
        let wrong = reading(&there).diagnostics;
        prop_assert!(wrong.iter().all(|found| !found.message.contains("TOML")), "{:?}\n{}", wrong, there);
        prop_assert!(!windows || !there.replace("\r\n", "").contains('\n'));
        for blank in [&BLANKS[0], &BLANKS[11]] {
            let there = text(&old, &[(0, Onto::Blank(blank))]).expect("carried");
            let sound = |found: &::piece::Diagnostic| {
                found.severity != Severity::Error || !found.path.0.starts_with("part")
            };
            prop_assert!(reading(&there).diagnostics.iter().all(sound), "{}", there);
        }
    }
}
