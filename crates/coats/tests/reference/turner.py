"""Reference values for the coat on the turning cup, by other ways than the crate's.

Run with SciPy 1.17.1 and NumPy 2.4.6: `python turner.py > turner.csv`.
Each row is a quantity, up to six numbers that it depends on, and its value. SI units: m, s, Pa s,
N/m, kg/m3, radians.
"""

import numpy as np
from scipy.integrate import quad, solve_bvp, solve_ivp
from scipy.optimize import brentq, fsolve

G = 9.80665
RHO, SIGMA = 1100.0, 0.035


def row(quantity, *numbers):
    *given, value = numbers
    given = [repr(float(one)) for one in given] + [""] * (6 - len(given))
    print(",".join([quantity, *given, repr(float(value))]))


# The film on a turning cylinder: the cubic by Brent's method, its load by adaptive quadrature.
def film(flux, theta):
    c = np.cos(theta)
    upper = 1 / np.sqrt(c) if c > 1e-4 else 3.0
    f = lambda h: h - h**3 / 3 * c - flux
    return upper if f(upper) <= 0 else brentq(f, 0, upper, xtol=1e-15)


def load(flux):
    return 2 * quad(lambda t: film(flux, t), 0, np.pi, epsabs=1e-11, epsrel=1e-11, limit=400)[0]


# The steady film with all that the thin limit leaves out: the cup's curvature, the weight across the
# film, surface tension and the pull outward; by Fourier collocation. In units of h*.
class Full:
    def __init__(self, mu, rho, rpm, radius, count=128):
        self.theta = 2 * np.pi * np.arange(count) / count
        self.waves = np.fft.fftfreq(count, 1 / count)
        self.mu, self.rho, self.radius, self.omega = mu, rho, radius, 2 * np.pi * rpm / 60
        self.scale = np.sqrt(self.omega * radius * mu / (rho * G))
        self.last = np.full(count + 1, 0.05)

    def slope(self, f, order):
        return np.real(np.fft.ifft((1j * self.waves) ** order * np.fft.fft(f)))

    def flux(self, film):
        h, r = film * self.scale, self.radius
        weight = self.rho * G
        p = weight * h * np.sin(self.theta) - SIGMA * (h + self.slope(h, 2)) / r**2
        p -= self.rho * self.omega**2 * r * h
        push = -self.slope(p, 1) / r - weight * np.cos(self.theta)
        q = self.omega * r * h * (1 + h / (2 * r)) + h**3 / (3 * self.mu) * push
        return q / (self.omega * r * self.scale)

    def solve(self, more):
        """The film for which `more` is 0, from the one before; None if there is none near."""
        residual = lambda u: np.append(self.flux(u[:-1]) - u[-1], more(u[:-1]))
        found = fsolve(residual, self.last, xtol=1e-12)
        if np.abs(residual(found)).max() > 1e-9:
            return None
        self.last = found
        return found[:-1]

    def greatest(self):
        """The greatest mean film, and the same of the volume: met as the film at theta 0 grows."""
        top, step, mean, volume = 0.1, 0.02, 0.0, 0.0
        while step > 1e-4:
            film = self.solve(lambda film: film[0] - top - step)
            if film is None:
                step /= 2
                continue
            top += step
            mean = max(mean, film.mean())
            volume = max(volume, (film + film**2 * self.scale / (2 * self.radius)).mean())
        return mean * self.scale, volume * self.scale


# A viscosity that grows as exp(t / tau); tau infinite for one that stays.
def viscosity(mu0, tau):
    return lambda t: mu0 * np.exp(t / tau)


def integrated(rate, start, until):
    """start' = rate(t, value), by an explicit Runge-Kutta pair of order 8."""
    answer = solve_ivp(rate, (0, until), [start], method="DOP853", rtol=1e-11, atol=1e-16)
    return answer.y[0, -1]


# A ripple by the Stokes equations. With lengths in 1/k: u = f' sin X, v = -f cos X,
# p = -mu k (f''' - f') cos X; at the bottom f = f' = 0; at the top no shear, f'' + f = 0, and
# p - 2 mu v_y = (sigma k^2 + rho g) a cos X; the ripple sinks at the rate f / a.
def ripple(gravity, mu, h, wave):
    k = 2 * np.pi / wave
    bases = []
    for sign in (1, -1):
        grow = lambda y, s=sign: np.exp(s * y)
        bases.append([lambda y, n=n, s=sign: s**n * grow(y, s) for n in range(4)])
        bases.append(
            [lambda y, n=n, s=sign: (s**n * y + n * s ** (n - 1)) * grow(y, s) for n in range(4)]
        )
    row_of = lambda y, *parts: [sum(w * base[n](y) for w, n in parts) for base in bases]
    top = k * h
    matrix = [
        row_of(0, (1, 0)),
        row_of(0, (1, 1)),
        row_of(top, (1, 2), (1, 0)),
        row_of(top, (-1, 3), (3, 1)),
    ]
    push = (SIGMA * k * k + RHO * gravity) / (mu * k)
    amplitudes = np.linalg.solve(np.array(matrix), np.array([0, 0, 0, push]))
    return float(np.dot(amplitudes, row_of(top, (1, 0))))


