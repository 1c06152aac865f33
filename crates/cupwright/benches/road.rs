//! How long each room of the road takes on the demo piece: `make bench`.
//!
//! Prints the median of several rounds in ms, with stones a second and coverage beside it, after
//! making sure that each round gives the same stones. The question asked most often on the road,
//! whether a place lies in a zone, is timed against a general-purpose library (kurbo) as well.

use kurbo::{BezPath, Point, Shape as _};
use piece::options::Keep;
use piece::{NoArt, Piece, Settings, Source, read_piece, read_settings};
use shape::{Field, Shape, SurfacePoint, ZoneShape};
use std::hint::black_box;
use std::time::Instant;

const ROUNDS: usize = 9;

fn main() {
    let source =
        Source::new("heron-low-tide.toml", include_str!("../../../examples/heron-low-tide.toml"));
    let studio = Source::new("studio.toml", include_str!("../../../examples/studio.toml"));
    let settings = read_settings(&studio).value.expect("the studio is well described");
    let piece = read_piece(&source, &NoArt).value.expect("the demo piece is well described");
    let shape = shape::shape(&piece, &settings).expect("the demo piece can be shaped");
    let stones = stones::lay_stones(&piece, &shape, &settings, &mut |_| true)
        .expect("the stones can be laid");
    let coats = coats::plan_coats(&piece, &shape, &settings).expect("its resin can be poured");
    let steps = work::plan_steps(&piece, &settings, &coats, &stones);
    let scene = picture::build_scene(&piece, &shape, &stones);

    print_row("read", time(|| read_piece(&source, &NoArt)), "");
    print_row("shape", time(|| shape::shape(&piece, &settings)), "");
    let laying_ms = time(|| {
        let again = stones::lay_stones(&piece, &shape, &settings, &mut |_| true)
            .expect("the stones can be laid");
        assert_eq!(again.stones.len(), stones.stones.len());
        again
    });
    let per_s = stones.stones.len() as f64 / laying_ms * 1000.0;
    print_row("stones", laying_ms, &format!("{} stones, {per_s:.0} a second", stones.stones.len()));
    for filled in &stones.zones {
        let zone = &piece.zones[filled.zone].name;
        println!(
            "  {zone:<12} {:>6} {:>6} stones, coverage {:.3}",
            filled.layout, filled.count, filled.coverage
        );
    }
    print_row("coats", time(|| coats::plan_coats(&piece, &shape, &settings)), "");
    print_row("steps", time(|| work::plan_steps(&piece, &settings, &coats, &stones)), "");
    let timetable = |pieces: u32| {
        let batch = piece::Piece { quantity: pieces, ..piece.clone() };
        time(|| work::plan_work(&batch, &settings, &coats, &stones, None, &mut |_| true))
    };
    for pieces in [1, 1000] {
        let beside = format!("quantity {pieces}, counted back from the day it is due");
        print_row("timetable", timetable(pieces), &beside);
    }
    print_row("bill", time(|| money::plan_bill(&piece, &settings, &coats, &stones, &steps)), "");
    print_row("scene", time(|| picture::build_scene(&piece, &shape, &stones)), "");
    print_row("picture", time(|| picture::render(&scene, 1000, 1250)), "1000 x 1250 pixels");
    let whole = (source.text.as_str(), &piece, &shape);
    print_row("quote", time(|| three_strengths(whole, &settings)), "three options, side by side");
    compare_inside(&shape.zones[stones.zones[0].zone]);
}

/// Accent, half and full of a design, each read, laid, planned, priced and pictured as a quote has it, on a
/// thread of its own; returns how many stones they have.
fn three_strengths(
    (text, piece, shape): (&str, &Piece, &Shape),
    settings: &Settings,
) -> Vec<usize> {
    let kept = [0.2, 0.5, 1.0].map(|share| stones::strengths::about(piece, shape, share));
    let one = |kept: &[(usize, Keep)]| {
        let text = piece::options::with_kept(text, kept).expect("a piece file");
        let piece = read_piece(&Source::new("option.toml", text), &NoArt).value.expect("a piece");
        let shape = shape::shape(&piece, settings).expect("it can be shaped");
        let stones = stones::lay_stones(&piece, &shape, settings, &mut |_| true)
            .expect("the stones can be laid");
        let coats = coats::plan_coats(&piece, &shape, settings).expect("its resin can be poured");
        let begin = Some(jiff::civil::date(2027, 3, 15));
        let work = work::plan_work(&piece, settings, &coats, &stones, begin, &mut |_| true);
        let (steps, _) = work.expect("nobody stops it");
        let bill = money::plan_bill(&piece, settings, &coats, &stones, &steps).expect("a bill");
        black_box(money::plan_price(&piece, settings, &bill, &steps).expect("a price"));
        let scene = picture::build_scene(&piece, &shape, &stones);
        black_box(picture::render(&scene, 480, 600));
        stones.stones.len()
    };
    std::thread::scope(|scope| {
        let threads: Vec<_> = kept.iter().map(|kept| scope.spawn(|| one(kept))).collect();
        threads.into_iter().map(|thread| thread.join().expect("an option")).collect()
    })
}

/// Places in a zone by its [`Field`] and by the winding number of its loops in kurbo.
fn compare_inside(zone: &ZoneShape) {
    let (around, along_mm) = {
        let extent = zone.area.extent(&zone.surface).expect("a zone with stones is not empty");
        (extent.around, extent.along_mm)
    };
    let steps = 100;
    // Off the middle of the mesh, so that no place lies just on an edge.
    let share = |step: i32| (f64::from(step) + 0.382) / f64::from(steps);
    let places: Vec<SurfacePoint> = (0..steps * steps)
        .map(|index| SurfacePoint {
            around: around.0 + share(index % steps) * (around.1 - around.0),
            along_mm: along_mm.0 + share(index / steps) * (along_mm.1 - along_mm.0),
        })
        .collect();
    let mut path = BezPath::new();
    for one in &zone.area.loops {
        let mut corners = one.iter().map(|at| Point::new(at.around, at.along_mm));
        path.extend(corners.next().map(kurbo::PathEl::MoveTo));
        path.extend(corners.map(kurbo::PathEl::LineTo));
        path.close_path();
    }
    let field = Field::new(&zone.surface, &zone.area);
    let by_field = || places.iter().filter(|at| field.contains(**at)).count();
    let by_kurbo =
        || places.iter().filter(|at| path.winding(Point::new(at.around, at.along_mm)) != 0).count();
    assert_eq!(by_field(), by_kurbo(), "both find the same places inside");
    let beside = format!("{} places, {} inside", places.len(), by_field());
    print_row("inside", time(by_field), &beside);
    print_row("by kurbo", time(by_kurbo), &beside);
}

/// Median time of one round, ms.
fn time<T>(mut round: impl FnMut() -> T) -> f64 {
    let mut times_ms: Vec<f64> = (0..ROUNDS)
        .map(|_| {
            let begun = Instant::now();
            black_box(round());
            begun.elapsed().as_secs_f64() * 1000.0
        })
        .collect();
    times_ms.sort_by(f64::total_cmp);
    times_ms[ROUNDS / 2]
}

fn print_row(room: &str, median_ms: f64, beside: &str) {
    println!("{}", format!("{room:<10} {median_ms:>9.2} ms  {beside}").trim_end());
}
