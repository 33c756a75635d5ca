"""Air and wood as functions of time: knots, gaps, several sources, floors vouched for, and the wood's lag.

A track is a list of pieces; inside a piece the value is a + b s + c exp(-s/tau) with s = seconds since its start.
Times in seconds, temperatures in kelvin.
"""
from math import exp, inf, log, nan

SHORT, LONG, HOLD = 900.0, 7200.0, 900.0  # 15 min, 2 h, 15 min
ALPHA, K_WOOD, H_AIR = 1.6e-7, 0.12, 10.0  # m2/s, W/mK, W/m2K: the design page, item 8


class Piece:
    """One stretch of a track. `e` is the reading's error there, `kind` what it rests on."""

    __slots__ = ("t0", "t1", "a", "b", "c", "tau", "e", "kind")

    def __init__(self, t0, t1, a, b=0.0, c=0.0, tau=1.0, e=1.0, kind="reading"):
        self.t0, self.t1, self.a, self.b, self.c, self.tau, self.e, self.kind = t0, t1, a, b, c, tau, e, kind

    def at(self, t):
        """Value at t."""
        if not self.b and not self.c:
            return self.a
        s = t - self.t0
        v = self.a + self.b * s
        return v + self.c * exp(-s / self.tau) if self.c else v

    def cut(self, t0, t1):
        """The same curve on a part of the stretch."""
        s = t0 - self.t0 if self.b or self.c else 0.0
        c = self.c * exp(-s / self.tau) if self.c else 0.0
        return Piece(t0, t1, self.a + self.b * s, self.b, c, self.tau, self.e, self.kind)

    def slope(self, t):
        """Kelvin a second at t."""
        return self.b - self.c / self.tau * exp(-(t - self.t0) / self.tau) if self.c else self.b

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
    """Knots of one thermometer: (t, low, mean, high), the error of its reading, spans of a min-max thermometer."""

    def __init__(self, error=1.0):
        self.knots, self.error, self.lowest = [], error, []

    def told(self, at, far, view):
        """Stretches (t0, t1, kind, value, slope) over all time: what it says at each instant."""
        knots = [k for k in sorted(self.knots) if k[0] <= at]
        if not knots:
            return [(-inf, far, "nothing", nan, 0.0)]
        out = [(-inf, knots[0][0], "nothing", view.end(knots[0]), 0.0)]
        out += [view.between(k, n) for k, n in zip(knots, knots[1:])]
        t, last = knots[-1][0], view.of(knots[-1])
        held = min(t + HOLD, at)
        out += [(t, held, "reading", last, 0.0), (held, at, "nothing", view.end(knots[-1]), 0.0)]
        fresh = at - t <= LONG
        out.append((at, far, "reading" if fresh else "nothing", last if fresh else view.end(knots[-1]), 0.0))
        out = [x for x in out if x[1] > x[0]]
        return self.with_lowest(out, at, view) if view.reach else out

    def with_lowest(self, told, at, view):
        """A min-max thermometer: its lowest where nothing else is known; else the safe bound is the lower of it and
        what is read."""
        for since, until, kelvin in self.lowest:
            if until > at:
                continue
            new = []
            for t0, t1, kind, v, slope in told:
                for a, b in ((t0, min(t1, since)), (max(t0, since), min(t1, until)), (max(t0, until), t1)):
                    if b <= a:
                        continue
                    inside = since <= a and b <= until
                    w = v + slope * (a - t0) if slope else v
                    if inside and kind in ("nothing", "lowest"):
                        new.append((a, b, "lowest", kelvin if kind == "nothing" else max(v, kelvin), 0.0))
                    elif inside and view.bound == "safe":
                        new.append((a, b, kind, min(w, w + slope * (b - a) if slope else w, kelvin), 0.0))
                    else:
                        new.append((a, b, kind, w, slope))
            told = new
        return told


