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
