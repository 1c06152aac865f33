//! The room against steam tables, a calendar day and a logger's table.

use coats::room::{RoomCourse, dew_point_c, judge};
use piece::read::{Art, Unread};
use piece::settings::{Air, Climate, Room};
use piece::{NoArt, Reading, Settings, Source, read_settings_beside};
use proptest::prelude::*;
use std::fmt::Write as _;
use std::sync::Arc;

fn near(found: f64, expected: f64, tolerance: f64) {
    assert!((found - expected).abs() <= tolerance, "{found} is not {expected} within {tolerance}");
}

#[test]
fn dew_points_agree_with_the_steam_pressure_of_iapws() {
    // Where the vapour saturates by the IAPWS saturation line (Wagner and Pruß), to 0.01 K.
    for (celsius, humidity, dew) in
        [(20.0, 50.0, 9.27), (24.0, 60.0, 15.76), (25.0, 60.0, 16.70), (18.0, 75.0, 13.51)]
    {
        near(dew_point_c(celsius, humidity), dew, 0.015);
    }
    // The Magnus formula itself, reckoned apart.
    near(dew_point_c(30.0, 80.0), 26.17, 0.005);
    near(dew_point_c(15.0, 85.0), 12.50, 0.005);
    // Psychrometric chart at sea level: 70 °F and 50 % has a dew point of 50.5 °F (from memory).
    near(dew_point_c((70.0 - 32.0) / 1.8, 50.0), (50.5 - 32.0) / 1.8, 0.15);
}

#[test]
fn a_pour_is_refused_by_cold_damp_and_dew_and_warned_of_blush() {
    // Coatings practice: surface at least 3 °C above the dew point, air at most 85 %; blush below
    // 18 °C or above 70 % (common practice).
    let air = |temperature_c, humidity_pct| Air { temperature_c, humidity_pct };
    let good = judge(air(22.0, 50.0), 22.0, 18.0);
    assert!(good.fit && !good.blush && good.notes.is_empty(), "{good:?}");
    let cold = judge(air(15.0, 50.0), 15.0, 18.0);
    assert!(!cold.fit && cold.blush);
    assert!(cold.notes[0].message.contains("no pour at 15.0 °C"), "{cold:?}");
    assert!(cold.notes[0].message.contains("18.0 °C"), "{cold:?}");
    let cup_from_outside = judge(air(24.0, 60.0), 17.0, 15.0);
    assert!(!cup_from_outside.fit);
    near(cup_from_outside.surface_least_c, 15.75 + 3.0, 0.01);
    assert!(judge(air(24.0, 60.0), 18.8, 15.0).fit);
    assert!(!judge(air(25.0, 86.0), 35.0, 15.0).fit);
    let damp = judge(air(22.0, 75.0), 22.0, 18.0);
    assert!(damp.fit && damp.blush && damp.notes.len() == 1);
}

fn with(room: &str, art: &dyn Art) -> Reading<Settings> {
    let text = format!("{}\n[room]\n{room}\n", Settings::DEMO_TEXT);
    read_settings_beside(&Source::new("studio.toml", text), art)
}

fn room(text: &str) -> Room {
    let reading = with(text, &NoArt);
    reading.value.unwrap_or_else(|| panic!("{:?}", reading.diagnostics)).room
}

fn refused(text: &str) -> String {
    let reading = with(text, &NoArt);
    assert!(reading.value.is_none(), "{text} is taken");
    reading.diagnostics[0].message.clone()
}