class View:
    """How a source is looked at: for which direction, for which bound."""

    def __init__(self, direction, bound):
        self.reach, self.bound = direction == "must-reach", bound
        self.which = {"safe": 0, "expected": 1, "other": 2}[bound]
        if not self.reach:
            self.which = 2 - self.which
        # Sign of the reading's error, and of "further out" when several are compared.
        self.shift = self.which - 1

    def of(self, knot):
        """A knot's low, mean or high."""
        return knot[1 + self.which]

    def end(self, knot):
        """An end of a stretch without readings: its high side, for must-not-exceed clocks."""
        return knot[3]

    def between(self, k, n):
        """Two knots: a line, the worse end, or nothing (then the hotter end)."""
        d, a, b = n[0] - k[0], self.of(k), self.of(n)
        if d <= SHORT or (d <= LONG and self.which == 1):
            return (k[0], n[0], "reading", a, (b - a) / d)
        if d <= LONG:
            return (k[0], n[0], "reading", (min if self.which == 0 else max)(a, b), 0.0)
        return (k[0], n[0], "nothing", max(self.end(k), self.end(n)), 0.0)


class Place:
    """The air of one place: sources, and floors a person vouched for."""

    def __init__(self):
        self.sources = {}
        self.forecasts = []  # what somebody stated it will do, by the instant it was said
        self.floors = []  # (from, until, kelvin)
        self.by_hand = []  # instants of hand readings

    def source(self, name, error=1.0):
        """The source of that name."""
        return self.sources.setdefault(name, Source(error))

    def track(self, view, at, far, hottest=None, stated=None):
        """One bound's air over all time. Kinds: reading, lowest, vouched, nothing (no credit, the wood stays as it
        is), hottest (must-not-exceed without readings). From the instant asked on a forecast takes its place (`stated`
        one instead of the place's own); where it must not be exceeded, the safe bound takes the higher of both."""
        out = self.read_track(view, at, far, hottest)
        stated = stated or (self.forecasts[-1] if self.forecasts else None)
        ahead = stated.pieces_once(self, at, far) if stated else None
        if not ahead:
            return out
        if not view.reach and view.bound == "safe":
            ahead = higher(ahead, clip(out, at, far))
        return clip(out, -inf, at) + ahead

    def read_track(self, view, at, far, hottest):
        """The same by readings alone: the last one goes on."""
        lanes = [(s, s.told(at, far, view)) for _, s in sorted(self.sources.items())]
        edges = {-inf, at, far} | {x for _, told in lanes for s in told for x in s[:2]}
        floors = [f for f in self.floors if f[0] <= at] if view.reach else []
        edges |= {x for f in floors for x in f[:2]}
        edges = sorted(x for x in edges if x <= far)
        out, nexts = [], [0] * len(lanes)
        for t0, t1 in zip(edges, edges[1:]):
            here = []
            for i, (source, told) in enumerate(lanes):
                while nexts[i] < len(told) - 1 and told[nexts[i]][1] <= t0:
                    nexts[i] += 1
                s0, _, kind, v, slope = told[nexts[i]]
                value = v + slope * (t0 - s0) if slope else v
                here.append(Piece(t0, t1, value, slope, e=source.error, kind=kind))
            out += settle(here, view, t0, t1, floors, hottest)
        return out

    def mean_track(self, t0, t1, at):
        """Mean air between two instants by readings alone, without lowest ones, floors and forecasts."""
        bare = Place()
        for name, source in self.sources.items():
            bare.source(name, source.error).knots = source.knots
        return clip(bare.read_track(View("must-reach", "expected"), at, at + 1.0, None), t0, t1)

    def mean(self, t, at):
        """Mean air at an instant: between knots at most two hours apart, and the last one for fifteen minutes."""
        values = []
        for source in self.sources.values():
            past = [k for k in source.knots if k[0] <= min(t, at)]
            later = [k for k in source.knots if t < k[0] <= at]
            if not past:
                continue
            k = max(past)
            n = min(later) if later else None
            if n and n[0] - k[0] <= LONG:
                values.append(k[2] + (t - k[0]) / (n[0] - k[0]) * (n[2] - k[2]))
            elif t - k[0] <= HOLD:
                values.append(k[2])
        return sum(values) / len(values) if values else None


