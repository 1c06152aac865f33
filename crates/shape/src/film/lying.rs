//! The flat form of a film that has to strain least to lie on a wall.
//!
//! The film is cut in cells, rectangles of (around, along), and on each its form on the sheet is that
//! of a cone near the wall, moved by polynomials. Ritz's way: of all such forms the one of least
//! energy, which is never below the true least. Cells hang together along joints.

use super::banded::Banded;
use super::basis::{Basis, Term};
use super::samples::Sample;
use crate::sheet::Cone;
use crate::{Surface, SurfacePoint};
use glam::{DMat2, DVec2};

/// How stiff joints are against the film's own stiffness, for each mm: cells then part by less than
/// 0.1 µm.
const JOINT: f64 = 900.0;
/// Held back by this share of the mean stiffness, since nothing else keeps a form in its place.
const HELD: f64 = 1e-10;
/// Most steps of Gauss and Newton; the last is seldom needed beyond the fifth.
const MOST_STEPS: usize = 12;
/// A step that gains less than this share is the last.
const LEAST_GAIN: f64 = 1e-7;

/// A part of a film with polynomials of its own.
#[derive(Debug, Clone)]
pub(super) struct Cell {
    pub(super) basis: Basis,
    pub(super) samples: Vec<Sample>,
}

/// Where two cells hang together: places, and the length in mm that each stands for.
#[derive(Debug, Clone)]
pub(super) struct Joint {
    pub(super) cells: (usize, usize),
    pub(super) places: Vec<(SurfacePoint, f64)>,
}

/// A film that lies on a wall, and its form on the sheet.
#[derive(Debug, Clone)]
pub(super) struct Lying<'a> {
    surface: &'a Surface,
    cone: &'a Cone,
    /// Radius that polynomials round the part are counted at, mm.
    radius_mm: f64,
    cells: Vec<Cell>,
    joints: Vec<Joint>,
    /// Where the numbers of each cell begin; those of its way round come first.
    begins: Vec<usize>,
    numbers: Vec<f64>,
}

/// How the film is strained at one place.
#[derive(Debug, Clone, Copy)]
pub(super) struct Stretched {
    /// Greatest growth of a length as the film is laid, as a share.
    pub(super) most: f64,
    /// Least, negative where it is squeezed.
    pub(super) least: f64,
}

/// What the form on the sheet is at one place.
struct Form {
    /// Round the cone, radians, and down it, mm.
    at: (f64, f64),
    /// From a step on the wall to one on the sheet, both across and down, mm.
    step: DMat2,
    /// Radius of the cone there, mm.
    radius_mm: f64,
}

impl<'a> Lying<'a> {
    /// The form of least energy.
    pub(super) fn new(
        surface: &'a Surface,
        cone: &'a Cone,
        cells: Vec<Cell>,
        joints: Vec<Joint>,
    ) -> Self {
        let mut begins = vec![0];
        for cell in &cells {
            begins.push(begins[begins.len() - 1] + 2 * cell.basis.count());
        }
        let samples = || cells.iter().flat_map(|cell| &cell.samples);
        let weight: f64 = samples().map(|one| one.weight).sum();
        let radius = samples().map(|one| one.weight * surface.around_scale_mm(one.at.along_mm));
        let radius_mm = (radius.sum::<f64>() / weight.max(f64::MIN_POSITIVE)).max(1.0);
        let numbers = vec![0.0; begins[begins.len() - 1]];
        let mut lying = Self { surface, cone, radius_mm, cells, joints, begins, numbers };
        lying.settle();
        lying
    }

    /// Gauss and Newton's steps, each as long as it gains.
    fn settle(&mut self) {
        let mut energy = self.energy();
        for _ in 0..MOST_STEPS {
            let Some(step) = self.equations().solved(HELD) else { return };
            let before = self.numbers.clone();
            let mut share = 1.0;
            let gained = loop {
                for (number, (old, step)) in self.numbers.iter_mut().zip(before.iter().zip(&step)) {
                    *number = old + share * step;
                }
                let now = self.energy();
                if now < energy {
                    break energy - now;
                }
                share *= 0.25;
                if share < 0.01 {
                    self.numbers = before;
                    return;
                }
            };
            energy -= gained;
            if gained < LEAST_GAIN * energy {
                return;
            }
        }
    }

