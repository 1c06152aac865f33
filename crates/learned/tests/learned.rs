//! What records teach, and when they teach nothing.

use learned::{Figure, Learned, Subject, learn};
use piece::records::Material;
use piece::{Records, Settings, Source, read_records};

const QUANTILES: &str = include_str!("reference/quantiles.csv");

fn records(lines: &[String]) -> Records {
    let head =
        "day,piece,step,size,layout,pieces,count,set_ups,minutes,outcome,material,planned,used";
    let text = format!("{head}\n{}\n", lines.join("\n"));
    let source = Source::new("records.csv", text);
    let reading = read_records(&source);
    reading.value.unwrap_or_else(|| panic!("{}", piece::show(&reading.diagnostics, &source, false)))
}

fn step(step: &str, rest: &str) -> String {
    format!("2027-03-01,Trial,{step},{rest},,,")
}

fn figure(learned: &Learned, subject: Subject) -> Figure {
    let found = learned.figures.iter().find(|figure| figure.subject == subject);
    found.cloned().unwrap_or_else(|| panic!("{subject:?} in {:?}", learned.figures))
}

fn sanded(count: usize) -> Vec<String> {
    // The demo standard is 20 min; these took 28 to 32.
    (0..count).map(|at| step("sand", &format!(",,1,1,1,{},", 28 + at % 5))).collect()
}

#[test]
fn below_the_lines_it_needs_a_figure_stays_the_standard_and_says_how_many_are_missing() {
    let settings = Settings::demo();
    let learned = learn(&settings, &records(&sanded(3)));
    let sand = figure(&learned, Subject::Time("sand"));
    assert_eq!((sand.records, sand.missing, sand.found), (3, 1, None));
    assert_eq!(sand.value(), settings.times.sand_min);
    assert!(sand.sentence().contains("3 records so far, 1 missing"), "{}", sand.sentence());
    assert_eq!(learned.settings(&settings), settings);
    let learned = learn(&settings, &Records::default());
    assert!(learned.found().next().is_none());
    assert_eq!(learned.settings(&settings), settings);
}

#[test]
fn with_lines_enough_it_moves_from_the_standard_towards_what_was_seen() {
    let settings = Settings::demo();
    let mut widths = Vec::new();
    for count in [4, 10, 40] {
        let learned = learn(&settings, &records(&sanded(count)));
        let sand = figure(&learned, Subject::Time("sand"));
        let found = sand.found.expect("learned");
        let seen = (0..count).map(|at| (28 + at % 5) as f64).sum::<f64>() / count as f64;
        assert!(found.value > 24.0 && found.value <= seen + 0.1, "{count}: {found:?}");
        assert!(sand.standard_is_off() && found.within.0 < found.value, "{found:?}");
        assert!(sand.advice().is_some_and(|told| told.contains("times.sand")), "{sand:?}");
        assert_eq!(learned.settings(&settings).times.sand_min, sand.value());
        assert!((sand.value() - found.value).abs() <= 0.05);
        widths.push(found.within.1 - found.within.0);
    }
    assert!(widths.windows(2).all(|pair| pair[1] < pair[0]), "{widths:?}");
}

#[test]
fn a_pour_is_told_apart_into_watching_and_pouring() {
    // Made from 8 min of watching and 30 min a coat, by hand; standards are 10 and 20.
    let line = |at: usize| {
        let coats = 1 + at % 4;
        step("pour", &format!(",,1,{coats},1,{},", 8 + 30 * coats))
    };
    let lines: Vec<String> = (0..24).map(line).collect();
    let learned = learn(&Settings::demo(), &records(&lines));
    let pour = figure(&learned, Subject::Time("pour")).value();
    let watch = figure(&learned, Subject::Time("watch")).value();
    assert!((pour - 30.0).abs() < 1.5 && (watch - 8.0).abs() < 3.5, "{pour} {watch}");
}

/// Minutes of `count` stones at so many an hour, with a set-up.
fn set(size: &str, layout: &str, count: u32, per_h: f64) -> String {
    let minutes = 10.0 + f64::from(count) * 60.0 / per_h;
    step("set", &format!("{size},{layout},1,{count},1,{minutes:.1},"))
}

