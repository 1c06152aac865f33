//! How dense stones of one size lie, against what is proven of equal circles.

mod support;

use piece::Layout;
use std::f64::consts::PI;
use support::{band, body, check_pairs, laid_out, lay, lay_as, plate, rows};

/// SS10 with its gap, mm.
const STONE_MM: f64 = 2.8;
const PITCH_MM: f64 = STONE_MM + 0.1;

/// Share of the plane that equal circles cover at most (Thue 1892; Fejes Tóth 1943), each grown by its
/// share of the gap.
fn most() -> f64 {
    PI / 12.0_f64.sqrt() * (STONE_MM / PITCH_MM) * (STONE_MM / PITCH_MM)
}

#[test]
fn rows_come_nearer_to_the_densest_packing_as_the_zone_grows() {
    let mut last = f64::INFINITY;
    for rows_deep in [6, 18, 54] {
        // So high that whole rows of a honeycomb, √3/2 of the pitch apart, end the zone.
        let height_mm = STONE_MM + f64::from(rows_deep) * 0.75_f64.sqrt() * PITCH_MM + 0.01;
        let zone = rows("tide", &band(10.0, 10.0 + height_mm), "level", "SS10", 0.1);
        let laid = lay(&body(&[(0.0, 37.4), (170.0, 37.4)], &zone));
        check_pairs(&laid, 0.1);
        let short = most() - laid.stones.zones[0].coverage;
        // What edges cost: 0.15 d P/A by our own measurements of one size; of a band all round P/A is
        // two over its height.
        let edges = 0.15 * STONE_MM * 2.0 / height_mm;
        assert!(short > 0.0, "denser than any packing by {}", -short);
        assert!(short < edges, "{short} short of the densest, {edges} for the edges");
        assert!(short < last, "{short} short, {last} on a smaller zone");
        last = short;
    }
    assert!(last < 0.006, "{last} short of the densest on a large zone");
}

#[test]
fn no_layout_of_one_size_holds_more_stones_than_oler_allows() {
    // Points at least a unit apart in a convex region are at most 2A/√3 + P/2 + 1 (Oler 1961, "An
    // inequality in the geometry of numbers", Acta Mathematica 105; from memory). Centres lie half a
    // stone inside the plate.
    for side_mm in [20.0, 45.0_f64] {
        let inner = (side_mm - STONE_MM) / PITCH_MM;
        let most = 2.0 * inner * inner / 3.0_f64.sqrt() + 2.0 * inner + 1.0;
        let text = plate(
            &format!("width = \"{side_mm} mm\", height = \"{side_mm} mm\""),
            "",
            &[("SS10", 100.0)],
        );
        for (layout, near) in [
            (Layout::Scatter { rounds: None }, 0.88),
            (Layout::Rings, 0.70),
            (Layout::Sparse { apart_mm: PITCH_MM, per_mm2: None }, 0.50),
        ] {
            let laid = lay_as(&text, laid_out(layout));
            check_pairs(&laid, 0.1);
            let count = laid.stones.stones.len() as f64;
            eprintln!("{side_mm} mm, {layout:?}: {count} of {most:.1}, {:.3}", count / most);
            assert!(count <= most, "{count} stones where no more than {most} fit");
            assert!(count >= near * most, "{layout:?}: {count} stones of {most}");
        }
    }
}

#[test]
fn rings_of_a_disc_come_near_to_the_best_packings_known() {
    // Radius of the smallest circle around n unit circles: 3 for 7, 1 + √2 + √6 for 19, 6.7588 for 37
    // (Graham, Lubachevsky, Nurmela, Östergård 1998; from memory). All three are rings of 6, 12, 18 about
    // one in the middle.
    for (count, ratio, near) in [(7, 3.0, 7), (19, 4.863_703, 19), (37, 6.7588, 36)] {
        let disc = |scale: f64| {
            let across_mm = scale * ratio * PITCH_MM - 0.1;
            let text = plate(&format!("circle = \"{across_mm} mm\""), "", &[("SS10", 100.0)]);
            let laid = lay_as(&text, laid_out(Layout::Rings));
            check_pairs(&laid, 0.1);
            laid.stones.stones.len()
        };
        let (tight, roomy) = (disc(0.999), disc(1.002));
        eprintln!("{count}: {tight} below, {roomy} above");
        assert!(tight < count, "{tight} in the room of less than {count}");
        assert!(roomy >= near && roomy <= count, "{roomy} in the room of {count}");
    }
}