def settle(here, view, t0, t1, floors, hottest):
    """What several sources come to in a stretch in which each is straight."""
    reads = [p for p in here if p.kind == "reading"]
    lowest = [p for p in here if p.kind == "lowest"]
    if reads or lowest:
        counted = reads + lowest if view.bound == "safe" or not reads else reads
        return merged(counted, view, t0, t1, "reading")
    vouched = [k for since, until, k in floors if since <= t0 and t1 <= until]
    if vouched:
        return [Piece(t0, t1, max(vouched), e=0.0, kind="vouched")]
    if view.reach:
        return [Piece(t0, t1, nan, kind="nothing")]
    # The hottest of both ends (with the reading's error in the safe bound) and what the card names.
    ends = [p.a + (p.e if view.bound == "safe" else 0.0) for p in here if p.a == p.a]
    return [Piece(t0, t1, max(ends + [hottest]), e=0.0, kind="hottest")]


def merged(here, view, t0, t1, kind):
    """Lowest low, mean of means, highest high of straight pieces."""
    if not here:
        return []
    for p in here:
        p.kind = kind
    if len(here) == 1:
        return here
    if view.which == 1:
        n = len(here)
        return [Piece(t0, t1, sum(p.a for p in here) / n, sum(p.b for p in here) / n,
                      e=max(p.e for p in here), kind=kind)]
    return envelope(here, t0, t1, lowest=view.which == 0)


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
        m = (a + b) / 2 if a > -inf else b
        out.append(max(here, key=lambda p: sign * (p.at(m) + sign * p.e)).cut(a, b))
    return out


def higher(ahead, read):
    """The higher of two tracks over the same time, errors counted."""
    out, i = [], 0
    for p in ahead:
        while i < len(read) and read[i].t1 <= p.t0:
            i += 1
        k = i
        while k < len(read) and read[k].t0 < p.t1:
            t0, t1 = max(p.t0, read[k].t0), min(p.t1, read[k].t1)
            out += envelope([p.cut(t0, t1), read[k].cut(t0, t1)], t0, t1, lowest=False)
            k += 1
    return out


def lag_seconds(thickness):
    """Time constant of a glue line in the middle of `thickness` metres."""
    half = thickness / 2
    return 1.2 * half * half / ALPHA * (K_WOOD / (H_AIR * half) + 1.0 / 3.0)


def lagged(air, w0, tau):
    """Wood behind the air from its first piece on, at w0; where nobody measured it keeps what it had."""
    out, w = [], w0
    for p in air:
        if p.a != p.a:
            out.append(Piece(p.t0, p.t1, w, e=p.e, kind=p.kind))
            continue
        # dw/ds = (a + b s - w)/tau  =>  w = a - b tau + b s + (w0 - a + b tau) exp(-s/tau)
        piece = Piece(p.t0, p.t1, p.a - p.b * tau, p.b, w - p.a + p.b * tau, tau, p.e, p.kind)
        out.append(piece)
        w = piece.at(p.t1)
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
        if not cut or not p.t0 < cut < p.t1:
            # Two curves may tie at an end, up to rounding: where they are furthest apart decides.
            m = (p.t0 + p.t1) / 2
            d = max((d0, p.at(m) - q.at(m), d1), key=abs)
            out.append(p if (d < 0) == lowest else q)
            continue
        one, two = p.cut(p.t0, cut), q.cut(cut, p.t1)
        out += [one, two] if (d0 < 0) == lowest else [q.cut(p.t0, cut), p.cut(cut, p.t1)]
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
