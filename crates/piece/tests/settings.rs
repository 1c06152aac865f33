//! What is told of bad studio files.

use ::piece::{Settings, Source, read_settings};

#[test]
fn bad_settings_are_told_exactly_what_is_wrong() {
    let slips = [
        (
            "wage_per_h = \"18.00\"",
            "wage_per_h = 18.00",
            "expected an amount of money in quotes for `maker.wage_per_h`, found the number 18.00",
        ),
        ("wage_per_h = \"18.00\"", "wage_per_h = \"$18\"", "`$18` is not an amount of money"),
        (
            "wage_per_h = \"18.00\"",
            "wage_per_h = \"18.005\"",
            "the amount has 3 digits after the point; this currency has 2",
        ),
        (
            "minor_digits = 2",
            "minor_digits = 0",
            "the amount has 2 digits after the point; this currency has 0",
        ),
        ("code = \"USD\"", "code = \"usd\"", "`usd` is not the code of a currency"),
        (
            "monday = [\"18:00-21:30\"]",
            "monday = [\"21:30-18:00\"]",
            "`21:30-18:00` ends before it starts",
        ),
        (
            "monday = [\"18:00-21:30\"]",
            "monday = [\"18.00-21.30\"]",
            "`18.00-21.30` is not a stretch of hours",
        ),
        (
            "monday = [\"18:00-21:30\"]",
            "monday = [\"18:00-20:00\", \"19:00-21:00\"]",
            "two stretches of this day overlap",
        ),
        ("monday = ", "munday = ", "`munday` is not a key that is known here"),
        (
            "ratio_by_volume = [1, 1]",
            "ratio_by_volume = [1, 0]",
            "`resin.ratio_by_volume[1]` is 0; expected a number from 0.01 to 100",
        ),
        (
            "ratio_by_volume = [1, 1]",
            "ratio_by_volume = [1]",
            "`resin.ratio_by_volume` has 1 entry; expected at least 2 entries",
        ),
        (
            "recoat_from = \"4 h\"",
            "recoat_from = \"9 h\"",
            "`recoat_from` is 540 min and `recoat_to` is 480 min; it cannot be later",
        ),
        (
            "ratio_by_volume = [1, 1]",
            "ratio_by_volume = [1, 1]\nratio_by_weight = [1, 1]",
            "the ratio by weight is 100 : 100.0, but the ratio by volume and the densities give 100 : 85.8, which is 14.2 % less",
        ),
        (
            "ratio_by_volume = [1, 1]",
            "",
            "`resin` has neither `ratio_by_volume` nor `ratio_by_weight`",
        ),
        (
            "density_g_per_ml = [1.13, 0.97]",
            "",
            "`resin` has no `density_g_per_ml`, without which ml cannot be turned into g",
        ),
        (
            "pot_life = \"40 min\"",
            "pot_life = \"5 h\"",
            "`pot_life` is 300 min and `tack_free` is 240 min; it cannot be later",
        ),
        (
            "sandable = \"24 h\"",
            "sandable = \"3 h\"",
            "`tack_free` is 240 min and `sandable` is 180 min; it cannot be later",
        ),
        (
            "full_cure = \"72 h\"",
            "full_cure = \"20 h\"",
            "`sandable` is 1440 min and `full_cure` is 1200 min; it cannot be later",
        ),
        (
            "viscosity = \"1000 cP\"",
            "viscosity = \"0 cP\"",
            "0 Pa s is not expected here; it can be 0.01 Pa s to 100 Pa s",
        ),
        (
            "lowest = \"65 F\"",
            "lowest = \"80 F\"",
            "26.7 °C is not expected here; it can be 0 °C to 23.9 °C",
        ),
        (
            "sheet_at = \"75 F\"",
            "sheet_at = \"75\"",
            "`75` has no unit; expected `C`, `°C`, `F` or `°F`",
        ),
        (
            "voc_g_per_l = 50",
            "density_cured_g_per_ml = 1.0",
            "cured resin of 1 g/ml is lighter than its mix of 1.050 g/ml; it shrinks in curing",
        ),
        (
            "readability = \"0.1 g\"",
            "readability = \"0 g\"",
            "0 g is not expected here; it can be 0.001 g to 50 g",
        ),
        ("rpm = 6", "rpm = 0", "`turner.rpm` is 0; expected a number from 0.5 to 60"),
        ("rpm = 6", "rpm = 600", "`turner.rpm` is 600; expected a number from 0.5 to 60"),
        (
            "out_of_level = \"0.2 deg\"",
            "out_of_level = \"20 deg\"",
            "20 deg is not expected here; it can be 0 deg to 10 deg",
        ),
        (
            "share = \"60 %\"",
            "share = \"120 %\"",
            "120 % is not expected here; it can be 5 % to 100 %",
        ),
        (
            "loss = \"18 %\"",
            "loss = \"180 %\"",
            "180 % is not expected here; it can be 0 % to 90 %",
        ),
        (
            "sitting = \"2 h\"",
            "sitting = \"10 min\"",
            "the longest sitting is 10 min, of which laying out takes 10 min: less than 5 min is left to set stones",
        ),
        (
            "round_to = \"1.00\"",
            "round_to = \"0.00\"",
            "prices cannot be rounded up to a multiple of nothing",
        ),
        (
            "lip = \"0.5 in\"",
            "lip = \"-1 mm\"",
            "-1 mm is not expected here; it can be 0 mm to 200 mm",
        ),
        (
            "g_per_m2 = 305",
            "g_per_m2 = inf",
            "`glitter.g_per_m2` is no number that can be used; expected a number from 1 to 5000",
        ),
        ("size = \"SS6\"", "size = \"SS5\"", "there are two prices for SS5 in packs of 144"),
        (
            "per = \"pour\"",
            "per = \"coat\"",
            "`coat` is not known here; expected `piece`, `body`, `lid`, `topper`, `pour` or `sanding`",
        ),
        (
            "full_cure = \"72 h\"",
            "full_cure = \"400 days\"",
            "400 days is not expected here; it can be 0 min to 365 days",
        ),
        (
            "kit = \"32 fl oz\"",
            "kit = \"0.000000001 ml\"",
            "0.000000001 ml is not expected here; it can be 0.1 ml to 1000000 ml",
        ),
        (
            "kit_price = \"46.00\"",
            "kit_price = \"999999999.00\"",
            "an amount of 999999999 is not expected here; it can be 0 to 100000000",
        ),
        (
            "least_loss = \"3 ml\"",
            "least_loss = \"5 l\"",
            "5000 ml is not expected here; it can be 0 ml to 1000 ml",
        ),
        (
            "vinyl_shape = \"1 min\"",
            "vinyl_shape = \"2 days\"",
            "2 days is not expected here; it can be 0 min to 1 day",
        ),
        (
            "least_stroke = \"0.6 mm\"",
            "least_stroke = \"30 mm\"",
            "30 mm is not expected here; it can be 0.05 mm to 20 mm",
        ),
        (
            "sheet_width = \"12 in\"",
            "sheet_width = \"20 mm\"",
            "20 mm is not expected here; it can be 50 mm to 10000 mm",
        ),
        (
            "cupwright_settings = 1",
            "cupwright_settings = 3",
            "this file is of format 3; this program reads format 1",
        ),
        ("cupwright_settings = 1\n", "", "`cupwright_settings` is missing"),
    ];
    for (from, to, message) in slips {
        assert!(Settings::DEMO_TEXT.contains(from), "{from}");
        let source = Source::new("settings.toml", Settings::DEMO_TEXT.replacen(from, to, 1));
        let reading = read_settings(&source);
        let told: Vec<&str> = reading.diagnostics.iter().map(|one| one.message.as_str()).collect();
        assert!(told.contains(&message), "{to}: {told:#?}");
        assert_eq!(reading.value, None);
    }
}