#[test]
fn sizes_are_pulled_towards_all_stones() {
    let settings = Settings::demo();
    let mut lines = Vec::new();
    // SS10: standard 320 an hour, seen 256 (1.25 times as long). SS16: 360, seen once only.
    for at in 0..12 {
        lines.push(set("SS10", "rows", 300 + 40 * at, 256.0));
    }
    lines.push(set("SS16", "rows", 400, 200.0));
    let learned = learn(&settings, &records(&lines));
    let ten = figure(&learned, Subject::StonesPerHour("SS10".to_owned()));
    assert!((ten.value() / 256.0 - 1.0).abs() < 0.03, "{ten:?}");
    let sixteen = figure(&learned, Subject::StonesPerHour("SS16".to_owned()));
    assert_eq!((sixteen.missing, sixteen.found), (2, None));
    let any = figure(&learned, Subject::AnyStone).value();
    // By hand: 1.25 of one size, 1.78 of the other and the standard of 1, with precisions of about 25 (the
    // spread between sizes), 19 (that and one line's) and 6 (the prior): 1.42.
    assert!((any - 1.42).abs() < 0.03, "{any}");
    let taught = learned.settings(&settings);
    for (before, after) in settings.stones.iter().zip(&taught.stones) {
        let expected = if before.size == "SS10" { ten.value() / 320.0 } else { 1.0 / any };
        assert!((after.set_per_h / before.set_per_h - expected).abs() < 1e-9, "{after:?}");
    }
}

#[test]
fn layouts_differ_only_where_several_were_written_down() {
    let settings = Settings::demo();
    let mut lines: Vec<String> = (0..10).map(|at| set("SS10", "rows", 300 + at, 320.0)).collect();
    let one = learn(&settings, &records(&lines));
    assert!(!one.figures.iter().any(|figure| matches!(figure.subject, Subject::Layout(_))));
    lines.extend((0..10).map(|at| set("SS10", "scatter", 300 + at, 240.0)));
    let two = learn(&settings, &records(&lines));
    let pace = |word| figure(&two, Subject::Layout(word)).value();
    // By hand: 320 / 240 is 1.33.
    let apart = pace("scatter") / pace("rows");
    assert!((1.2..1.34).contains(&apart), "{apart}");
    assert_eq!(two.settings(&settings).times.pace_in("scatter"), pace("scatter"));
    assert_eq!(two.settings(&settings).times.pace_in("rings"), 1.0);
}

#[test]
fn losses_and_spares_come_from_what_was_used() {
    let settings = Settings::demo();
    let used = |material: &str, planned: f64, used: f64| {
        format!("2027-03-01,Trial,,,,,,,,,{material},{planned},{used:.2}")
    };
    let mut lines = Vec::new();
    for at in 0..20 {
        // A quarter of the resin is lost; of stones 4 to 6 % are dropped or cracked.
        lines.push(used("resin", 40.0 + f64::from(at), (40.0 + f64::from(at)) / 0.75));
        lines.push(used("stones", 1000.0, 1040.0 + f64::from(at)));
    }
    let learned = learn(&settings, &records(&lines));
    let resin = figure(&learned, Subject::Loss(Material::Resin));
    assert!((resin.value() - 0.25).abs() < 0.01, "{resin:?}");
    let stones = figure(&learned, Subject::Spare(Material::Stones));
    // Enough for nine in ten: above the mean of 5 %, below the standard of 12 %.
    assert!((0.055..0.10).contains(&stones.value()), "{stones:?}");
    assert_eq!(figure(&learned, Subject::Loss(Material::Glue)).missing, 5);
    let taught = learned.settings(&settings);
    assert_eq!((taught.resin.loss, taught.spare_stones), (resin.value(), stones.value()));
    assert_eq!(taught.glue.loss, settings.glue.loss);
}

#[test]
fn failures_are_those_of_a_beta_distribution() {
    // Ends of the interval: scipy, with 5 % of twenty pieces as the prior.
    let mut tables = csv::Reader::from_reader(QUANTILES.as_bytes());
    let rows: Vec<csv::StringRecord> = tables.records().map(|row| row.expect("a row")).collect();
    let told = |what: &str, a: u32, b: u32| -> f64 {
        let found = rows
            .iter()
            .find(|row| &row[0] == what && row[1] == a.to_string() && row[2] == b.to_string());
        found.expect("a row")[3].parse().expect("a number")
    };
    for (good, failed) in [(4_u32, 1_u32), (19, 1), (60, 0), (12, 8)] {
        let mut lines = vec![step("pack", &format!(",,{good},,1,{},", 15 * good))];
        if failed > 0 {
            lines.push(step("pour", &format!(",,{failed},1,1,30,failed")));
        }
        let figure = figure(&learn(&Settings::demo(), &records(&lines)), Subject::Failure);
        let found = figure.found.expect("learned");
        let (a, b) = (1 + failed, 19 + good);
        assert!((found.value - f64::from(a) / f64::from(a + b)).abs() < 1e-12, "{found:?}");
        assert!((found.within.0 - told("low", a, b)).abs() < 1e-6, "{found:?}");
        assert!((found.within.1 - told("high", a, b)).abs() < 1e-6, "{found:?}");
    }
}
