"""A pot that heats itself, and a film that does not: from the equations and the table of docs/science/pot.md.

da/dt = (k1 + k2 a)(1 - a)^2, m cp dT/dt = m dH da/dt - U A (T - air), in a cup as high as wide. The classical rule of
order four with small steps; rates from a sheet by halving. Times in seconds, temperatures in kelvin, masses in grams.
"""
from functools import lru_cache
from math import exp, log, pi, sqrt

from law import R

E1, E2, REF = 60e3, 55e3, 298.15  # J/mol; the rates are stated at 25 C
HEAT, CAPACITY, DENSITY, CONDUCTS = 400e3, 2000.0, 1100.0, 0.2  # J/kg, J/kgK, kg/m3, W/mK
FILM, WALL = 8.0, 0.005  # W/m2K, m2K/W
HOT = 323.15  # 50 C
GEL = 1 / sqrt(3)
SHARE = 0.05  # k1/k2 of the generic glue
SHARES = (1e-4, 10.0)
LONGEST = 60 * 86400.0


def work_limit():
    """Conversion at which the viscosity, eta0 (a_g/(a_g - a))^(1.5 + a), has doubled."""
    low, high = 0.0, GEL - 1e-9
    for _ in range(100):
        a = (low + high) / 2
        if (1.5 + a) * log(GEL / (GEL - a)) < log(2):
            low = a
        else:
            high = a
    return (low + high) / 2


WORK = work_limit()


def rates(k1, k2, at):
    """The two rates at a temperature."""
    x = (1 / REF - 1 / at) / R
    return k1 * exp(E1 * x), k2 * exp(E2 * x)


def isothermal(k1, k2, at, a):
    """Seconds a film takes to conversion `a`, in closed form."""
    k1, k2 = rates(k1, k2, at)
    k = k1 + k2
    return k2 / k ** 2 * (log((k1 + k2 * a) / k1) - log(1 - a)) + a / ((1 - a) * k)


def conversion(k1, k2, at, seconds):
    """Conversion of a film after so many seconds."""
    low, high = 0.0, 1 - 1e-12
    if isothermal(k1, k2, at, high) <= seconds:
        return high
    for _ in range(200):
        a = (low + high) / 2
        if isothermal(k1, k2, at, a) < seconds:
            low = a
        else:
            high = a
    return (low + high) / 2


def loss(mass):
    """U A / (m cp) of a cup, 1/s."""
    volume = mass / 1000 / DENSITY
    width = (4 * volume / pi) ** (1 / 3)
    area = 1.5 * pi * width ** 2
    inside = 0.6 * volume / (area * CONDUCTS)
    return area / (1 / FILM + WALL + inside) / (mass / 1000 * CAPACITY)


class Cup:
    """A cup of one glue, marched in steps small against all that changes."""

    def __init__(self, k1, k2, mass, air):
        self.k1, self.k2, self.air, self.loss = k1, k2, air, loss(mass)
        self.t, self.a, self.kelvin = 0.0, 0.0, air

    def slope(self, a, kelvin):
        """Conversion and kelvin a second."""
        k1, k2 = rates(self.k1, self.k2, kelvin)
        rate = (k1 + k2 * a) * (1 - a) ** 2
        return rate, HEAT / CAPACITY * rate - self.loss * (kelvin - self.air)

    def ahead(self, h):
        """Where it is h seconds on."""
        a, t = self.a, self.kelvin
        a1, t1 = self.slope(a, t)
        a2, t2 = self.slope(a + h / 2 * a1, t + h / 2 * t1)
        a3, t3 = self.slope(a + h / 2 * a2, t + h / 2 * t2)
        a4, t4 = self.slope(a + h * a3, t + h * t3)
        return a + h / 6 * (a1 + 2 * a2 + 2 * a3 + a4), t + h / 6 * (t1 + 2 * t2 + 2 * t3 + t4)

    def step(self):
        """A step in which little changes: a thousandth of the reaction, a quarter kelvin, a fiftieth of a time."""
        rate, warming = self.slope(self.a, self.kelvin)
        k2 = rates(self.k1, self.k2, self.kelvin)[1]
        return min(0.001 / rate, 0.25 / max(abs(warming), 1e-9), 0.02 / k2, 0.02 / self.loss)

    def until(self, met, longest):
        """Goes on until `met(a, kelvin)`, or for `longest` seconds; the instant, or None."""
        if met(self.a, self.kelvin):
            return self.t
        while self.t < longest:
            h = min(self.step(), longest - self.t)
            a, kelvin = self.ahead(h)
            if met(a, kelvin):
                low, high = 0.0, h
                for _ in range(60):
                    m = (low + high) / 2
                    if met(*self.ahead(m)):
                        high = m
                    else:
                        low = m
                return self.t + high
            self.t, self.a, self.kelvin = self.t + h, a, kelvin
        return None


@lru_cache(maxsize=None)
def spreadable(k1, k2, mass, at):
    """Seconds to the work limit alone in a cup whose air and start are `at`."""
    return Cup(k1, k2, mass, at).until(lambda a, _: a >= WORK, LONGEST)


@lru_cache(maxsize=None)
def working(k1, k2, mass, at):
    """Working time: the earlier of the work limit and 50 C."""
    return Cup(k1, k2, mass, at).until(lambda a, kelvin: a >= WORK or kelvin >= HOT, LONGEST)


@lru_cache(maxsize=None)
def reacted(k1, k2, mass, at, seconds, enough):
    """Conversion after so many seconds; it stops at `enough`."""
    cup = Cup(k1, k2, mass, at)
    met = cup.until(lambda a, _: a >= enough, seconds)
    return enough if met is not None else cup.a


@lru_cache(maxsize=None)
def calibrated(mass, at, seconds, film_at=None, film=None):
    """k1 and k2 at 25 C from a mass's pot life and, if it fits, a film's gel time; None where nothing fits."""
    def late(k):
        found = spreadable(*k, mass, at)
        return 50.0 if found is None else log(found / seconds)

    if film is not None:
        def of_share(x):
            # The film's time goes with 1/k2.
            k2 = isothermal(exp(x), 1.0, film_at, GEL) / film
            return exp(x) * k2, k2

        x = root(*map(log, SHARES), lambda x: late(of_share(x)))
        if x is not None:
            return of_share(x)
    of_rate = lambda x: (SHARE * exp(x), exp(x))
    # Without heat it would take longer: the film's own rate is the upper end; heat is worth less than e^2.5.
    high = log(isothermal(SHARE, 1.0, at, WORK) / seconds)
    x = root(high - 2.5, high + 1e-6, lambda x: late(of_rate(x)))
    return None if x is None else of_rate(x)


def root(low, high, f):
    """Where a falling function is 0, to 1e-10 (Ridders' rule); None where it keeps its sign."""
    f_low, f_high = f(low), f(high)
    if f_low * f_high > 0:
        return None
    for _ in range(60):
        m = (low + high) / 2
        f_m = f(m)
        if f_m == 0.0:
            return m
        x = m + (m - low) * (1 if f_low > f_high else -1) * f_m / sqrt(f_m ** 2 - f_low * f_high)
        f_x = f(x)
        if abs(f_x) < 1e-11 or abs(high - low) < 1e-10:
            return x
        for a, f_a in sorted([(m, f_m), (x, f_x)]):
            if f_a > 0:
                low, f_low = a, f_a
            elif a < high:
                high, f_high = a, f_a
    return (low + high) / 2
