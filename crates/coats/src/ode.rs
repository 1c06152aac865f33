//! Follows initial value problems with the library's Runge-Kutta pairs, and finds events.
//!
//! Films and full cups: the explicit pair of orders 5 and 4 of Tsitouras, Comput. Math. Appl. 62, 770
//! (2011). A few grams in a wide cup, which follow the room within seconds and cure for days: the implicit
//! pair of orders 4 and 3 of Jørgensen and others, arXiv 1803.01613 (2018).
//! The library sizes its steps with powers of the standard library, whose last bit may differ between
//! machines; results then differ by far less than the error allowed, so round what reaches a file.

use diffsol::{
    DiffsolError, NalgebraLU, NalgebraMat, NalgebraVec, OdeBuilder, OdeEquations, OdeSolverMethod,
    OdeSolverStopReason,
};
use piece::{Diagnostic, FieldPath};

/// Relative error allowed in each step.
const RTOL: f64 = 1e-7;
/// Steps after which a problem is given up.
const MOST_STEPS: usize = 20_000;
/// How far a state is moved to see how its slope changes; only the speed of the solver hangs on it.
const NUDGE: f64 = 1e-6;

/// Which pair follows a problem.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Pair {
    /// For problems in which everything goes at much the same pace.
    Explicit,
    /// For problems in which something fast follows something slow.
    Implicit,
}

/// State and slope at one time.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Node<const N: usize> {
    pub t_s: f64,
    pub y: [f64; N],
    slope: [f64; N],
}

/// What a state did over time.
#[derive(Debug, Clone)]
pub(crate) struct Track<const N: usize> {
    /// In order of time, at least one.
    nodes: Vec<Node<N>>,
}

/// To when, and how far at most in one step (what a step jumps over is not seen), by which pair.
#[derive(Debug, Clone, Copy)]
pub(crate) struct Span {
    pub to_s: f64,
    pub step_s: f64,
    pub pair: Pair,
}

/// Follows `slope` from `start` at time 0, until the end of the span or until `enough` of the newest
/// state is true. `small` is the error allowed where a state is near 0.
pub(crate) fn follow<const N: usize>(
    slope: impl Fn(f64, &[f64; N]) -> [f64; N],
    start: [f64; N],
    small: [f64; N],
    span: Span,
    enough: impl Fn(&[f64; N]) -> bool,
) -> Result<Track<N>, Diagnostic> {
    steps(&slope, start, small, span, enough).map_err(|error| {
        Diagnostic::error(
            FieldPath::root().key("resin"),
            format!("the cure of this resin cannot be followed ({error})"),
        )
        .hint("Compare the figures of `[resin]` in the settings with the data sheet")
    })
}

fn steps<const N: usize>(
    slope: &impl Fn(f64, &[f64; N]) -> [f64; N],
    start: [f64; N],
    small: [f64; N],
    span: Span,
    enough: impl Fn(&[f64; N]) -> bool,
) -> Result<Track<N>, DiffsolError> {
    let of = |t_s: f64, y: &[f64]| slope(t_s, &std::array::from_fn(|i| y[i]));
    let towards = |y: &[f64], t_s: f64, way: &[f64], out: &mut [f64]| {
        let here = of(t_s, y);
        let there = slope(t_s, &std::array::from_fn(|i| y[i] + NUDGE * way[i]));
        for i in 0..N {
            out[i] = (there[i] - here[i]) / NUDGE;
        }
    };
    let mut problem = OdeBuilder::<NalgebraMat<f64>>::new()
        .rtol(RTOL)
        .atol(small)
        .h0(1.0_f64.min(span.to_s))
        .rhs_implicit(
            |y, _, t_s, out| out.copy_from_slice(&of(t_s, y)),
            |y, _, t_s, way, out| towards(y, t_s, way, out),
        )
        .init(|_, _, y| y.copy_from_slice(&start), N)
        .build()?;
    problem.ode_options.max_number_timesteps = MOST_STEPS;
    match span.pair {
        Pair::Explicit => walk(problem.tsit45()?, of, start, span, enough),
        Pair::Implicit => walk(problem.esdirk34::<NalgebraLU<f64>>()?, of, start, span, enough),
    }
}

