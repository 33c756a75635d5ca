"""Air and wood as functions of time: knots, gaps, several sources, floors vouched for, and the wood's lag.

A track is a list of pieces; inside a piece the value is a + b s + c exp(-s/tau) with s = seconds since its start.
Times in seconds, temperatures in kelvin.
"""
from math import exp, inf, log

SHORT, LONG, HOLD = 900.0, 7200.0, 900.0  # 15 min, 2 h, 15 min
ALPHA, K_WOOD, H_AIR = 1.6e-7, 0.12, 10.0  # m2/s, W/mK, W/m2K: the design page, item 8


class Piece:
    """One stretch of a track. `e` is the reading's error there, `kind` what it rests on."""

    __slots__ = ("t0", "t1", "a", "b", "c", "tau", "e", "kind")

    def __init__(self, t0, t1, a, b=0.0, c=0.0, tau=1.0, e=1.0, kind="reading"):
        self.t0, self.t1, self.a, self.b, self.c, self.tau, self.e, self.kind = t0, t1, a, b, c, tau, e, kind

    def at(self, t):
        """Value at t."""
        s = t - self.t0
        v = self.a + self.b * s
        return v + self.c * exp(-s / self.tau) if self.c else v

    def cut(self, t0, t1):
        """The same curve on a part of the stretch."""
        s = t0 - self.t0
        c = self.c * exp(-s / self.tau) if self.c else 0.0
        return Piece(t0, t1, self.a + self.b * s, self.b, c, self.tau, self.e, self.kind)

    def turning(self):
        """The instant where the curve turns, if it does inside the stretch."""
        if not self.c or not self.b:
            return None
        x = self.c / (self.tau * self.b)
        if x <= 0:
            return None
        t = self.t0 + self.tau * log(x)
        return t if self.t0 < t < self.t1 else None


def clip(pieces, t0, t1):
    """The pieces between two instants."""
    out = []
    for p in pieces:
        a, b = max(p.t0, t0), min(p.t1, t1)
        if a < b:
            out.append(p.cut(a, b))
    return out


class Source:
    """Knots of one thermometer: (t, low, mean, high), and the error of its reading."""

    def __init__(self, error=1.0):
        self.knots, self.error = [], error

    def edges(self, at):
        """Instants where its curves may break."""
        out = set()
        for t, *_ in self.knots:
            if t <= at:
                out.add(t)
        if out:
            out.add(max(out) + HOLD)
        return out

    def stretches(self, at):
        """(t0, t1, low, mean, high) with each of the last three a pair of end values, up to the last hold."""
        knots = [k for k in sorted(self.knots) if k[0] <= at]
        for k, n in zip(knots, knots[1:]):
            d = n[0] - k[0]
            if d <= 0:
                continue
            if d <= SHORT:
                yield k[0], n[0], (k[1], n[1]), (k[2], n[2]), (k[3], n[3])
            elif d <= LONG:
                low, high = min(k[1], n[1]), max(k[3], n[3])
                yield k[0], n[0], (low, low), (k[2], n[2]), (high, high)
        if knots:
            k = knots[-1]
            yield k[0], k[0] + HOLD, (k[1],) * 2, (k[2],) * 2, (k[3],) * 2


class Place:
    """The air of one place: sources, lowest-since spans, floors."""

    def __init__(self):
        self.sources = {}
        self.lowest = []  # (since, until, kelvin, error)
        self.floors = []  # (from, until, kelvin)

    def source(self, name, error=1.0):
        """The source of that name."""
        return self.sources.setdefault(name, Source(error))

    def known(self, at, horizon, which):
        """Pieces of `which` (0 low, 1 mean, 2 high) where readings give a value, up to `at`; then the forecast."""
        parts = []
        for name in sorted(self.sources):
            src = self.sources[name]
            for t0, t1, *ends in src.stretches(at):
                a, b = ends[which]
                t1c = min(t1, at)
                if t1c > t0:
                    parts.append(Piece(t0, t1c, a, (b - a) / (t1 - t0), e=src.error))
        return combine(parts, which) + self.forecast(at, horizon, which)

    def forecast(self, at, horizon, which):
        """The last values go on; a knot older than two hours gives none."""
        parts = []
        for name in sorted(self.sources):
            src = self.sources[name]
            past = [k for k in src.knots if k[0] <= at]
            if past:
                k = max(past)
                if at - k[0] <= LONG:
                    parts.append(Piece(at, horizon, k[1 + which], e=src.error, kind="forecast"))
        return combine(parts, which)

    def hottest_end(self, t, at):
        """The warmer of the readings on both sides of an instant inside a long gap."""
        best = -inf
        for src in self.sources.values():
            past = [k for k in src.knots if k[0] <= min(t, at)]
            later = [k for k in src.knots if t < k[0] <= at]
            if past:
                best = max(best, max(past)[3])
            if later:
                best = max(best, min(later)[3])
        return best