#[test]
fn a_room_may_be_left_out_or_said_in_three_ways() {
    let usual = Settings::demo().room;
    // As warm as the sheet of the demo resin has it, 75 °F.
    let air = Air { temperature_c: (75.0 - 32.0) / 1.8, humidity_pct: 50.0 };
    assert_eq!(usual.climate, Climate::Constant(air));
    assert!(!usual.air_stated);
    let typed = room(
        "temperature = \"72 F\"\nhumidity = \"45 %\"\nvolume = \"1000 ft3\"\nair_changes_per_h = 2.0",
    );
    let course = RoomCourse::new(&typed, 600.0);
    near(course.temperature_c(5000.0), 22.222, 0.001);
    near(course.humidity_pct(5000.0), 45.0, 1e-9);
    near(typed.volume_m3, 28.316_846_592, 1e-9);
    assert!(typed.air_stated);
    assert!(
        refused("temperature = \"22 C\"\nday = \"22 C\"\nnight = \"20 C\"")
            .contains("more than one way")
    );
    assert!(refused("day = \"22 C\"").contains("no `night`"));
    assert!(refused("temperature = \"200 F\"").contains("60 °C"));
    assert!(refused("log = \"garage.csv\"").contains("cannot be read"));
}

#[test]
fn a_day_is_warmest_at_three_and_coldest_at_five() {
    let swing = room(
        "day = \"24 C\"\nnight = \"16 C\"\nday_humidity = \"40 %\"\nnight_humidity = \"70 %\"",
    );
    let course = RoomCourse::new(&swing, 600.0);
    near(course.temperature_c(300.0), 24.0, 1e-9);
    near(course.temperature_c(19.0 * 60.0), 16.0, 1e-9);
    near(course.humidity_pct(19.0 * 60.0), 70.0, 1e-9);
    // Half-way up at 10:00 and half-way down at 22:00 (a half wave of a cosine).
    near(course.temperature_c(0.0), 20.0, 1e-9);
    near(course.temperature_c(720.0), 20.0, 1e-9);
    let worst = course.worst(0.0, 1440.0);
    near(worst.coldest.min, 19.0 * 60.0, 1e-9);
    near(worst.warmest.min, 300.0, 1e-9);
    let told = course.advice(0.0, 1440.0, 18.0);
    assert!(told[0].message.starts_with("at 05:00, no pour at 16.0 °C"), "{told:?}");
    assert_eq!(course.advice(240.0, 360.0, 18.0), []);
}

/// A table beside the studio file.
struct Logger(String);

impl Art for Logger {
    fn svg(&self, _: &str) -> Result<Arc<str>, Unread> {
        Err(Unread::not_there("none"))
    }
    fn font(&self, _: &str) -> Result<Arc<[u8]>, Unread> {
        Err(Unread::not_there("none"))
    }
    fn pixels(&self, _: &str) -> Result<piece::read::Pixels, Unread> {
        Err(Unread::not_there("none"))
    }
    fn text(&self, file: &str) -> Result<Arc<str>, Unread> {
        assert_eq!(file, "garage.csv");
        Ok(self.0.as_str().into())
    }
}

/// Two days in the garage from 06:00, a reading an hour: 1 °C warmer each hour of the day.
fn garage() -> String {
    let mut text = "time,temperature_c,humidity_pct\n".to_owned();
    for hour in 6..=54 {
        let (day, clock) = (18 + hour / 24, hour % 24);
        writeln!(text, "2026-07-{day}T{clock:02}:00,{clock},50").expect("text");
    }
    text
}

fn logged(text: &str) -> Result<Room, String> {
    let reading = with("log = \"garage.csv\"", &Logger(text.to_owned()));
    match reading.value {
        Some(settings) => Ok(settings.room),
        None => {
            let first = &reading.diagnostics[0];
            assert_eq!(first.path.0, "room.log");
            assert!(!first.hints.is_empty(), "{first:?}");
            Err(first.message.clone())
        }
    }
}

