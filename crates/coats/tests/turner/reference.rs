//! Every row of `tests/reference/turner.csv`, which SciPy worked out by other ways.

use crate::{CLEAR, close, near};
use coats::turner::level::{self, Side};
use coats::turner::{Liquid, Turning, edge, flat, fluidity_per_pa, load, ripple};
use std::collections::BTreeMap;

/// Agreement asked of everything that a time course was followed for.
const COURSE: f64 = 1e-3;

/// Fluidity of a viscosity that grows as exp(t / tau), by the crate's own quadrature; times in s.
fn fluidity(mu0: f64, tau: f64, until: f64) -> f64 {
    fluidity_per_pa(&|min| mu0 * libm::exp(min * 60.0 / tau), until / 60.0)
}

#[test]
fn every_figure_agrees_with_the_reference() {
    let mut met: BTreeMap<&str, usize> = BTreeMap::new();
    for line in include_str!("../reference/turner.csv").lines().skip(1) {
        let cells: Vec<&str> = line.split(',').collect();
        let number = |at: usize| cells[at].parse::<f64>().expect("a number");
        let mm = |at: usize| 1e3 * number(at);
        let gathered = || fluidity(number(1), number(2), number(3));
        let value = number(7);
        *met.entry(cells[0]).or_default() += 1;
        match cells[0] {
            "load" => close(load::load(number(1)).unwrap(), value, 1e-8),
            "film" => close(load::film(number(1), number(2)).unwrap(), value, 1e-7),
            "thickest" => close(load::pattern(number(1)).unwrap().most, value, 1e-6),
            "thinnest" => close(load::pattern(number(1)).unwrap().least, value, 1e-6),
            "full greatest" | "full greatest volume" => {
                let liquid = Liquid { density_g_per_ml: number(2) * 1e-3, ..CLEAR };
                let turning = Turning { rpm: number(3), liquid, viscosity_pa_s: number(1) };
                let (found, full) = (turning.most_film_mm(mm(4)), 1e3 * value);
                match cells[0] {
                    "full greatest" => close(found, full, 3e-3),
                    _ => assert!((1.006..1.04).contains(&(full / found)), "{full} {found}"),
                }
            }
            "full thickest" => close(load::pattern(number(1)).unwrap().most, value, 2e-3),
            "full thinnest" => close(load::pattern(number(1)).unwrap().least, value, 2e-3),
            "fluidity" => close(gathered(), value, 1e-9),
            "drift" => {
                let found = level::drift_mm(&CLEAR, mm(4), number(5), gathered());
                close(found, 1e3 * value, COURSE);
            }
            "ripple" => close(ripple::left(&CLEAR, mm(4), mm(5), gathered()), value, COURSE),
            "level ripple" => close(flat::left(&CLEAR, mm(4), mm(5), gathered()), value, COURSE),
            "longest" => {
                let found = ripple::longest_gone_mm(&CLEAR, mm(4), ripple::GONE, gathered());
                close(found.unwrap(), 1e3 * value, 1e-6);
            }
            "level longest" => {
                let found = flat::longest_gone_mm(&CLEAR, mm(4), ripple::GONE, gathered());
                close(found.unwrap(), 1e3 * value, 1e-6);
            }
            "ripple rate" => close(ripple::rate_per_s(&CLEAR, mm(1), mm(2), 1.0), value, 1e-7),
            "level ripple rate" => close(flat::rate_per_s(&CLEAR, mm(1), mm(2), 1.0), value, 1e-7),
            "stopped top" | "stopped bottom" => {
                let side = if cells[0] == "stopped top" { Side::Top } else { Side::Bottom };
                let fluid = fluidity(number(1), number(2), number(5));
                let found = level::stopped_film_mm(&CLEAR, mm(3), mm(4), side, fluid);
                close(found.unwrap(), 1e3 * value, COURSE);
            }
            "dome" => close(flat::most_dome_mm(&CLEAR, number(1)), 1e3 * value, COURSE),
            // What is left is beside an edge of this height: ours is that of a tenth.
            quantity => {
                let share = if number(1) == 0.1 { 2e-3 } else { 0.04 };
                let found = edge(&CLEAR, 1.0, 3e9 / CLEAR.surface_tension_n_per_m);
                // With that fluidity the scale is 1 m.
                near(found.scale_mm, 1e3, 1e-6);
                let found = match quantity {
                    "ridge place" => found.ridge_at_mm * 1e-3,
                    "ridge" => found.ridge_mm,
                    "trough place" => found.trough_at_mm * 1e-3,
                    "trough" => found.trough_mm,
                    "thin within" => found.thin_to_mm * 1e-3,
                    unknown => panic!("{unknown}"),
                };
                close(found, value, share);
            }
        }
    }
    assert_eq!((met.len(), met.values().sum::<usize>()), (24, 168), "{met:?}");
}