#[test]
fn no_working_hours_at_all_are_refused() {
    let free: String = Settings::DEMO_TEXT
        .lines()
        .filter(|line| !line.contains("day = ["))
        .map(|line| format!("{line}\n"))
        .collect();
    let reading = read_settings(&Source::new("settings.toml", free));
    assert_eq!(reading.diagnostics.len(), 1);
    assert_eq!(reading.diagnostics[0].message, "no day of the week has working hours");
}

#[test]
fn what_a_resin_leaves_out_is_that_of_a_usual_one() {
    let new = [
        "pot_life_mass",
        "tack_free",
        "sheet_at",
        "lowest",
        "viscosity",
        "surface_tension_mn_per_m",
        "heat_j_per_g",
        "voc_g_per_l",
        "[scale]",
        "readability",
    ];
    let text: String = Settings::DEMO_TEXT
        .lines()
        .filter(|line| !new.iter().any(|key| line.starts_with(key)))
        .map(|line| line.replace("ratio_by_volume = [1, 1]", "ratio_by_weight = [100, 85.84]"))
        .map(|line| line + "\n")
        .collect();
    let settings = read_settings(&Source::new("settings.toml", text)).value.expect("as before");
    let (resin, demo) = (settings.resin, Settings::demo());
    assert_eq!(settings.scale, demo.scale);
    let (a, b) = resin.ratio_by_volume;
    // By hand: 0.8584 / 0.97 · 1.13 = 1.0000.
    assert!((b / a - 1.0).abs() < 1e-4, "{a} {b}");
    assert_eq!((resin.sheet_at_c, resin.viscosity_at_c, resin.lowest_c), (24.0, 24.0, 18.0));
    assert_eq!((resin.tack_free_min, resin.pot_life_mass_g), (240.0, 100.0));
    assert_eq!(resin.viscosity_pa_s, demo.resin.viscosity_pa_s);
    assert_eq!((resin.heat_j_per_g, resin.voc_g_per_l), (350.0, 50.0));
    assert_eq!(resin.usual.len(), 12);
    // By hand: 1.05 g/ml / 0.97.
    assert!((resin.density_cured_g_per_ml - 1.05 / 0.97).abs() < 1e-4);
    assert!(!demo.resin.usual.contains(&"viscosity") && demo.resin.usual.contains(&"softens"));
}
