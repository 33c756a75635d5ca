"""Checks of the oracle itself against printed numbers. Each row names where the number was printed."""
from math import exp

import pot
from air import Piece, lag_seconds, lagged
from forecast import fitted
from law import Law, student_975
from march import Bound, March

C = 273.15
H = 3600.0


def law(points, direction, bound, clock="clamp", adhesive="epoxy"):
    """A law from (Celsius, hours) points."""
    return Law([(c + C, h * H, h * H) for c, h in points], adhesive, clock, direction, bound)


def finish(pieces, minimum=None, bound="expected"):
    """Hours to 12 h at 20 C, 55 kJ/mol, along a track."""
    one = law([(20, 12)], "must-reach", bound)
    march = March(pieces, one, 0, (lambda e: minimum + C) if minimum is not None else None)
    end = Bound(march).finish()
    return end / H if end is not None else float("inf")


def knots(hours_celsius):
    """Straight pieces through knots."""
    k = [(h * H, c + C) for h, c in hours_celsius]
    return [Piece(a[0], b[0], a[1], (b[1] - a[1]) / (b[0] - a[0])) for a, b in zip(k, k[1:])]


def curve(f, hours, step=300):
    """Straight pieces through f every 300 s, as the table was made."""
    n = int(hours * 3600 / step)
    return knots([(i * step / 3600, f(i * step / 3600)) for i in range(n + 1)])


def rows():
    """(source, what, printed, computed, half the last printed digit)."""
    from math import pi, sin
    reach, short = "must-reach", "must-not-exceed"
    one, pot = [(20, 12)], [(25, 0.75)]
    page = "docs/science/clocks.md"
    yield page + " 1", "25 C safe h", 12.000, law(one, reach, "safe").seconds(24 + C) / H, 5e-4
    yield page + " 1", "25 C expected h", 8.219, law(one, reach, "expected").seconds(25 + C) / H, 5e-4
    yield page + " 1", "pot 45 min at 25 C, in 20 C", 45, law(pot, short, "expected", "pot").seconds(20 + C) / 60, 5e-7
    yield page + " 1", "the same pot without its cap", 65.7, unc(pot), 5e-2
    yield page + " 2", "20 C safe h", 13.147, law(one, reach, "safe").seconds(19 + C) / H, 5e-4
    yield page + " 2", "pot at 25 C min", 41.22, law(pot, short, "safe", "pot").seconds(26 + C) / 60, 5e-3
    two = [((70 - 32) / 1.8, 4), ((90 - 32) / 1.8, 2)]
    cold = (60 - 32) / 1.8 + C
    yield page + " 4", "60 F safe min", 400, law(two, reach, "safe").seconds(cold) / 60, 0.5
    yield page + " 4", "60 F expected min", 346, law(two, reach, "expected").seconds(cold) / 60, 0.5
    yield "main job, ANC-19 pair", "80 F min", 168.6, law(two, reach, "expected").seconds((80 - 32) / 1.8 + C) / 60, 0.05
    yield from gap_rows(page)
    table = "SCIENCE section 2, finish table (s2_finish_times.csv)"
    yield table, "const 15 C", 17.7513, finish(knots([(0, 15), (40, 15)])), 5e-5
    yield table, "ramp 22->10 in 24 h", 13.1183, finish(knots([(0, 22), (24, 10), (60, 10)])), 5e-5
    newton = curve(lambda h: 8 + 14 * exp(-h / 4), 168)
    yield table, "Newton 22->8 tau 4 h", 25.1852, finish(newton), 5e-5
    yield table, "Newton, minimum 10: never", float("inf"), finish(newton, 10), 0
    day = curve(lambda h: 14 + 6 * sin(2 * pi * (h - 3) / 24), 72)
    for minimum, h in ((None, 15.3317), (10, 15.4916), (13, 27.9391)):
        yield table, f"14+6 sin, minimum {minimum}", h, finish(day, minimum), 5e-5
    log = knots([(0, 21), (2, 21), (5, 12), (12, 12), (13, 20), (60, 20)])
    for minimum, h in ((None, 16.0529), (13, 20.0231)):
        yield table, f"log, setback, reheat, minimum {minimum}", h, finish(log, minimum), 5e-5
    yield from fit_rows()
    yield from lag_rows()
    yield from pot_rows()


def unc(pot):
    """The pot's time at 20 C without its cap, by the middle energy."""
    return law(pot, "must-not-exceed", "expected", "pot").uncapped(20 + C) / 60