# Beside an edge: H_t + (H^3 H_xxx)_x = 0 with H = edge and no flow at x = 0, H = 1 far away; by
# xi = x / t^(1/4) an ordinary equation, -(xi / 4) H' + (H^3 H''')' = 0.
def beside_edge(edge):
    xi = np.linspace(0, 25, 1201)
    guess = np.array([1 - (1 - edge) * np.exp(-xi), (1 - edge) * np.exp(-xi), 0 * xi, 0 * xi])

    def slope(x, y):
        return np.array([y[1], y[2], y[3] / y[0] ** 3, x / 4 * y[1]])

    def ends(a, b):
        return np.array([a[0] - edge, a[3], b[0] - 1, b[1]])

    for height in np.geomspace(0.8, edge, 25):
        local = lambda a, b, height=height: np.array([a[0] - height, a[3], b[0] - 1, b[1]])
        found = solve_bvp(slope, local, xi, guess, tol=1e-6, max_nodes=200000)
        assert found.success, (height, found.message)
        xi, guess = found.x, found.y
    x = np.linspace(0, 12, 240001)
    h = found.sol(x)[0]
    ridge = np.argmax(h)
    trough = ridge + np.argmin(h[ridge:])
    thin = x[np.argmax(h > 0.9)]
    return x[ridge], h[ridge], x[trough], h[trough], thin


# The height of a wide puddle: its surface, followed down from the far middle where it is level, bends
# by d psi / dz = depth / (a^2 sin psi), until it meets the face at `contact`.
def puddle(contact):
    a2 = SIGMA / (RHO * G)
    start = 1e-4
    depth = start * np.sqrt(a2)
    bend = lambda psi, z: [a2 * np.sin(psi) / z[0]]
    answer = solve_ivp(bend, (start, contact), [depth], method="DOP853", rtol=1e-11, atol=1e-16)
    return answer.y[0, -1]


def main():
    print("quantity,a,b,c,d,e,f,value")
    for flux in (0.05, 0.2, 0.4, 0.5, 0.6, 0.65, 0.666, 2 / 3):
        row("load", flux, load(flux))
        for theta in (0.0, 0.7, np.pi / 2, 2.0, np.pi, 4.0, 6.0):
            row("film", flux, theta, film(flux, theta))
    most = load(2 / 3)
    for share in (0.3, 0.6, 0.9, 0.99):
        flux = brentq(lambda q: load(q) - share * most, 0, 2 / 3, xtol=1e-14)
        mean = share * most / (2 * np.pi)
        row("thickest", share, film(flux, 0.0) / mean)
        row("thinnest", share, film(flux, np.pi) / mean)

    for cup in (
        (0.2, 1100.0, 6.0, 40e-3),
        (0.5, 1100.0, 3.0, 36.5e-3),
        (1.0, 1100.0, 6.0, 40e-3),
        (2.5, 1130.0, 10.0, 45e-3),
        (4.0, 1100.0, 10.0, 40e-3),
    ):
        mean, volume = Full(*cup).greatest()
        row("full greatest", *cup, mean)
        row("full greatest volume", *cup, volume)
    full = Full(1.0, 1100.0, 6.0, 40e-3)
    for share in (0.1, 0.3, 0.5, 0.6, 0.7, 0.8, 0.9):
        film_of = full.solve(lambda film: film.mean() - share * most / (2 * np.pi))
        if share in (0.3, 0.6, 0.9):
            row("full thickest", share, film_of.max() / film_of.mean())
            row("full thinnest", share, film_of.min() / film_of.mean())

    for mu0, tau, until in ((1.0, 4000.0, 14400.0), (0.4, 1500.0, 3600.0), (2.5, 9000.0, 30000.0)):
        mu = viscosity(mu0, tau)
        row("fluidity", mu0, tau, until, integrated(lambda t, _: [1 / mu(t)], 0.0, until))
        for h, tilt in ((0.3e-3, 0.2), (0.6e-3, 1.0)):
            pull = RHO * G * np.sin(np.radians(tilt))
            way = integrated(lambda t, _: [pull * h * h / (3 * mu(t))], 0.0, until)
            row("drift", mu0, tau, until, h, np.radians(tilt), way)
        for h, wave in ((0.2e-3, 20e-3), (0.3e-3, 30e-3), (0.4e-3, 40e-3), (0.4e-3, 60e-3)):
            for name, gravity in (("ripple", 0.0), ("level ripple", G)):
                one = ripple(gravity, 1.0, h, wave)
                left = integrated(lambda t, a: [-one / mu(t) * a[0]], 1.0, until)
                row(name, mu0, tau, until, h, wave, left)
        for h in (0.2e-3, 0.4e-3):
            for name, gravity in (("longest", 0.0), ("level longest", G)):
                fluid = integrated(lambda t, _: [1 / mu(t)], 0.0, until)
                over = lambda wave: ripple(gravity, 1.0, h, wave) * fluid - np.log(10)
                row(name, mu0, tau, until, h, brentq(over, 3e-3, 0.9, xtol=1e-12))
    for h, wave in ((0.4e-3, 2e-3), (0.2e-3, 5e-3), (0.2e-3, 10e-3), (2e-3, 3e-3)):
        row("ripple rate", h, wave, ripple(0.0, 1.0, h, wave))
        row("level ripple rate", h, wave, ripple(G, 1.0, h, wave))

    for mu0, tau in ((1.0, 60.0), (0.4, 1500.0)):
        mu = viscosity(mu0, tau)
        for h, radius, until in ((0.3e-3, 40e-3, 10.0), (0.5e-3, 36.5e-3, 3.0)):
            for name, sign in (("stopped top", 1), ("stopped bottom", -1)):
                fall = lambda t, y: [-sign * RHO * G * y[0] ** 3 / (3 * mu(t) * radius)]
                row(name, mu0, tau, h, radius, until, integrated(fall, h, until))

    for edge in (0.2, 0.1, 0.05):
        for name, value in zip(
            ("ridge place", "ridge", "trough place", "trough", "thin within"), beside_edge(edge)
        ):
            row(name, edge, value)
    for contact in (20, 60, 90, 150):
        row("dome", np.radians(contact), puddle(np.radians(contact)))


main()