#[test]
fn a_log_is_followed_by_the_clock_and_its_last_day_comes_again() {
    let garage = logged(&garage()).expect("a sound log");
    let course = RoomCourse::new(&garage, 8.0 * 60.0);
    near(course.temperature_c(0.0), 8.0, 1e-9);
    near(course.temperature_c(90.0), 9.5, 1e-9);
    // The log ends on the third day at 06:00; at 10:00 it is as at 10:00 of the day before.
    near(course.temperature_c(2880.0 + 120.0), 10.0, 1e-9);
    near(course.temperature_c(7.0 * 1440.0 + 300.0), 13.0, 1e-9);
    assert!(!course.repeats_before(2700.0) && course.repeats_before(2900.0));
    assert_eq!(course.log_ends(2700.0), None);
    let told = course.log_ends(2900.0).expect("a warning");
    assert_eq!(told.path.0, "room.log");
    assert!(told.message.contains("come again"), "{told:?}");
    let usual = Settings::demo().room;
    assert_eq!(RoomCourse::new(&usual, 0.0).log_ends(1e6), None);
    // The same in Fahrenheit and with seconds, of a clock east of Greenwich.
    let mut east = "time,humidity_pct,temperature_f\n".to_owned();
    for hour in 0..=24 {
        let (day, clock) = (18 + hour / 24, hour % 24);
        writeln!(east, "2026-07-{day}T{clock:02}:00:00+02:00,50,50").expect("text");
    }
    let east = logged(&east).expect("a sound log");
    near(RoomCourse::new(&east, 0.0).temperature_c(30.0), 10.0, 1e-9);
}

#[test]
fn what_is_wrong_with_a_log_is_told_with_its_line() {
    let garage = garage();
    let bad = |from: &str, to: &str| logged(&garage.replace(from, to)).expect_err("a bad log");
    assert_eq!(
        bad("2026-07-18T08:00,8", "2026-07-18T08:00,warm"),
        "line 4 of `garage.csv`: `warm` is no number for the temperature"
    );
    assert!(bad("T08:00,8", "T05:00,8").contains("line 4 of `garage.csv`: the time is not after"));
    assert!(bad("2026-07-18T08:00,8,50", "2026-07-18T08:00,8,150").contains("150 %"));
    assert!(bad("2026-07-18T08:00,8,50", "2026-07-18T08:00,88,50").contains("not expected"));
    assert!(bad("2026-07-18T08:00", "yesterday").contains("`yesterday` is no time"));
    assert!(bad("2026-07-18T08:00,8,50\n2026-07-18T09:00,9,50\n", "").contains("3 h lie between"));
    assert!(bad("humidity_pct", "damp").contains("no column `humidity_pct`"));
    let parted = with("log = \"garage.csv\"", &Logger(garage.replace(',', ";")));
    let hints = &parted.diagnostics[0].hints;
    assert!(hints.iter().any(|hint| hint.contains("parted by semicolons")), "{hints:?}");
    let short: String = garage.lines().take(12).map(|line| format!("{line}\n")).collect();
    assert!(logged(&short).expect_err("short").contains("10 h, and a whole day is needed"));
    assert!(logged("").is_err() && logged("\0\n\u{fffd}").is_err());
}

proptest! {
    #[test]
    fn the_dew_point_lies_below_the_air_and_rises_with_damp(
        celsius in -20.0..50.0_f64,
        humidity in 1.0..99.0_f64,
    ) {
        let dew = dew_point_c(celsius, humidity);
        prop_assert!(dew < celsius);
        prop_assert!(dew_point_c(celsius, humidity + 1.0) > dew);
        prop_assert!((dew_point_c(celsius, 100.0) - celsius).abs() < 1e-9);
    }

    #[test]
    fn a_day_never_leaves_its_two_ends(min in 0.0..20_000.0_f64, start in 0.0..1440.0_f64) {
        let swing = room("day = \"24 C\"\nnight = \"16 C\"");
        let course = RoomCourse::new(&swing, start);
        let celsius = course.temperature_c(min);
        prop_assert!((16.0..=24.0).contains(&celsius));
        prop_assert!((course.temperature_c(min + 1440.0) - celsius).abs() < 1e-9);
        prop_assert!((course.temperature_c(min + 1.0) - celsius).abs() < 0.05);
    }
}