def gap_rows(page):
    """Item 6: 22 -> 14 C one hour apart, in hours at 20 C."""
    one = law([(20, 1)], "must-reach", "expected")
    low = March([Piece(0, H, 14 + C)], one, 0).total
    straight = March(knots([(0, 22), (1, 14)]), one, 0).total
    yield page + " 6", "lower end h at 20", 0.624, low, 5e-4
    yield page + " 6", "straight h at 20", 0.869, straight, 5e-4


def fit_rows():
    """s1_demo_fit.csv: five points, fit and prediction band."""
    points = [(10, 30.0), (15, 19.0), (20, 12.0), (25, 8.5), (30, 5.5)]
    source = "SCIENCE section 1 (s1_demo_fit.csv)"
    mid = law(points, "must-reach", "expected")
    yield source, "Ea kJ/mol", 59.935674, mid.fitted / 1000, 5e-7
    for c, fit, low, high in ((12.5, 23.72162529, 21.27288979, 26.45223626), (27.5, 6.735050713, 6.0403934, 7.509595005)):
        safe, other = law(points, "must-reach", "safe"), law(points, "must-reach", "other")
        yield source, f"fit at {c}", fit, mid.uncapped(c + C) / H, 5e-8
        yield source, f"band high at {c}", high, safe.uncapped(c + C) / H, 5e-8
        yield source, f"band low at {c}", low, other.uncapped(c + C) / H, 5e-8
    for n, t in ((1, 12.7062), (3, 3.1824), (10, 2.2281)):
        yield "Student t 0.975, printed tables (from memory)", f"{n} degrees", t, student_975(n), 5e-5


def lag_rows():
    """The wood's lag: its closed form against small Runge-Kutta steps."""
    tau = lag_seconds(0.060)
    yield "the lag by hand: 1.2 x 5625 s x (0.4 + 1/3)", "tau 60 mm s", 4950.0, tau, 1e-9
    pieces = lagged(knots([(0, 20), (2, 12), (5, 22)]), 281.15, tau)
    air = knots([(0, 20), (2, 12), (5, 22)])
    w, h = 281.15, 10.0
    for p in air:
        for i in range(int((p.t1 - p.t0) / h)):
            t = p.t0 + i * h
            f = lambda s, x: (p.at(s) - x) / tau
            k1 = f(t, w)
            k2 = f(t + h / 2, w + h / 2 * k1)
            k3 = f(t + h / 2, w + h / 2 * k2)
            k4 = f(t + h, w + h * k3)
            w += h / 6 * (k1 + 2 * k2 + 2 * k3 + k4)
    yield "Runge-Kutta, 10 s steps", "wood after 5 h K", w, pieces[-1].at(5 * H), 1e-9


def pot_rows():
    """tests/tables/pot_matrix.csv and pot_calibration.csv; a time constant put in and fitted out."""
    table = "tests/tables/pot_matrix.csv"
    for grams, celsius, minutes in ((25, 30, 58.18958513), (100, 15, 220.9083462), (100, 35, 35.21321929)):
        found = pot.spreadable(1e-5, 2e-4, float(grams), celsius + C) / 60
        yield table, f"{grams} g at {celsius} C min", minutes, found, 5e-8 * minutes
    table = "tests/tables/pot_calibration.csv"
    for life, k2, k1 in ((48.65411222, 1.296954309e-4, 2.278336178e-5), (93.25371508, 2.212544862e-4, 7.441845367e-6)):
        found = pot.calibrated(100.0, 25 + C, life * 60, 25 + C, 364.7029629 * 60)
        yield table, f"k2 of {life} min", k2, found[1], 1e-7 * k2
        yield table, f"k1 of {life} min", k1, found[0], 1e-7 * k1
    film = pot.isothermal(1e-5, 2e-4, 25 + C, pot.GEL)
    yield "there and back", "conversion of a film", pot.GEL, pot.conversion(1e-5, 2e-4, 25 + C, film), 1e-9
    run = [(600.0 * i, 278.15 + 14 * exp(-600.0 * i / 9000)) for i in range(12)]
    yield "put in", "time constant s", 9000.0, fitted(run, 278.15), 1e-6


def check():
    """Prints each row; exit 1 when one is off."""
    bad = 0
    for source, what, printed, computed, tolerance in rows():
        good = printed == computed or abs(printed - computed) <= tolerance
        bad += not good
        print(f"{'ok ' if good else 'OFF'} {what}: printed {printed}, computed {computed:.9g} ({source})")
    return 1 if bad else 0
