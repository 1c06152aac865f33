"""Reference values for the cure model and the mixing cup, by another solver.

Run with scipy 1.17.1 and numpy: python3 cure.py > cure.csv
The equations are written here anew; solve_ivp with LSODA (ODEPACK), rtol 1e-10, atol 1e-13.
"""

import csv
import math
import sys

import numpy as np
from scipy.integrate import solve_ivp
from scipy.optimize import brentq

GAS = 8.314462618
HOUR = 3600.0
RTOL, ATOL = 1e-10, 1e-13

# A usual slow decorative resin, at 24 °C.
SLOW = dict(k1=3.4461e-5, k2=2.1896e-4, e1=58e3, e2=58e3, at=297.15, end=333.15, lam=0.40)
# Another, with an activation energy for each of its two reactions.
TWO = dict(k1=2.0e-5, k2=3.0e-4, e1=70e3, e2=55e3, at=296.15, end=348.15, lam=0.30)
HEAT, CAPACITY, DENSITY, START, GEL = 350e3, 1900.0, 1100.0, 233.15, 0.60


def tg(p, a):
    return START + (p["end"] - START) * p["lam"] * a / (1 - (1 - p["lam"]) * a)


def rate(p, a, t):
    k1 = p["k1"] * math.exp(-p["e1"] / GAS * (1 / t - 1 / p["at"]))
    k2 = p["k2"] * math.exp(-p["e2"] / GAS * (1 / t - 1 / p["at"]))
    stop = 1 / (1 + math.exp(min((tg(p, a) - t - 8) / 4, 200)))
    return (k1 + k2 * a) * (1 - a) ** 2 * stop


def fluidity(a, t):
    if a >= GEL:
        return 0.0
    thin = math.exp(-55e3 / GAS * (1 / t - 1 / 297.15))
    return thin * ((GEL - a) / GEL) ** (1.5 + a)


def solve(f, y0, end, step):
    return solve_ivp(
        f, [0, end], y0, method="LSODA", rtol=RTOL, atol=ATOL, dense_output=True, max_step=step
    )


def first(solution, gap):
    signs = [gap(t, y) for t, y in zip(solution.t, solution.y.T)]
    at = next(i for i, s in enumerate(signs) if s >= 0)
    return brentq(lambda t: gap(t, solution.sol(t)), solution.t[at - 1], solution.t[at], xtol=1e-6)


ROOMS = {
    "steady 15": lambda t: 288.15,
    "steady 18": lambda t: 291.15,
    "steady 21": lambda t: 294.15,
    "steady 24": lambda t: 297.15,
    "steady 27": lambda t: 300.15,
    "steady 30": lambda t: 303.15,
    # 24 °C at the pour, 16 °C half a day later.
    "swings 16 24": lambda t: 293.15 + 4 * math.cos(2 * math.pi * t / 86400),
}


def films(rows):
    for name, p in (("slow", SLOW), ("two", TWO)):
        for room, at in ROOMS.items():
            def slope(t, y):
                return [rate(p, y[0], at(t)), math.exp(-p["e2"] / GAS * (1 / at(t) - 1 / p["at"])),
                        fluidity(y[0], at(t))]
            s = solve(slope, [0, 0, 0], 168 * HOUR, 600)
            end = tg(p, s.y[0][-1])
            gel = first(s, lambda t, y: y[0] - GEL)
            out = {
                "gel_h": gel / HOUR,
                "window_h": first(s, lambda t, y: y[0] - 0.80) / HOUR,
                "sandable_h": first(s, lambda t, y: tg(p, y[0]) - at(t) - 14.5) / HOUR,
                "full_h": first(s, lambda t, y: tg(p, y[0]) - end + 3) / HOUR,
                "reduced_at_gel_h": s.sol(gel)[1] / HOUR,
                "fluidity_at_gel_per_pa": s.sol(gel)[2],
                "conversion_24_h": s.sol(24 * HOUR)[0],
                "tg_72_c": tg(p, s.sol(72 * HOUR)[0]) - 273.15,
            }
            rows += [(name, room, key, f"{value:.8g}") for key, value in out.items()]


def cups(rows):
    p = SLOW
    cases = [(m, 70, 297.15) for m in (10, 20, 30, 50, 100, 200)] + [(100, 150, 297.15)]
    cases += [(100, 70, t) for t in (288.15, 291.15, 294.15, 300.15, 303.15)]
    for grams, width, room in cases:
        kg, d = grams / 1000, width / 1000
        foot = math.pi * d * d / 4
        area = 2 * foot + math.pi * d * kg / DENSITY / foot
        loss = 9.0 * area / (kg * CAPACITY)

        def slope(t, y):
            r = rate(p, y[0], y[1])
            return [r, HEAT / CAPACITY * r - loss * (y[1] - room)]

        s = solve(slope, [0, room], 72 * HOUR, 60)
        dense = np.linspace(0, 24 * HOUR, 864001)
        thin = fluidity(0, room)
        out = {
            "gels_min": first(s, lambda t, y: y[0] - GEL) / 60,
            "doubled_min": first(s, lambda t, y: thin / 2 - fluidity(y[0], y[1])) / 60,
            "peak_c": s.sol(dense)[1].max() - 273.15,
        }
        if out["peak_c"] > 41:
            out["hot_min"] = first(s, lambda t, y: y[1] - 313.15) / 60
        case = f"{grams} g {width} mm {room - 273.15:.0f}"
        rows += [("cup", case, key, f"{value:.8g}") for key, value in out.items()]


if __name__ == "__main__":
    table = []
    films(table)
    cups(table)
    writer = csv.writer(sys.stdout, lineterminator="\n")
    writer.writerow(["resin", "case", "figure", "value"])
    writer.writerows(table)
