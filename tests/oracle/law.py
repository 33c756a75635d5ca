"""The time a card asks for at a temperature, in seconds: one, two, or three and more points of a sheet.

Part of the outside oracle: written from the design page alone, shares no code with the program it checks.
Equations: t(T) = t0 exp((Ea/R)(1/T - 1/T0)), so ln t is straight in 1/T. Temperatures in kelvin.
"""
from functools import lru_cache
from math import exp, gamma, log, pi, sqrt

R = 8.314462618  # J/(mol K), CODATA 2018

# Activation energies by class, J/mol: lowest, middle, highest. A class without an entry has none.
ENERGY = {
    "epoxy": (45e3, 55e3, 65e3),
    "resorcinol": (45e3, 60e3, 85e3),
    # Half-width as epoxy's: the page gives one number; the program chose the interval (docs/science/clocks.md).
    "casein": (36.6e3, 46.6e3, 56.6e3),
}
UREA_POT = (62.7e3, 91.5e3, 138.1e3)  # likewise
FIT_LOWEST, FIT_HIGHEST = 25e3, 110e3  # a fitted energy outside these is refused


def energies(adhesive, clock):
    """Lowest, middle and highest activation energy of a class for one clock, or None."""
    if adhesive == "urea":
        return UREA_POT if clock == "pot" else None
    return ENERGY.get(adhesive)


def scaled(t0, at, energy, to):
    """A time t0 stated at one temperature, at another."""
    return t0 * exp(energy / R * (1.0 / to - 1.0 / at))


def student_density(x, n):
    """Density of Student's t with n degrees of freedom."""
    return gamma((n + 1) / 2) / (sqrt(n * pi) * gamma(n / 2)) * (1 + x * x / n) ** (-(n + 1) / 2)


@lru_cache
def student_975(n):
    """The 97.5 % point of Student's t: its area from 0 is 0.475, by Simpson and halving."""
    def area(x, panels=2000):
        h = x / panels
        s = student_density(0, n) + student_density(x, n)
        s += sum((4 if i % 2 else 2) * student_density(i * h, n) for i in range(1, panels))
        return s * h / 3

    low, high = 1.9, 13.0
    while high - low > 1e-12:
        mid = (low + high) / 2
        if area(mid) < 0.475:
            low = mid
        else:
            high = mid
    return (low + high) / 2


def line(points):
    """Least squares of ln t on 1/T: mean x, mean y, slope, residual sum of squares, sum of squares of x."""
    x, y = [1 / at for at, _ in points], [log(t) for _, t in points]
    n = len(x)
    xm, ym = sum(x) / n, sum(y) / n
    sxx = sum((a - xm) ** 2 for a in x)
    slope = sum((a - xm) * (b - ym) for a, b in zip(x, y)) / sxx
    return xm, ym, slope, sum((b - ym - slope * (a - xm)) ** 2 for a, b in zip(x, y)), sxx


