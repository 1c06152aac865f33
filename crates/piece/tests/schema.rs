//! The JSON Schemas against an independent validator (the crate `boon`), and the reader against them.

use ::piece::{
    FieldPath, NoArt, Settings, Source, hours_schema, is_of_settings, order_schema, piece_schema,
    read_piece, read_settings, settings_schema,
};
use boon::{Compiler, Draft, Schemas};
use serde_json::Value;

fn accepts(schema: &Value, instance: &Value) -> Result<(), String> {
    let (mut schemas, mut compiler) = (Schemas::new(), Compiler::new());
    compiler.set_default_draft(Draft::V2020_12);
    compiler.add_resource("schema.json", schema.clone()).map_err(|error| error.to_string())?;
    let index =
        compiler.compile("schema.json", &mut schemas).map_err(|error| format!("{error:#}"))?;
    schemas.validate(instance, index).map_err(|error| error.to_string())
}

/// The file as JSON, by the toml crate's own road, not the reader's; days become strings.
fn as_json(text: &str) -> Option<Value> {
    fn plain(value: toml::Value) -> Value {
        match value {
            toml::Value::Datetime(day) => Value::String(day.to_string()),
            toml::Value::Array(items) => items.into_iter().map(plain).collect(),
            toml::Value::Table(table) => {
                table.into_iter().map(|(key, value)| (key, plain(value))).collect()
            }
            toml::Value::Float(float) => {
                serde_json::Number::from_f64(float).map_or(Value::Null, Value::Number)
            }
            other => serde_json::to_value(other).unwrap(),
        }
    }
    text.parse::<toml::Table>().ok().map(|table| plain(toml::Value::Table(table)))
}

#[test]
fn the_schemas_are_valid_and_say_what_every_key_is_for() {
    for schema in [piece_schema(), settings_schema(), hours_schema(), order_schema()] {
        // Compiling checks the schema against the metaschema of draft 2020-12.
        assert_eq!(schema["$schema"], "https://json-schema.org/draft/2020-12/schema");
        assert!(accepts(&schema, &Value::Null).unwrap_err().contains("want object"));
        let mut tables = vec![&schema];
        tables.extend(schema["$defs"].as_object().unwrap().values());
        for table in tables {
            for (key, property) in
                table.get("properties").and_then(Value::as_object).into_iter().flatten()
            {
                assert!(property["description"].is_string(), "{key}");
                assert_ne!(property.get("default"), Some(&Value::Null), "{key}");
            }
        }
    }
}

#[test]
fn no_key_at_the_top_is_one_of_both_files() {
    // So that the path of a complaint says which of the two it is about.
    let keys = |schema: Value| -> Vec<String> {
        schema["properties"].as_object().unwrap().keys().cloned().collect()
    };
    let (of_piece, of_settings) = (keys(piece_schema()), keys(settings_schema()));
    assert!(of_piece.len() > 10 && of_settings.len() > 20);
    let root = FieldPath::root();
    assert!(of_piece.iter().all(|key| !is_of_settings(&root.key(key).index(2).key("resin"))));
    assert!(of_settings.iter().all(|key| is_of_settings(&root.key(key).index(2).key("zone"))));
    assert!(!is_of_settings(&root));
}

#[test]
fn the_schema_and_the_reader_agree_on_every_sample() {
    let folder = std::path::Path::new(env!("CARGO_MANIFEST_DIR")).join("tests/pieces");
    let (mut fit, mut misfit) = (0, 0);
    for entry in std::fs::read_dir(folder).unwrap() {
        let file = entry.unwrap().path();
        let name = file.file_name().unwrap().to_string_lossy().into_owned();
        let text = std::fs::read_to_string(&file).unwrap();
        let Some(json) = as_json(&text) else {
            assert!(name.starts_with("text-") || name == "form-huge-numbers.toml", "{name}");
            continue;
        };
        let accepted = accepts(&piece_schema(), &json);
        if name.starts_with("form-") || name == "sense-version.toml" {
            assert!(accepted.is_err(), "the schema accepts {name}");
            misfit += 1;
        } else {
            assert_eq!(accepted, Ok(()), "{name}");
            fit += 1;
        }
    }
    assert!(fit >= 10 && misfit >= 15, "{fit} {misfit}");
}

