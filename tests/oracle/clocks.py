"""The eight clocks of one bond or batch, from the design page's "Clocks, exactly", items 1 to 17.

Times in seconds; a result's instants are whole milliseconds: earliest down, latest up.
"""
from math import ceil, floor, inf

from air import LONG, Piece, clip, lag_seconds, lagged, pick, raised
from law import Law
from march import Bound, March

DAY = 86400.0
ROOM = 303.15  # 30 C: item 6
COLD_WOOD = 278.15  # 5 C: item 8
SPREAD, ALLOWANCE, SWING = 0.10, 0.05, 2.0
BOUNDS = {"safe": 0, "expected": 1, "other": 2}
DIRECTION = {c: "must-not-exceed" for c in ("pot", "open", "closed", "fresh-surface", "glue-again")}
DIRECTION.update({c: "must-reach" for c in ("clamp", "machining", "full-cure")})


class Clock:
    """One clock before it is integrated."""

    def __init__(self, of, clock, start, end, limit, card):
        self.of, self.clock, self.start, self.end = of, clock, start, end
        self.limit, self.card = limit, card
        self.direction = DIRECTION[clock]
        self.carry = {b: 0.0 for b in BOUNDS}
        self.scale, self.over_at = 1.0, None


def horizon(limit, at):
    """Item 9 and 15: the larger of seven days and six times the card's time at its own point, from `at`."""
    return at + max(7 * DAY, 6 * max(high for _, _, high in limit.points))


def own_start(clock, start, limit, instants):
    """Item 10: what it is counted from may move a must-not-exceed start earlier."""
    other = instants.get(limit.counted_from or "mixing")
    return min(start, other) if other is not None else start


def unscaled(clock):
    """Clocks that run in plain time: fresh surface, and the assembly times of water-borne glues."""
    return clock.clock == "fresh-surface" or (clock.card.water and clock.clock in ("open", "closed"))


def spread(card):
    """Only handbook and class cards."""
    return SPREAD if card.origin in ("handbook", "class") else 0.0


class Plain:
    """Progress of a clock that runs in plain time."""

    def __init__(self, start, seconds, first, factor):
        self.start, self.seconds, self.first, self.factor = start, seconds, first, factor

    def progress(self, t):
        """Share of the time used at t."""
        return (self.first + max(0.0, t - self.start) / self.seconds) / self.factor

    def finish(self):
        """When the share is 1."""
        return self.start + max(0.0, self.factor - self.first) * self.seconds


def plain(clock, bound):
    """Item 4 of the rules: not scaled. The short end is safe."""
    lows = min(low for _, low, _ in clock.limit.points)
    highs = min(high for _, _, high in clock.limit.points)
    mids = min((low + high) / 2 for _, low, high in clock.limit.points)
    seconds = {"safe": lows, "expected": mids, "other": highs}[bound]
    factor = 1.0 - spread(clock.card) if bound == "safe" else 1.0
    return Plain(clock.start, seconds, clock.carry[bound], factor)


def marched(clock, bound, track, floor=None):
    """The integral of one bound along its track."""
    points = [(at, low * clock.scale, high * clock.scale) for at, low, high in clock.limit.points]
    law = Law(points, clock.card.adhesive, clock.clock, clock.direction, bound)
    if law.refused:
        return None
    reach = clock.direction == "must-reach"
    shift = {"safe": -1, "expected": 0, "other": 1}[bound] * (1 if reach else -1)
    march = March(track, law, shift, floor, SWING if bound == "safe" else None, clock.carry[bound])
    if bound != "safe":
        return Bound(march)
    sign = 1 if reach else -1
    return Bound(march, 1 + sign * spread(clock.card), 1 + sign * ALLOWANCE)


def credit_floor(card, bound):
    """Items 1 and 3: the temperature (before the error) that a must-reach bound needs."""
    if card.minimum is not None:
        sign = {"safe": 1, "expected": 0, "other": -1}[bound]
        return lambda e: card.minimum + sign * e
    clamp = card.limit("clamp") or card.limit("clamp", True)
    if clamp is None:
        return None
    lowest = min(at for at, _, _ in clamp.points)
    sign = {"safe": 0, "expected": 0, "other": -1}[bound]
    return lambda e: lowest + sign * e


