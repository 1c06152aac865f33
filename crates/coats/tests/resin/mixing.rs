//! Mixing against arithmetic done by hand and the gel point of the handbooks.

use crate::support::near;
use coats::mixing::{
    Pour, TOLERANCE, by_marks, least_mix_g, mix_for, off_ratio, scale_note, weighed, worth_weighing,
};
use coats::{Mix, resin};
use piece::Settings;
use piece::settings::Scale;
use proptest::prelude::*;

/// 15 and 15 ml of 1.13 and 0.97 g/ml.
fn fifteen_each() -> Mix {
    Mix { on_cup_ml: 30.0, loss_ml: 0.0, a_ml: 15.0, b_ml: 15.0, a_g: 16.95, b_g: 14.55 }
}

const TENTH: Scale = Scale { readability_g: 0.1 };
const WHOLE: Scale = Scale { readability_g: 1.0 };

#[test]
fn readings_put_the_ratio_off_as_by_hand() {
    // By hand: (15 - 0.5)/(15 + 0.5) = 0.935 and 15.5/14.5 = 1.069; to a whole ml 0.875 and 1.143.
    let half = by_marks(&fifteen_each(), 0.5);
    near(half.less, 1.0 - 0.935, 5e-4);
    near(half.more, 0.069, 5e-4);
    let whole = by_marks(&fifteen_each(), 1.0);
    near(whole.less, 0.125, 1e-12);
    near(whole.more, 0.143, 5e-4);
    // By hand: 14.65/14.55 · 16.95/16.85 = 1.0129.
    near(weighed(&fifteen_each(), TENTH).worst(), 0.0129, 1e-4);
    assert_eq!(by_marks(&fifteen_each(), 15.0).more, f64::INFINITY);
}

#[test]
fn the_least_mix_is_as_exact_as_asked() {
    let mut resin = Settings::demo().resin;
    resin.loss = 0.0;
    resin.least_loss_ml = 0.0;
    // By hand, 1.13 and 0.97 g/ml: 0.1/0.05 · (2.1/0.97 + 1.05 · 2.1/1.13) = 8.23 g.
    near(least_mix_g(&resin, TENTH, TOLERANCE), 8.23, 0.01);
    for scale in [TENTH, WHOLE] {
        let least_g = least_mix_g(&resin, scale, TOLERANCE);
        let ml = least_g / resin.density_mixed_g_per_ml();
        let mix = mix_for(&[Pour { area_mm2: ml * 1000.0, film_mm: 1.0 }], &resin);
        near(mix.mixed_g(), least_g, 1e-9);
        near(weighed(&mix, scale).worst(), TOLERANCE, 1e-9);
    }
}

#[test]
fn a_mix_too_small_for_its_scale_is_told() {
    let resin = Settings::demo().resin;
    let mix = mix_for(&[Pour { area_mm2: 50_000.0, film_mm: 0.2 }], &resin);
    assert_eq!(scale_note(&mix, &resin, TENTH), None);
    let note = scale_note(&mix, &resin, WHOLE).expect("told");
    assert_eq!(note.path.0, "scale.readability");
    assert!(note.hints[0].contains("at least 83 g"), "{:?}", note.hints);
}

#[test]
fn a_wrong_ratio_gels_late_and_stays_soft() {
    // Flory and Stockmayer for two- and four-handed monomers, from memory: 1/sqrt(3 r). By hand 0.577,
    // 0.609, 0.645, 0.690 for r of 1, 0.9, 0.8, 0.7.
    for (times, gels_at) in [(1.0, 0.577), (0.9, 0.609), (0.8, 0.645), (0.7, 0.690)] {
        near(off_ratio(times).gels_at.expect("gels"), gels_at, 1e-3);
        near(off_ratio(1.0 / times).gels_at.expect("gels"), gels_at, 1e-3);
        near(off_ratio(1.0 / times).reacts, times, 1e-12);
    }
    assert_eq!(off_ratio(0.33).gels_at, None);
    assert_eq!(off_ratio(0.0).reacts, 0.0);
}

#[test]
fn weighing_one_to_one_by_volume_as_one_to_one_by_weight_is_told_by_its_ratio() {
    // By hand: 1.13/0.97 = 1.165 times too much hardener.
    let resin = Settings::demo().resin;
    let times = 100.0 / resin::b_to_100_a_by_weight(&resin);
    near(times, 1.165, 5e-4);
    near(off_ratio(times).reacts, 0.858, 5e-4);
}

proptest! {
    #[test]
    fn one_mix_for_several_coats_is_never_more_than_one_for_each(
        pours in prop::collection::vec((100.0..80_000.0_f64, 0.05..1.0_f64), 1..8),
    ) {
        let resin = Settings::demo().resin;
        let pours: Vec<Pour> =
            pours.into_iter().map(|(area_mm2, film_mm)| Pour { area_mm2, film_mm }).collect();
        let together = mix_for(&pours, &resin);
        let apart: f64 = pours.iter().map(|pour| mix_for(&[*pour], &resin).mixed_ml()).sum();
        let on: f64 = pours.iter().map(|pour| pour.area_mm2 * pour.film_mm / 1000.0).sum();
        prop_assert!(together.mixed_ml() <= apart * (1.0 + 1e-12));
        prop_assert!((together.on_cup_ml - on).abs() <= 1e-9 * on);
        prop_assert!(together.loss_ml + 1e-9 >= resin.least_loss_ml);
    }
}

#[test]
fn a_mix_too_small_for_the_scale_is_made_larger_by_a_spoonful_at_most() {
    let (resin, fine) = (Settings::demo().resin, Scale { readability_g: 0.1 });
    let small = mix_for(&[Pour { area_mm2: 4_000.0, film_mm: 0.1 }], &resin);
    let worth = worth_weighing(small, &resin, fine);
    // Both parts off by 0.1 g in opposite ways: at most 5 % off, by hand from the masses told.
    let off = (worth.b_g + 0.1) / (worth.a_g - 0.1) * (worth.a_g / worth.b_g) - 1.0;
    assert!(off <= 0.05 + 1e-9 && off > 0.049, "{off}");
    assert_eq!(worth.on_cup_ml, small.on_cup_ml);
    assert!((worth.a_ml / worth.b_ml - small.a_ml / small.b_ml).abs() < 1e-12);
    let coarse = Scale { readability_g: 1.0 };
    assert_eq!(worth_weighing(small, &resin, coarse), small);
    assert!(scale_note(&small, &resin, coarse).is_some());
}