/// That neither takes a good file with one of these slips, which is then the only thing wrong with it, so
/// that the two judges cannot agree by chance.
fn both_refuse(good: &str, slips: &[(&str, &str)]) {
    let judged = |text: &str| {
        let reading = read_piece(&Source::new("slip.toml", text.to_owned()), &NoArt);
        (reading.value.is_some(), accepts(&piece_schema(), &as_json(text).unwrap()).is_ok())
    };
    assert_eq!(judged(good), (true, true), "good as it is");
    for (from, to) in slips {
        assert!(good.contains(from), "{from}");
        assert_eq!(judged(&good.replacen(from, to, 1)), (false, false), "reader and schema: {to}");
    }
}

#[test]
fn the_schema_and_the_reader_agree_on_each_slip_alone() {
    let good = include_str!("pieces/good-heron.toml");
    let slips = [
        ("seed = 7", "seed = -7"),
        ("seed = 7", "seed = 7.5"),
        ("seed = 7", "sed = 7"),
        ("quantity = 1", "quantity = 1001"),
        ("drinks = \"cold\"", "drinks = \"Cold\""),
        ("for_child = false", "for_child = 0"),
        ("due = 2026-07-18", "due = \"July\""),
        ("title = \"Heron at low tide\"\n", ""),
        ("\"#12343b\"", "\"#12343\""),
        ("letter = \"S\"", "letter = \"s\""),
        ("\"276 mm\"", "\"27 6mm\""),
        ("\"276 mm\"", "\"276\""),
        ("\"276 mm\"", "276"),
        ("\"276 mm\"", "\"2 7/0 in\""),
        ("\"20 fl oz\"", "\"-20 fl oz\""),
        ("circumference = \"276 mm\"", "circumference = \"276 mm\", radius = \"44 mm\""),
        (", circumference = \"276 mm\"", ""),
        ("flat = { circle = \"50 mm\" }", "flat = { circle = \"50 mm\", width = \"9 mm\" }"),
        ("flat = { circle = \"50 mm\" }", "flat = {}"),
        ("flat = { circle = \"50 mm\" }", ""),
        ("name = \"ground\"", "name = \"Ground\""),
        ("paint = { colour = \"marsh night\", coats = 2 }", ""),
        ("paint = {", "resin = {}\npaint = {"),
        ("wave = \"sine\", ", ""),
        ("count = 5", "count = 201"),
        ("\"60 %\"", "\"60\""),
        ("\"-90 deg\"", "\"-90\""),
        ("size = \"SS10\"", "size = \"SS11\""),
        ("size = \"SS10\", ", ""),
        ("repeat = 2", "repeat = 61"),
        ("path = \"M0 0 L10 0 L5 30 Z\"", "file = \"../reeds.svg\""),
        ("width = \"60 mm\", along", "along"),
    ];
    both_refuse(good, &slips);
}

#[test]
fn the_schema_and_the_reader_agree_on_each_slip_in_layers() {
    let good = include_str!("pieces/good-layers.toml");
    let slips = [
        ("rows = 2", "rows = 0"),
        ("rows = 2", "row = 2"),
        ("layout = \"outline\"", "layout = \"outlines\""),
        ("layout = \"outline\"\n", ""),
        ("density = \"0.8 per cm2\"", "density = \"0.8\""),
        ("density = \"0.8 per cm2\"", "density = \"-0.8 per cm2\""),
        ("stagger = \"aligned\"", "stagger = \"half\""),
        ("group_rows = 7", "group_rows = \"7\""),
        ("blend = \"area\"", "blend = \"mass\""),
        ("wall = [\"20 mm\", \"120 mm\"]", "wall = [\"20 mm\"]"),
        ("wall = [\"20 mm\", \"120 mm\"]", "wall = [\"20 mm\", \"60 mm\", \"120 mm\"]"),
        ("wall = [\"20 mm\", \"120 mm\"]", "wall = \"20 mm\""),
        ("around = [\"-90 deg\", \"90 deg\"]", "around = [\"-90 deg\", \"90\"]"),
        ("width = \"60 mm\", along", "along"),
        ("at = \"10 %\"", "at = 0.1"),
        ("within = \"6 mm\", ", ""),
        ("bond_line = \"0.2 mm\"", "bond = \"0.2 mm\""),
        ("straddle = true", "straddle = \"yes\""),
        (
            "stones = [ { layout = \"rows\", taper = \"wedge\", size = \"SS10\", colour = \"reed\" }, { layout = \"pockets\", size = \"SS5\", colour = \"reed\" } ]",
            "stones = []",
        ),
    ];
    both_refuse(good, &slips);
}

