//! How well a zone is filled with stones: for people, and for `summary.json`.

use crate::numbers::{fixed, rounded};
use crate::words::grouped;
use piece::StoneFinish;
use serde::Serialize;
use stones::ZoneStones;

/// In a line: `covers 77 %, gaps 0.10 to 0.66 mm, mean 0.23; no pocket left for SS6`. The greater of the
/// two gaps is the one that nine in ten keep below.
pub(crate) fn in_words(filled: &ZoneStones, finish: &StoneFinish) -> String {
    let quality = &filled.quality;
    let mut words = format!("covers {}\u{a0}%", fixed(100.0 * filled.coverage, 0));
    if let Some(gaps) = &quality.gaps {
        let [least, most, mean] =
            [gaps.least_mm, gaps.nine_in_ten_mm, gaps.mean_mm].map(|mm| fixed(mm, 2));
        words += &if least == most {
            format!(", gaps {least}\u{a0}mm")
        } else {
            format!(", gaps {least} to {most}\u{a0}mm, mean {mean}")
        };
    }
    let smallest = finish.sizes.iter().min_by(|a, b| a.diameter_mm.total_cmp(&b.diameter_mm));
    if let (Some(pockets), Some(smallest)) = (quality.pockets, smallest) {
        let left = match pockets {
            0 => "no pocket".to_owned(),
            1 => "1 pocket".to_owned(),
            more => format!("{} pockets", grouped(more)),
        };
        words += &format!("; {left} left for {}", smallest.name);
    }
    if let Some(picture) = quality.picture {
        words += &format!("; {} from the picture (CIEDE2000)", fixed(picture, 1));
    }
    words
}

/// Its figures for `summary.json`.
#[derive(Debug, Serialize)]
pub(crate) struct QualitySummary {
    /// Between neighbours, girdle to girdle; null if there are none.
    gaps: Option<GapSummary>,
    /// Left for the smallest stone of the zone; null where stones lie apart on purpose.
    pockets: Option<usize>,
    /// At least 1.7 mm wide; null where stones lie apart on purpose.
    wide_holes: Option<usize>,
    wide_holes_per_1000: Option<f64>,
    /// From the girdles of the stones at the edge to it; null if it has none.
    edge: Option<EdgeSummary>,
    /// Neighbours of one colour over those by chance; null with fewer than two colours, or where they
    /// follow a gradient or a picture.
    mingling: Option<f64>,
    /// Between the picture and the stones that show it, as seen from afar: mean CIEDE2000; null without
    /// a picture.
    picture_difference: Option<f64>,
}

#[derive(Debug, Serialize)]
struct GapSummary {
    mean_mm: f64,
    spread_mm: f64,
    least_mm: f64,
    nine_in_ten_mm: f64,
}

#[derive(Debug, Serialize)]
struct EdgeSummary {
    mean_mm: f64,
    spread_mm: f64,
    /// Share of its length without a stone.
    bare: f64,
}

impl QualitySummary {
    pub(crate) fn of(filled: &ZoneStones) -> Self {
        let quality = &filled.quality;
        let per_1000 = |holes: usize| rounded(1000.0 * holes as f64 / filled.count as f64, 2);
        Self {
            gaps: quality.gaps.map(|gaps| GapSummary {
                mean_mm: rounded(gaps.mean_mm, 3),
                spread_mm: rounded(gaps.spread_mm, 3),
                least_mm: rounded(gaps.least_mm, 3),
                nine_in_ten_mm: rounded(gaps.nine_in_ten_mm, 3),
            }),
            pockets: quality.pockets,
            wide_holes: quality.wide_holes,
            wide_holes_per_1000: quality.wide_holes.map(per_1000),
            edge: quality.edge.map(|edge| EdgeSummary {
                mean_mm: rounded(edge.mean_mm, 3),
                spread_mm: rounded(edge.spread_mm, 3),
                bare: rounded(edge.bare, 4),
            }),
            mingling: quality.mingling.map(|mingling| rounded(mingling, 3)),
            picture_difference: quality.picture.map(|picture| rounded(picture, 2)),
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use piece::{Finish, Piece};
    use stones::{Gaps, Quality};

    #[test]
    fn a_zone_is_told_as_a_maker_would_say_it() {
        let text = "cupwright = 1\ntitle = \"T\"\n[colours]\nebb = \"#1f6f78\"\n[[part]]\n\
                    name = \"topper\"\nflat = { circle = \"20 mm\" }\n[[zone]]\nname = \"z\"\n\
                    part = \"topper\"\nstones = { layout = \"rows\", size = \"SS6\", colour = \"ebb\" }\n";
        let piece: Piece = text.parse().expect("a piece");
        let Finish::Stones(finish) = &piece.zones[0].finish else { panic!("stones") };
        let gaps = |nine_in_ten_mm| Gaps {
            pairs: 9,
            mean_mm: 0.226,
            spread_mm: 0.1,
            least_mm: 0.1,
            nine_in_ten_mm,
        };
        let filled = |gaps, pockets| ZoneStones {
            zone: 0,
            layout: "rows".to_owned(),
            area_mm2: 300.0,
            count: 80,
            coverage: 0.771,
            effective_coverage: 0.84,
            quality: Quality {
                gaps,
                pockets,
                wide_holes: pockets,
                edge: None,
                mingling: None,
                picture: None,
            },
        };
        let said = |gaps, pockets| in_words(&filled(gaps, pockets), finish).replace('\u{a0}', " ");
        assert_eq!(
            said(Some(gaps(0.657)), Some(0)),
            "covers 77 %, gaps 0.10 to 0.66 mm, mean 0.23; no pocket left for SS6"
        );
        assert_eq!(
            said(Some(gaps(0.1)), Some(1)),
            "covers 77 %, gaps 0.10 mm; 1 pocket left for SS6"
        );
        assert_eq!(said(None, None), "covers 77 %");
        let mut shows = filled(None, None);
        shows.quality.picture = Some(2.04);
        let said = in_words(&shows, finish).replace('\u{a0}', " ");
        assert_eq!(said, "covers 77 %; 2.0 from the picture (CIEDE2000)");
        assert_eq!(QualitySummary::of(&shows).picture_difference, Some(2.04));
        // Five holes among 80 stones.
        let told = QualitySummary::of(&filled(None, Some(5)));
        assert_eq!(told.wide_holes_per_1000, Some(62.5));
    }
}