def combine(parts, which):
    """Several sources pointwise: lowest low, mean of means, highest high. Each part is straight."""
    if not parts:
        return []
    if len({id(p) for p in parts}) == len(parts) and not overlapping(parts):
        return sorted(parts, key=lambda p: p.t0)
    edges = sorted({x for p in parts for x in (p.t0, p.t1)})
    out = []
    for t0, t1 in zip(edges, edges[1:]):
        here = [p.cut(t0, t1) for p in parts if p.t0 <= t0 and p.t1 >= t1]
        if not here:
            continue
        if which == 1:
            n = len(here)
            out.append(Piece(t0, t1, sum(p.a for p in here) / n, sum(p.b for p in here) / n,
                             e=max(p.e for p in here), kind=here[0].kind))
            continue
        out += envelope(here, t0, t1, lowest=which == 0)
    return out


def overlapping(parts):
    """True when two stretches share time."""
    s = sorted(parts, key=lambda p: p.t0)
    return any(a.t1 > b.t0 for a, b in zip(s, s[1:]))


def envelope(here, t0, t1, lowest):
    """Lowest or highest of straight pieces, cut where they cross. The error counts in the comparison."""
    sign = -1.0 if lowest else 1.0
    cuts = {t0, t1}
    for i, p in enumerate(here):
        for q in here[i + 1:]:
            if p.b != q.b:
                t = t0 + ((q.a + sign * q.e) - (p.a + sign * p.e)) / (p.b - q.b)
                if t0 < t < t1:
                    cuts.add(t)
    cuts = sorted(cuts)
    out = []
    for a, b in zip(cuts, cuts[1:]):
        m = (a + b) / 2
        best = max(here, key=lambda p: sign * (p.at(m) + sign * p.e))
        out.append(best.cut(a, b))
    return out


def lag_seconds(thickness):
    """Time constant of a glue line in the middle of `thickness` metres."""
    half = thickness / 2
    return 1.2 * half * half / ALPHA * (K_WOOD / (H_AIR * half) + 1.0 / 3.0)


def lagged(air, start, w0, tau):
    """Wood behind the air from `start` at w0; in a stretch without air it keeps what it had."""
    out, w, t = [], w0, start
    for p in air:
        if p.t1 <= start:
            continue
        q = p.cut(max(p.t0, t), p.t1)
        # dw/ds = (a + b s - w)/tau  =>  w = a - b tau + b s + (w0 - a + b tau) exp(-s/tau)
        piece = Piece(q.t0, q.t1, q.a - q.b * tau, q.b, w - q.a + q.b * tau, tau, q.e, q.kind)
        out.append(piece)
        w, t = piece.at(q.t1), q.t1
    return out


def pick(one, two, lowest):
    """Lower or higher of two tracks with the same stretches; their difference is monotone in each."""
    out = []
    for p, q in zip(one, two):
        d0, d1 = p.at(p.t0) - q.at(q.t0), p.at(p.t1) - q.at(q.t1)
        cut = None
        if d0 * d1 < 0:
            lo, hi = p.t0, p.t1
            for _ in range(80):
                m = (lo + hi) / 2
                if (p.at(m) - q.at(m)) * d0 > 0:
                    lo = m
                else:
                    hi = m
            cut = (lo + hi) / 2
        for a, b in ([(p.t0, cut), (cut, p.t1)] if cut and p.t0 < cut < p.t1 else [(p.t0, p.t1)]):
            m = (a + b) / 2
            first = p.at(m) < q.at(m) if lowest else p.at(m) > q.at(m)
            out.append((p if first else q).cut(a, b))
    return out


def raised(pieces, floor):
    """The higher of a track and a constant."""
    if floor is None:
        return pieces
    level = [Piece(p.t0, p.t1, floor, e=p.e, kind=p.kind) for p in pieces]
    out = []
    for p, q in zip(pieces, level):
        out += pick([p], [q], lowest=False)
    return out
