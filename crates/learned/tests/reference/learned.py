"""Robust regression by other people's code; writes fits.csv, quantiles.csv and data.csv beside it.

data.csv: case, y, x0, x1.
fits.csv: case, what, value; with
  map0, map1, scale   greatest posterior density of coefficients and scale, by scipy.optimize (BFGS and Nelder-Mead)
  low0, high0, ...    10 % and 90 % points of each coefficient, the posterior summed up on a grid
  ml0, ml1            statsmodels TLinearModel, 4 degrees of freedom, no prior (cases with many lines)
  rlm0, rlm1          statsmodels RLM with HuberT (cases with many lines)
  skl0, skl1          scikit-learn HuberRegressor without intercept and penalty (cases with many lines)
quantiles.csv: what, a, b, value: t above which 1 in 10 lies (a freedom), beta points at 0.1 and 0.9.
"""
import csv
import pathlib

import numpy as np
import statsmodels.api as sm
from scipy import optimize, stats
from sklearn.linear_model import HuberRegressor
from statsmodels.miscmodels.tmodel import TLinearModel

HERE = pathlib.Path(__file__).parent
NU = 4.0
rng = np.random.default_rng(20270301)


class FixedT(TLinearModel):
    """With the freedom that is fixed here."""

    fix_df = NU


def lines(n, set_up, rate, noise, odd):
    """Set-up and a rate as shares of the standard, so that x sums to one in each line."""
    share = rng.uniform(0.05, 0.6, n)
    x = np.column_stack([share, 1 - share])
    y = x @ [set_up, rate] + noise * rng.standard_t(NU, n)
    y[:odd] *= 3.0  # forgot to stop the clock
    return x, y


# name: (lines, prior means, prior sds, spread of a line, what that is worth)
CASES = {
    "few": (lines(6, 1.3, 0.8, 0.1, 0), [1, 1], [0.4, 0.4], 0.2, 6),
    "odd": (lines(9, 0.9, 1.4, 0.1, 2), [1, 1], [0.4, 0.4], 0.2, 6),
    "some": (lines(24, 0.6, 1.2, 0.15, 2), [1, 1], [0.5, 0.35], 0.2, 6),
    "many": (lines(400, 1.5, 0.7, 0.12, 20), [1, 1], [100, 100], 0.2, 0.001),
}


def minus_log_posterior(p, x, y, mean, sd, s0, worth):
    beta, log_s = p[:2], p[2]
    s = np.exp(log_s)
    prior = ((beta - mean) ** 2 / (2 * np.square(sd))).sum()
    spread = worth * log_s + worth * s0 * s0 / (2 * s * s)
    return -stats.t.logpdf((y - x @ beta) / s, NU).sum() + len(y) * log_s + prior + spread


with open(HERE / "data.csv", "w", newline="") as data, open(HERE / "fits.csv", "w", newline="") as fits:
    data, fits = csv.writer(data, lineterminator="\n"), csv.writer(fits, lineterminator="\n")
    data.writerow(["case", "y", "x0", "x1"])
    fits.writerow(["case", "what", "value"])
    for name, ((x, y), mean, sd, s0, worth) in CASES.items():
        for row, seen in zip(x, y):
            data.writerow([name, repr(float(seen)), *map(repr, map(float, row))])
        args = (x, y, np.array(mean), np.array(sd), s0, worth)
        start = np.array([1.0, 1.0, np.log(s0)])
        rough = optimize.minimize(minus_log_posterior, start, args, "Nelder-Mead", options={"xatol": 1e-10, "fatol": 1e-12, "maxiter": 20000})
        best = optimize.minimize(minus_log_posterior, rough.x, args, "BFGS", options={"gtol": 1e-9})
        for at, value in enumerate([best.x[0], best.x[1], np.exp(best.x[2])]):
            fits.writerow([name, ["map0", "map1", "scale"][at], f"{value:.9g}"])
        if len(y) < 100:
            # The whole posterior on a grid about its greatest density.
            wide = np.sqrt(np.diag(np.linalg.inv(x.T @ x / np.exp(2 * best.x[2]) + np.diag(1 / np.square(args[3])))))
            axes = [best.x[j] + 8 * wide[j] * np.linspace(-1, 1, 101) for j in range(2)]
            spreads = best.x[2] + np.linspace(-1.6, 1.6, 33)
            b0, b1, ls = np.meshgrid(*axes, spreads, indexing="ij")
            s = np.exp(ls)
            log_p = -worth * ls - worth * s0 * s0 / (2 * s * s) - len(y) * ls
            for j, b in enumerate([b0, b1]):
                log_p -= (b - mean[j]) ** 2 / (2 * sd[j] ** 2)
            for row, seen in zip(x, y):
                log_p += stats.t.logpdf((seen - row[0] * b0 - row[1] * b1) / s, NU)
            p = np.exp(log_p - log_p.max())
            for j in range(2):
                own = p.sum(axis=(1 - j, 2))
                below = (np.cumsum(own) - own / 2) / own.sum()
                for what, at in (("low", 0.1), ("high", 0.9)):
                    fits.writerow([name, f"{what}{j}", f"{np.interp(at, below, axes[j]):.6g}"])
        if len(y) >= 100:
            ml = FixedT(y, x).fit(start_params=[*best.x[:2], np.exp(best.x[2])], method="bfgs", gtol=1e-9, disp=0).params
            rlm = sm.RLM(y, x, M=sm.robust.norms.HuberT()).fit().params
            skl = HuberRegressor(alpha=0, fit_intercept=False, epsilon=1.345, tol=1e-9).fit(x, y).coef_
            for j in range(2):
                fits.writerow([name, f"ml{j}", f"{ml[j]:.9g}"])
                fits.writerow([name, f"rlm{j}", f"{rlm[j]:.9g}"])
                fits.writerow([name, f"skl{j}", f"{skl[j]:.9g}"])

with open(HERE / "quantiles.csv", "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["what", "a", "b", "value"])
    for freedom in (4, 7, 11, 30, 206):
        out.writerow(["t", freedom, "", f"{stats.t.ppf(0.9, freedom):.10g}"])
    for good, failed in ((4, 1), (19, 1), (60, 0), (12, 8)):
        # Twenty pieces with 5 % failing as the prior.
        a, b = 1 + failed, 19 + good
        out.writerow(["low", a, b, f"{stats.beta.ppf(0.1, a, b):.10g}"])
        out.writerow(["high", a, b, f"{stats.beta.ppf(0.9, a, b):.10g}"])