#[test]
fn the_schema_and_the_reader_agree_on_each_slip_in_film() {
    let plain = "vinyl = { colour = \"wet sand\" }";
    let full = "vinyl = { colour = \"wet sand\", join = \"overlap\", trap = \"0.4 mm\", turns = \"half\", mirrored = true, relief = true, registration = false }";
    let good = include_str!("pieces/good-heron.toml");
    assert!(good.contains(plain));
    let slips = [
        ("join = \"overlap\"", "join = \"Overlap\""),
        ("join = \"overlap\"", "join = \"trap\""),
        ("trap = \"0.4 mm\"", "trap = \"0.4\""),
        ("trap = \"0.4 mm\"", "trap = 0.4"),
        ("turns = \"half\"", "turns = \"quarters\""),
        ("turns = \"half\"", "turn = \"half\""),
        ("mirrored = true", "mirrored = \"yes\""),
        ("relief = true", "relief = 1"),
        ("registration = false", "registration = \"none\""),
    ];
    both_refuse(&good.replacen(plain, full, 1), &slips);
    // And of the film in a studio file.
    let studio = Settings::DEMO_TEXT;
    for (from, to) in [
        ("weeding = \"outline\"", "weeding = \"frame\""),
        ("weed_margin = \"4 mm\"", "weed_margin = \"4\""),
        ("spacing = \"8 mm\"", "space = \"8 mm\""),
        ("stretch = \"5 %\"", "stretch = 0.05"),
        ("trap = \"0.3 mm\"", "trap = \"0.3\""),
    ] {
        assert!(studio.contains(from), "{from}");
        let text = studio.replacen(from, to, 1);
        let reading = read_settings(&Source::new("slip.toml", text.clone()));
        assert_eq!(reading.value, None, "the reader accepts {to}");
        assert!(accepts(&settings_schema(), &as_json(&text).unwrap()).is_err(), "{to}");
    }
}

#[test]
fn the_drawer_is_read_and_lists_nothing_twice() {
    let with = |more: &str| {
        let text = format!("{}{more}", Settings::DEMO_TEXT);
        assert_eq!(accepts(&settings_schema(), &as_json(&text).unwrap()), Ok(()));
        read_settings(&Source::new("settings.toml", text))
    };
    let one = "\n[[drawer]]\nsize = \"SS10\"\ncolour = \"reed\"\ncount = 288\n";
    let drawer = with(one).value.unwrap().drawer;
    assert_eq!(drawer.len(), 1);
    assert_eq!((drawer[0].size.as_str(), drawer[0].colour.as_str()), ("SS10", "reed"));
    assert_eq!((drawer[0].material, drawer[0].count), (::piece::StoneMaterial::Glass, 288));
    let twice = with(&format!("{one}{one}"));
    assert_eq!(twice.diagnostics[0].message, "the drawer lists glass SS10 in `reed` twice");
    let resin = one.replace("count", "material = \"resin\"\ncount");
    assert_eq!(with(&format!("{one}{resin}")).value.unwrap().drawer.len(), 2);
}

#[test]
fn the_demo_settings_are_read_and_fit_their_schema() {
    let source = Source::new("demo.toml", Settings::DEMO_TEXT);
    let reading = read_settings(&source);
    assert_eq!(reading.diagnostics, []);
    assert_eq!(accepts(&settings_schema(), &as_json(Settings::DEMO_TEXT).unwrap()), Ok(()));
    let settings = Settings::demo();
    assert_eq!(Some(&settings), reading.value.as_ref());
    assert!(settings.demo);
    for (name, _) in ::piece::stone_size::STONE_SIZES {
        for material in [
            ::piece::StoneMaterial::Glass,
            ::piece::StoneMaterial::Resin,
            ::piece::StoneMaterial::LeadCrystal,
        ] {
            assert!(
                settings.stones.iter().any(|one| one.size == name && one.material == material),
                "{name}"
            );
        }
    }
}

#[test]
fn a_studio_file_may_leave_the_turner_out() {
    let start = Settings::DEMO_TEXT.find("[turner]").unwrap();
    let end = start + Settings::DEMO_TEXT[start..].find("[paint]").unwrap();
    let without = format!("{}{}", &Settings::DEMO_TEXT[..start], &Settings::DEMO_TEXT[end..]);
    assert_eq!(accepts(&settings_schema(), &as_json(&without).unwrap()), Ok(()));
    let reading = read_settings(&Source::new("settings.toml", without));
    let turner = reading.value.unwrap().turner;
    assert_eq!((turner.rpm, turner.share), (6.0, 0.6));
    assert!((turner.out_of_level_rad.to_degrees() - 0.2).abs() < 1e-12);
    assert_eq!(turner, Settings::demo().turner);
}