def result(clock, bounds, at, known=True):
    """The answer for one clock. `bounds`: safe, expected, other; None when there is no law."""
    until = at if clock.end is None else min(at, clock.end)
    reach = clock.direction == "must-reach"
    out = {"of": clock.of, "clock": clock.clock, "direction": clock.direction}
    out["started"] = ms(clock.start)
    out["ended"] = ms(clock.end) if clock.end is not None and clock.end <= at else None
    if bounds is None:
        out.update(state="ended" if out["ended"] else "held", progress=None, instants=[None] * 3)
        return out
    safe, expected, other = (bounds[b].progress(until) for b in ("safe", "expected", "other"))
    far = horizon(clock.limit, at)
    ends = [bounds[b].finish() for b in ("safe", "expected", "other")]
    ends = [e if e is not None and e <= far else None for e in ends]
    if clock.over_at is not None:
        safe, expected, other = max(safe, 1.0), max(expected, 1.0), max(other, 1.0)
        ends = [min(e, clock.over_at) if e is not None else clock.over_at for e in ends]
    if clock.end is not None:
        ends = [e if e is not None and e <= clock.end else None for e in ends]
    low, high = (safe, other) if reach else (other, safe)
    out["progress"] = [floor(low * 1e6 + 1e-9), expected * 1e6, ceil(high * 1e6 - 1e-9)]
    first, last = (ends[2], ends[0]) if reach else (ends[0], ends[2])
    out["instants"] = [down(first), ms(ends[1]), up(last)]
    done = safe >= 1.0
    out["state"] = state(clock, done, out, ends)
    return out


def state(clock, done, out, ends):
    """Item 16: the first that fits."""
    if done:
        return "reached" if clock.direction == "must-reach" else "over"
    if out["ended"] is not None:
        return "ended"
    if clock.direction == "must-reach" and ends[0] is None:
        return "never"
    return "running"


def ms(t):
    """To the millisecond."""
    return None if t is None or t == inf else round(t * 1000)


def down(t):
    """Down to the millisecond; what is within a hundredth of a microsecond counts as whole."""
    return None if t is None or t == inf else floor(t * 1000 + 1e-2)


def up(t):
    """Up to the millisecond."""
    return None if t is None or t == inf else ceil(t * 1000 - 1e-2)


class Tracks:
    """Temperatures of one book seen at one instant."""

    def __init__(self, book, at):
        self.book, self.at = book, at

    def hot(self, place, t, limit, card):
        """Item 6: the hottest of both ends, the card's highest point, its application maximum and 30 C."""
        values = [ROOM, max(p[0] for p in limit.points if p[0] is not None)]
        if card.application[1] is not None:
            values.append(card.application[1])
        if place is not None:
            values.append(place.hottest_end(t, self.at))
        return max(values)

    def used_up(self, where, limit, card, bound, far, warm=None):
        """A must-not-exceed track over `where`, a list of (from, place, to). `bound` safe takes the high side."""
        which = {"safe": 2, "expected": 1, "other": 0}[bound]
        out = []
        for t0, place, t1 in where:
            known = clip(place.known(self.at, far, which), t0, t1) if place else []
            out += self.filled(known, t0, t1, place, limit, card)
        return raised(out, warm)

    def filled(self, known, t0, t1, place, limit, card):
        """Puts the hottest assumption where readings say nothing."""
        out, t = [], t0
        for p in known + [Piece(t1, t1, 0.0)]:
            if p.t0 > t:
                for a, b in self.parts(t, p.t0):
                    out.append(Piece(a, b, self.hot(place, (a + b) / 2, limit, card), e=0.0, kind="assumed"))
            if p.t1 > p.t0:
                out.append(p)
            t = p.t1
        return out

    def parts(self, t0, t1):
        """A stretch without readings, cut at the instant judged."""
        return [(t0, self.at), (self.at, t1)] if t0 < self.at < t1 else [(t0, t1)]

    def air(self, where, bound, far):
        """Air for must-reach: readings, lowest-since spans, floors vouched for; nothing where nothing is known."""
        which = {"safe": 0, "expected": 1, "other": 2}[bound]
        out = []
        for t0, place, t1 in where:
            if place is None:
                continue
            known = place.known(self.at, far, which)
            for since, until, kelvin, error in place.lowest:
                known = under(known, since, min(until, self.at), kelvin, error, which)
            for since, until, kelvin in place.floors:
                known = fill(known, Piece(since, until, kelvin, e=0.0, kind="vouched"))
            out += clip(known, t0, t1)
        return out

    def wood(self, where, bound, far, start, w0, tau):
        """Item 8 and the track each bound uses: lower of air and wood, wood, higher of both."""
        air = clip(self.air(where, bound, far), start, far)
        behind = lagged(air, start, w0, tau)
        if bound == "expected":
            return behind
        return pick(air, behind, lowest=bound == "safe")


def fill(known, piece):
    """Puts a piece where nothing is known."""
    out, t = [], piece.t0
    for p in sorted(known, key=lambda p: p.t0):
        if p.t0 > t and t < piece.t1:
            out.append(piece.cut(t, min(p.t0, piece.t1)))
        out.append(p)
        t = max(t, p.t1)
    if t < piece.t1:
        out.append(piece.cut(t, piece.t1))
    return sorted(out, key=lambda p: p.t0)


def under(known, since, until, kelvin, error, which):
    """A lowest-since span: the low side is that lowest; the others only where nothing is known."""
    span = Piece(since, until, kelvin, e=error, kind="lowest")
    if which == 0:
        outside = []
        for p in known:
            outside += clip([p], -inf, since) + clip([p], until, inf)
        return sorted(outside + [span], key=lambda p: p.t0)
    return fill(known, span)