    /// Half the square of the strain, over the film and its joints.
    fn energy(&self) -> f64 {
        let mut terms = Vec::new();
        let mut sum = 0.0;
        for (index, cell) in self.cells.iter().enumerate() {
            for sample in &cell.samples {
                let strain = green(self.form(index, sample.at, &mut terms).step);
                sum += self.area_mm2(sample) * strain.iter().map(|one| one * one).sum::<f64>();
            }
        }
        for joint in &self.joints {
            for (place, length_mm) in &joint.places {
                let apart = self.apart(joint, *place, &mut terms);
                sum += JOINT * length_mm * apart.length_squared();
            }
        }
        sum
    }

    /// How far two cells part at a joint, mm.
    fn apart(&self, joint: &Joint, place: SurfacePoint, terms: &mut Vec<Term>) -> DVec2 {
        let (left, right) = joint.cells;
        let (one, other) = (self.form(left, place, terms), self.form(right, place, terms));
        let radius_mm = self.cone.radius_mm(self.cone.down_mm(place.along_mm));
        DVec2::new((one.at.0 - other.at.0) * radius_mm, one.at.1 - other.at.1)
    }

    fn area_mm2(&self, sample: &Sample) -> f64 {
        let along_mm = sample.at.along_mm;
        sample.weight * self.surface.around_scale_mm(along_mm) * self.surface.along_scale(along_mm)
    }

    /// The equations of the next step.
    fn equations(&self) -> Banded {
        let far = self.joints.iter().map(|joint| joint.cells.0.abs_diff(joint.cells.1)).max();
        let widest = self.cells.iter().map(|cell| 2 * cell.basis.count()).max().unwrap_or(1);
        let mut matrix = Banded::new(self.numbers.len(), (far.unwrap_or(0) + 1) * widest - 1);
        let mut terms = Vec::new();
        let mut slopes: [Vec<(usize, f64)>; 3] = Default::default();
        for (index, cell) in self.cells.iter().enumerate() {
            for sample in &cell.samples {
                let form = self.form(index, sample.at, &mut terms);
                self.strain_slopes(index, sample.at, &form, &terms, &mut slopes);
                let weight = self.area_mm2(sample);
                for (strain, slopes) in green(form.step).iter().zip(&slopes) {
                    matrix.add(slopes, *strain, weight);
                }
            }
        }
        for joint in &self.joints {
            for (place, length_mm) in &joint.places {
                let apart = self.apart(joint, *place, &mut terms);
                let radius_mm = self.cone.radius_mm(self.cone.down_mm(place.along_mm));
                let mut both: [Vec<(usize, f64)>; 2] = Default::default();
                for (cell, sign) in [(joint.cells.0, 1.0), (joint.cells.1, -1.0)] {
                    let basis = &self.cells[cell].basis;
                    basis.terms(place.around, place.along_mm, &mut terms);
                    for (n, term) in terms.iter().enumerate() {
                        let round = sign * term.value * radius_mm / self.radius_mm;
                        both[0].push((self.begins[cell] + n, round));
                        let down = self.begins[cell] + basis.count() + n;
                        both[1].push((down, sign * term.value));
                    }
                }
                matrix.add(&both[0], apart.x, JOINT * length_mm);
                matrix.add(&both[1], apart.y, JOINT * length_mm);
            }
        }
        matrix
    }

