"""A year of readings beside ours: the whole finish of three bounds, vectorised with NumPy.

Use: year.py FILE A B SHIFT A B SHIFT A B SHIFT, FILE with a temperature (K, doubles) for every minute, ln t = A + B/T in ms
at T = reading + SHIFT. Every line asks for a rule; the answer is its own seconds and three instants, ms.
"""

import math
import sys
import time

import numpy as np

MS = 60_000.0
NODES = [(0.04691007703066802, 0.11846344252809454), (0.23076534494715845, 0.23931433524968324), (0.5, 0.28444444444444444),
         (0.76923465505284155, 0.23931433524968324), (0.95308992296933198, 0.11846344252809454)]


def within(kelvin, line, a, b, shift, missing):
    """Where in a line the rest is made up, ms: five nodes, halved."""
    start, rise = kelvin[line] + shift, kelvin[line + 1] - kelvin[line]
    low, high = 0.0, 1.0
    for _ in range(50):
        middle = (low + high) / 2
        done = sum(w * math.exp(-a - b / (start + rise * middle * x)) for x, w in NODES) * middle * MS
        low, high = (middle, high) if done < missing else (low, middle)
    return high * MS


def rates(out, kelvin, a, b):
    """exp(-a - b/T) without new arrays."""
    np.divide(-b, kelvin, out=out)
    np.subtract(out, a, out=out)
    return np.exp(out, out=out)


def trapezoid(kelvin, a, b):
    """One exponential a knot."""
    rate = rates(np.empty_like(kelvin), kelvin, a, b)
    each = rate[1:] + rate[:-1]
    each *= MS / 2
    return each


def middle(kelvin, a, b):
    """One exponential a line."""
    each = kelvin[1:] + kelvin[:-1]
    each *= 0.5
    rates(each, each, a, b)
    each *= MS
    return each


def corrected(kelvin, a, b):
    """One exponential a line and the next terms of its series: f1 = b x² rise, f2 = -2 f1 x rise."""
    rise = kelvin[1:] - kelvin[:-1]
    each = kelvin[1:] + kelvin[:-1]
    each *= 0.5
    x = 1.0 / each
    f1 = b * x
    f1 *= x
    f1 *= rise
    u = f1 * f1
    f1 *= x
    f1 *= rise
    f1 *= -2.0
    f1 += u
    f1 *= 1.0 / 24.0
    u *= u
    u *= 1.0 / 1920.0
    f1 += u
    f1 += 1.0
    rates(each, each, a, b)
    each *= f1
    each *= MS
    return each


def two_nodes(kelvin, a, b):
    """Two exponentials a line, Gauss."""
    rise = kelvin[1:] - kelvin[:-1]
    rise *= 0.5 / math.sqrt(3.0)
    half = kelvin[1:] + kelvin[:-1]
    half *= 0.5
    one = half - rise
    half += rise
    rates(one, one, a, b)
    rates(half, half, a, b)
    half += one
    half *= MS / 2
    return half


def reference(kelvin, a, b):
    """Five nodes a line in longer doubles."""
    wide = kelvin.astype(np.longdouble)
    rise = wide[1:] - wide[:-1]
    return sum(np.longdouble(w) * np.exp(-np.longdouble(a) - np.longdouble(b) / (wide[:-1] + rise * np.longdouble(x)))
               for x, w in NODES) * MS


RULES = {"trapezoid": trapezoid, "middle": middle, "corrected": corrected, "two-nodes": two_nodes, "reference": reference}


def finish(kelvin, rule, a, b, shift):
    """Instant at which the progress is one."""
    done = np.cumsum(rule(kelvin + shift, a, b))
    line = int(np.searchsorted(done, 1.0))
    before = float(done[line - 1]) if line else 0.0
    return line * MS + within(kelvin, line, a, b, shift, 1.0 - before)


def main():
    kelvin = np.fromfile(sys.argv[1])
    numbers = [float(word) for word in sys.argv[2:]]
    bounds = [tuple(numbers[i:i + 3]) for i in range(0, 9, 3)]
    for line in sys.stdin:
        rule = RULES[line.strip()]
        began = time.perf_counter()
        at = [finish(kelvin, rule, *bound) for bound in bounds]
        print(time.perf_counter() - began, *(repr(ms) for ms in at), flush=True)


main()
