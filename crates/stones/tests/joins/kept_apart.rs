//! Zones that are not joined keep their gap.

use crate::support::{band, body, lay, rows, scatter};
use crate::{CUP, between, blend, check_gaps, over_borders, wave, windowed};

#[test]
fn neighbours_keep_the_larger_gap_across_any_border() {
    // Paint and resin beneath the lower zone alone: its stones lie 0.5 mm higher.
    let resin = "[[zone]]\nname = \"under\"\npart = \"body\"\n\
                 band = { from = \"42 mm\", to = \"75 mm\" }\nresin = { coats = 2, film = \"0.25 mm\" }\n";
    for kind in ["sine", "zigzag", "scallop"] {
        for (first, second) in [(0.1, 0.4), (0.4, 0.0)] {
            let line = wave(kind, 42.0, 4.0);
            let upper = scatter(
                "upper",
                &between("\"15 mm\"", &line),
                &[("SS12", 50.0), ("SS6", 50.0)],
                first,
            );
            let lower = rows("lower", &between(&line, "\"75 mm\""), "edge", "SS10", second);
            check_gaps(&lay(&body(&CUP, &(upper + &lower))));
        }
    }
    for below in ["", resin] {
        let side = blend("side", &windowed(20.0, 42.0, 95.0, 200.0));
        let upper = rows("upper", &windowed(20.0, 42.0, -160.0, 95.0), "level", "SS16", 0.3);
        let lower = scatter("lower", &band(42.0, 70.0), &[("SS10", 50.0), ("SS6", 50.0)], 0.15);
        let laid = lay(&body(&CUP, &(below.to_owned() + &side + &upper + &lower)));
        assert!(over_borders(&laid) == 0);
        check_gaps(&laid);
    }
}