class Law:
    """One limit of one card as a function of temperature, for one of the three bounds.

    `bound` is safe, expected or other; `direction` must-reach or must-not-exceed. Safe means longer for
    must-reach and shorter for must-not-exceed; other is its mirror.
    """

    def __init__(self, points, adhesive, clock, direction, bound):
        """`points`: list of (kelvin, low seconds, high seconds)."""
        self.direction, self.bound, self.clock = direction, bound, clock
        longer = (direction == "must-reach") == (bound == "safe")
        self.longer = None if bound == "expected" else longer
        self.energy = energies(adhesive, clock)
        self.points = sorted((at, self._end(low, high)) for at, low, high in points)
        self.ends = [sorted((at, f(low, high)) for at, low, high in points)
                     for f in (lambda a, b: a, lambda a, b: (a + b) / 2, lambda a, b: b)]
        self.lowest, self.highest = self.points[0][0], self.points[-1][0]
        self.refused, self._cap, self.outer = None, None, {}
        self.smooth = len(points) < 3  # between its kinks
        if len(self.points) == 1 and not self.energy:
            self.refused = "one point and no energy for the class"
        if len(self.points) >= 2:
            self._fit()
        # Where the slope breaks: integrals are split there.
        self.kinks = sorted({at for at, _ in self.points})

    @property
    def end(self):
        """Which end of a range this bound takes."""
        return "middle" if self.longer is None else "high" if self.longer else "low"

    def _end(self, low, high):
        if self.longer is None:
            return (low + high) / 2
        return high if self.longer else low

    def _fit(self):
        n = len(self.points)
        if n != len({at for at, _ in self.points}):
            self.refused = "two numbers at one temperature"
            return
        self.fits = [line(ends) for ends in self.ends]
        if n == 2 and not FIT_LOWEST <= self.fits[1][2] * R <= FIT_HIGHEST:
            self.refused = "fitted energy outside 25 to 110 kJ/mol"
        if any(t <= u for ends in self.ends for (_, t), (_, u) in zip(ends, ends[1:])):
            self.refused = "hotter is not quicker"
        xm, ym, slope, sse, sxx = self.fits[("low", "middle", "high").index(self.end)]
        self.fitted = slope * R
        if n >= 3:
            self.line = (xm, ym, slope, sqrt(sse / (n - 2)), sxx, n, student_975(n - 2))

    def _worse(self, times):
        return max(times) if self.longer else min(times)

    def _choices(self, pair):
        """Energies that may hold outside the points: of the class, and of the fits through all ends of ranges, since
        a safe bound easier than the expected one would be none. `pair`: the outer two points, or None."""
        own = [R * line([ends[i] for i in pair])[2] for ends in self.ends] if pair else []
        if self.longer is None:
            return [own[1] if own else self.energy[1]]
        return own + ([self.energy[0], self.energy[2]] if self.energy and len(self.points) < 3 else [])

    def _piece(self, at):
        """The straight (1/T, ln t) piece through the neighbouring points, the end pieces going on."""
        p = self.points
        i = 0
        while i < len(p) - 2 and at > p[i + 1][0]:
            i += 1
        (a, ta), (b, tb) = p[i], p[i + 1]
        share = (1 / at - 1 / a) / (1 / b - 1 / a)
        return exp(log(ta) + share * (log(tb) - log(ta)))

    def uncapped(self, at):
        """Seconds asked for at `at`, without caps."""
        p = self.points
        if len(p) >= 3:
            return self._banded(at)
        return self._pieces(at)

    def _pieces(self, at):
        """Exact between points; outside from the nearest with the worst energy."""
        p = self.points
        if len(p) > 1 and p[0][0] <= at <= p[-1][0]:
            return self._piece(at)
        point, pair = (p[0], [0, 1]) if at < p[0][0] else (p[-1], [-2, -1])
        times = [scaled(point[1], point[0], e, at) for e in self._outer(pair if len(p) > 1 else None)]
        return times[0] if self.longer is None else self._worse(times)

    def _outer(self, pair):
        key = pair[0] if pair else None
        if key not in self.outer:
            self.outer[key] = self._choices(pair)
        return self.outer[key]

    def _banded(self, at):
        """Three and more: the line; else the worst of the band, the pieces, and the line through the middles."""
        xm, ym, slope, s, sxx, n, q = self.line
        x = 1 / at
        if self.longer is None:
            return exp(ym + slope * (x - xm))
        half = q * s * sqrt(1 + 1 / n + (x - xm) ** 2 / sxx)
        band = exp(ym + slope * (x - xm) + (half if self.longer else -half))
        mx, my, mslope, *_ = self.fits[1]
        return self._worse([band, self._pieces(at), exp(my + mslope * (x - mx))])

    def seconds(self, at):
        """Seconds asked for at `at` kelvin, caps included: heat earns must-reach no more than the highest point, cold
        lengthens must-not-exceed to no more than at the lowest; the pot's cap is the sheet's number, in all bounds."""
        if self.direction == "must-reach":
            if self.bound == "safe":
                return max(self.uncapped(min(at, self.highest)), self.cap())
        elif self.bound == "safe" or self.clock == "pot":
            return min(self.uncapped(max(at, self.lowest)), self.cap())
        return self.uncapped(at)

    def cap(self):
        """The time at the point that caps."""
        if self._cap is None:
            reach = self.direction == "must-reach"
            self._cap = self.uncapped(self.highest if reach else self.lowest)
            if self.clock == "pot":
                self._cap = min(self._cap, self.points[0][1])
        return self._cap
