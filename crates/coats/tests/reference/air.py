"""Air of a room by numerical integration of V dC/dt = G - Q C with scipy; writes air.csv beside it.

Columns: case, min, mg_m3 (concentration then), mean_mg_m3 (mean of the 480 min from then on).
"""
import csv
import pathlib

import numpy as np
from scipy.integrate import solve_ivp

# name: (m3, changes an hour, [(g, at min, lasts min)])
CASES = {
    "series": (30.0, 0.5, [(20.0, 0.0, 0.0), (21.0, 60.0, 10.0), (8.0, 65.0, 240.0), (15.0, 400.0, 30.0)]),
    "window": (42.0, 3.0, [(60.0, 10.0, 10.0), (60.0, 100.0, 10.0), (5.0, 101.0, 0.0)]),
    "closed": (18.0, 0.0, [(3.0, 0.0, 45.0), (2.0, 30.0, 0.0)]),
}
MOMENTS = [5, 20, 61, 70, 104, 180, 305, 415, 430, 700]


def course(m3, changes, sources, until):
    """Concentration and its integral, with the jumps and kinks at the ends of every source."""
    rate = changes / 60.0
    stops = sorted({0.0, float(until), *[a for _, a, _ in sources], *[a + d for _, a, d in sources]})
    stops = [s for s in stops if s <= until]
    state = np.zeros(2)
    for a, b in zip(stops, stops[1:]):
        state[0] += sum(1000.0 * g / m3 for g, at, d in sources if d == 0 and at == a)
        inflow = sum(1000.0 * g / d / m3 for g, at, d in sources if d > 0 and at <= a and b <= at + d)
        fun = lambda _, y: [inflow - rate * y[0], y[0]]
        state = solve_ivp(fun, (a, b), state, method="DOP853", rtol=1e-11, atol=1e-11).y[:, -1]
    return state


rows = []
for name, (m3, changes, sources) in CASES.items():
    for t in MOMENTS:
        now = course(m3, changes, sources, t)
        later = course(m3, changes, sources, t + 480)
        rows.append([name, t, f"{now[0]:.9g}", f"{(later[1] - now[1]) / 480.0:.9g}"])
with open(pathlib.Path(__file__).with_suffix(".csv"), "w", newline="") as file:
    out = csv.writer(file, lineterminator="\n")
    out.writerow(["case", "min", "mg_m3", "mean_mg_m3"])
    out.writerows(rows)