    /// How the three strains change with each number of a cell.
    fn strain_slopes(
        &self,
        cell: usize,
        at: SurfacePoint,
        form: &Form,
        terms: &[Term],
        slopes: &mut [Vec<(usize, f64)>; 3],
    ) {
        let (round, down) = self.scales_mm(at.along_mm);
        let (across, along) = (form.step.x_axis, form.step.y_axis);
        // Of the way round for each mm on the wall.
        let turn = DVec2::new(across.x, along.x) / form.radius_mm;
        for one in slopes.iter_mut() {
            one.clear();
        }
        let mut push = |number: usize, by_across: DVec2, by_along: DVec2| {
            slopes[0].push((number, across.dot(by_across)));
            slopes[1].push((number, along.dot(by_along)));
            let shear = across.dot(by_along) + along.dot(by_across);
            slopes[2].push((number, shear * std::f64::consts::FRAC_1_SQRT_2));
        };
        let begin = self.begins[cell];
        for (n, term) in terms.iter().enumerate() {
            let (by_across, by_along) = (term.by_around / round, term.by_along / down);
            let share = form.radius_mm / self.radius_mm;
            push(begin + n, DVec2::new(by_across * share, 0.0), DVec2::new(by_along * share, 0.0));
            // Farther down the cone is wider.
            let wider = self.cone.slope * term.value * turn;
            push(
                begin + terms.len() + n,
                DVec2::new(wider.x, by_across),
                DVec2::new(wider.y, by_along),
            );
        }
    }

    /// Millimetres on the wall for one unit round and for one mm along the bare wall.
    fn scales_mm(&self, along_mm: f64) -> (f64, f64) {
        let round = self.surface.around_scale_mm(along_mm).max(1e-3);
        (round, self.surface.along_scale(along_mm))
    }

    fn form(&self, cell: usize, at: SurfacePoint, terms: &mut Vec<Term>) -> Form {
        let basis = &self.cells[cell].basis;
        basis.terms(at.around, at.along_mm, terms);
        let begin = self.begins[cell];
        let (round_numbers, down_numbers) =
            self.numbers[begin..begin + 2 * basis.count()].split_at(basis.count());
        // Value, and change for each mm across and down the wall.
        let (round, down) = self.scales_mm(at.along_mm);
        let sum = |numbers: &[f64]| {
            numbers.iter().zip(terms.iter()).fold([0.0; 3], |[value, across, along], (n, term)| {
                [
                    value + n * term.value,
                    across + n * term.by_around / round,
                    along + n * term.by_along / down,
                ]
            })
        };
        let (moved_round, moved_down) = (sum(round_numbers), sum(down_numbers));
        let turned = at.around + moved_round[0] / self.radius_mm;
        let down_mm = self.cone.down_mm(at.along_mm) + moved_down[0];
        let radius_mm = self.cone.radius_mm(down_mm).max(1e-3);
        let step = DMat2::from_cols(
            DVec2::new(radius_mm * (1.0 / round + moved_round[1] / self.radius_mm), moved_down[1]),
            DVec2::new(radius_mm * moved_round[2] / self.radius_mm, 1.0 + moved_down[2]),
        );
        Form { at: (turned, down_mm), step, radius_mm }
    }

    /// Place on the sheet, mm.
    pub(super) fn on_sheet(&self, cell: usize, at: SurfacePoint) -> DVec2 {
        let form = self.form(cell, at, &mut Vec::new());
        self.cone.place(form.at.0, form.at.1)
    }

    /// How the film is strained at a place when it lies on the wall. With σ the lengths on the sheet of
    /// what is one mm long on the wall, it grows by 1/σ - 1.
    pub(super) fn stretched(&self, cell: usize, at: SurfacePoint) -> Stretched {
        let step = self.form(cell, at, &mut Vec::new()).step;
        let (across, along) = (step.x_axis, step.y_axis);
        // Squares of the singular values are the eigenvalues of the metric.
        let half = 0.5 * (across.length_squared() + along.length_squared());
        let apart = 0.5 * (across.length_squared() - along.length_squared());
        let apart = libm::hypot(apart, across.dot(along));
        let length = |square: f64| square.max(1e-6).sqrt();
        Stretched {
            most: 1.0 / length(half - apart) - 1.0,
            least: 1.0 / length(half + apart) - 1.0,
        }
    }

    /// The cells.
    pub(super) fn cells(&self) -> &[Cell] {
        &self.cells
    }
}

/// Green's strain: across, down, and the shear times √2, so that the sum of their squares does not
/// depend on the directions.
fn green(step: DMat2) -> [f64; 3] {
    let (across, along) = (step.x_axis, step.y_axis);
    [
        0.5 * (across.length_squared() - 1.0),
        0.5 * (along.length_squared() - 1.0),
        across.dot(along) * std::f64::consts::FRAC_1_SQRT_2,
    ]
}