fn walk<'a, Eqn, const N: usize>(
    mut solver: impl OdeSolverMethod<'a, Eqn>,
    slope: impl Fn(f64, &[f64]) -> [f64; N],
    start: [f64; N],
    span: Span,
    enough: impl Fn(&[f64; N]) -> bool,
) -> Result<Track<N>, DiffsolError>
where
    Eqn: OdeEquations<T = f64, V = NalgebraVec<f64>> + 'a,
{
    let node =
        |t_s: f64, y: &[f64]| Node { t_s, y: std::array::from_fn(|i| y[i]), slope: slope(t_s, y) };
    let mut nodes = vec![node(0.0, &start)];
    let mut stop_s = 0.0;
    loop {
        let from = nodes[nodes.len() - 1];
        if from.t_s >= span.to_s || enough(&from.y) {
            return Ok(Track { nodes });
        }
        if from.t_s >= stop_s {
            stop_s = (from.t_s + span.step_s).min(span.to_s);
            solver.set_stop_time(stop_s)?;
        }
        let t_s = match solver.step()? {
            OdeSolverStopReason::TstopReached => stop_s,
            _ => solver.state().t,
        };
        // The library's own interpolation is of a higher order than ours between nodes.
        let middle_s = 0.5 * (from.t_s + solver.state().t);
        nodes.push(node(middle_s, solver.interpolate(middle_s)?.batch_as_slice(0)));
        nodes.push(node(t_s, solver.state().y.batch_as_slice(0)));
    }
}

impl<const N: usize> Track<N> {
    /// Every state found, in order of time.
    pub fn nodes(&self) -> &[Node<N>] {
        &self.nodes
    }

    /// The last state.
    pub fn last(&self) -> &Node<N> {
        &self.nodes[self.nodes.len() - 1]
    }

    /// The state at a time, held at both ends.
    pub fn at(&self, t_s: f64) -> [f64; N] {
        let next = self.nodes.partition_point(|node| node.t_s <= t_s);
        match (next.checked_sub(1), self.nodes.get(next)) {
            (Some(before), Some(after)) => between(&self.nodes[before], after, t_s),
            (None, _) => self.nodes[0].y,
            (_, None) => self.last().y,
        }
    }

    /// The first time at which `gap` of time and state is 0 or more.
    pub fn first(&self, gap: impl Fn(f64, &[f64; N]) -> f64) -> Option<f64> {
        let reached = |node: &Node<N>| gap(node.t_s, &node.y) >= 0.0;
        let at = self.nodes.iter().position(reached)?;
        let after = &self.nodes[at];
        let Some(before) = at.checked_sub(1).map(|at| &self.nodes[at]) else {
            return Some(after.t_s);
        };
        let (mut low_s, mut high_s) = (before.t_s, after.t_s);
        while high_s - low_s > 1e-10 * high_s {
            let middle_s = 0.5 * (low_s + high_s);
            if middle_s <= low_s || middle_s >= high_s {
                break;
            }
            if gap(middle_s, &between(before, after, middle_s)) >= 0.0 {
                high_s = middle_s;
            } else {
                low_s = middle_s;
            }
        }
        Some(high_s)
    }
}

/// The cubic through two states with their slopes (Hermite).
fn between<const N: usize>(a: &Node<N>, b: &Node<N>, t_s: f64) -> [f64; N] {
    let h = b.t_s - a.t_s;
    let u = (t_s - a.t_s) / h;
    let (from, to) = ((1.0 + 2.0 * u) * (1.0 - u) * (1.0 - u), u * u * (3.0 - 2.0 * u));
    let (leave, arrive) = (u * (1.0 - u) * (1.0 - u) * h, u * u * (u - 1.0) * h);
    std::array::from_fn(|i| from * a.y[i] + to * b.y[i] + leave * a.slope[i] + arrive * b.slope[i])
}
