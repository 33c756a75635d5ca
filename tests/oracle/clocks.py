"""The eight clocks of one bond or batch, from the design page's "Clocks, exactly", items 1 to 17.

Times in seconds; a result's instants are whole milliseconds: earliest down, latest up.
"""
from math import ceil, floor, inf, sqrt

from air import Place, View, clip, lagged, pick, raised
from law import FIT_HIGHEST, FIT_LOWEST, Law, R
from march import Bound, March

DAY = 86400.0
ROOM = 303.15  # 30 C: item 6
COLD_WOOD = 278.15  # 5 C: item 8
SPREAD, ALLOWANCE, AGREED, SWING = 0.10, 0.05, 0.02, 2.0
AGREE = 3e3  # J/mol: slopes of a card that differ by no more agree
SCALED = ("pot", "open", "closed", "glue-again", "clamp", "machining", "full-cure")
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
        self.over_at = None

    def points(self, mass=None):
        """(kelvin, low, high) of the limit; for a pot with its mass in it (item 9)."""
        out = []
        for (at, low, high), sheet in zip(self.limit.points, self.limit.masses):
            share = min(1.0, (sheet / (100.0 if mass is None else mass)) ** (1 / 3)) if self.clock == "pot" else 1.0
            out.append((at, low * share, high * share))
        return out


def horizon(points, at):
    """Item 9 and 15: the larger of seven days and six times the card's time at its own point, from `at`."""
    return at + max(7 * DAY, 6 * max(high for _, _, high in points))


def own_start(start, limit, instants):
    """Item 10: what it is counted from may move a must-not-exceed start earlier."""
    other = instants.get(limit.counted_from or "mixing")
    return min(start, other) if other is not None else start


def spread(card):
    """Only handbook and class cards."""
    return SPREAD if card.origin in ("handbook", "class") else 0.0


def own_energies(card):
    """(clock, J/mol) of each scaled limit whose sheet gives two temperatures and more."""
    out = []
    for limit in card.limits:
        dried = card.water and limit.clock in ("open", "closed")
        if limit.clock not in SCALED or dried or len(limit.points) < 2 or any(p[0] is None for p in limit.points):
            continue
        law = Law(limit.points, card.adhesive, limit.clock, DIRECTION[limit.clock], "expected")
        if not law.refused and FIT_LOWEST <= law.fits[1][2] * R <= FIT_HIGHEST:
            out.append((limit.clock, law.fits[1][2] * R))
    return out


def allowance(card):
    """2 % where the card's own slopes agree, else 5 %."""
    found = own_energies(card)
    values = [energy for _, energy in found]
    agree = len({clock for clock, _ in found}) >= 2 and max(values) - min(values) <= AGREE
    return AGREED if agree else ALLOWANCE


class Quickest:
    """Several laws over the same points: the shortest time counts."""

    def __init__(self, laws):
        self.laws, self.points, self.refused = laws, laws[0].points, laws[0].refused
        self.kinks, self.smooth = laws[0].kinks, laws[0].smooth and len(laws) == 1
        self.seconds = laws[0].seconds if len(laws) == 1 else lambda at: min(law.seconds(at) for law in laws)


class Over:
    """A bound that is over from its start: the mix was too old before the clock began."""

    def __init__(self, clock):
        self.start = clock.start

    def progress(self, t):
        """All of it."""
        return 1.0

    def finish(self):
        """At once."""
        return self.start


class Plain:
    """Progress of a clock that runs in plain time."""

    def __init__(self, clock, bound):
        low = min(low for _, low, _ in clock.limit.points)
        high = max(high for _, _, high in clock.limit.points)
        self.seconds = {"safe": low, "expected": (low + high) / 2, "other": high}[bound]
        self.factor = 1.0 - spread(clock.card) if bound == "safe" else 1.0
        self.start, self.carried = clock.start, min(clock.carry[bound], 1.0)
        self.done = self.start + self.factor * (1.0 - self.carried) * self.seconds
        self.over_at = clock.over_at
        if clock.over_at is not None:
            self.done = min(self.done, clock.over_at)

    def progress(self, t):
        """Share of the time used at t."""
        # What the forecast alone brings about at this very instant is not yet so.
        if self.done <= t and not self.done == self.over_at == t:
            return 1.0
        return min(self.carried + (t - self.start) / self.seconds / self.factor, 1.0 - 1e-6)

    def finish(self):
        """When the share is 1."""
        return self.done


def marched(clock, bound, track, at, sheets, floor=None, swing_at=inf):
    """The integral of one bound along its track, by the quickest of several sheets."""
    if any(high == 0.0 for points in sheets for _, _, high in points):
        return Over(clock)
    law = Quickest([Law(points, clock.card.adhesive, clock.clock, clock.direction, bound) for points in sheets])
    if law.refused:
        return None
    reach = clock.direction == "must-reach"
    shift = {"safe": -1, "expected": 0, "other": 1}[bound] * (1 if reach else -1)
    until = at if clock.end is None else min(at, clock.end)
    march = March(track, law, shift, floor, swing_at if bound == "safe" else inf, until)
    if bound != "safe":
        return Bound(march, carried=clock.carry[bound])
    sign = 1 if reach else -1
    return Bound(march, 1 + sign * spread(clock.card), 1 + sign * allowance(clock.card), clock.carry[bound])


def credit_floor(card, bound):
    """Items 1 and 3: the temperature (before the error) that a must-reach bound needs."""
    if card.minimum is not None:
        sign = {"safe": 1, "expected": 0, "other": -1}[bound]
        return lambda e: card.minimum + sign * e
    lowest = [at for x in card.limits if x.clock == "clamp" for at, _, _ in x.points]
    if not lowest:
        return None
    lowest = min(lowest)
    sign = {"safe": 0, "expected": 0, "other": -1}[bound]
    return lambda e: lowest + sign * e


def result(clock, bounds, at, mass=None):
    """The answer for one clock. `bounds`: safe, expected, other; None when there is no law. `mass`: in a pot."""
    reach = clock.direction == "must-reach"
    out = {"of": clock.of, "clock": clock.clock, "direction": clock.direction, "started": ms(clock.start)}
    out["ended"] = ms(clock.end) if clock.end is not None and clock.end <= at else None
    if bounds is None:
        out.update(progress=[0, 0.0, 0], instants=[None] * 3)
        out["state"] = "never" if clock.start is None else "ended" if out["ended"] else "held"
        return out
    out["limit"] = sure(clock, clock.points(mass))
    until = at if clock.end is None else min(at, clock.end)
    safe, expected, other = (bounds[b].progress(until) for b in BOUNDS)
    far = horizon(clock.limit.points, at)
    last = far if out["ended"] is None else clock.end
    ends = [bounds[b].finish() for b in BOUNDS]
    ends = [e if e is not None and e <= last else None for e in ends]
    low, high = (safe, other) if reach else (other, safe)
    out["progress"] = [floor(low * 1e6 + 1e-9), expected * 1e6, ceil(high * 1e6 - 1e-9)]
    first, late = (ends[2], ends[0]) if reach else (ends[0], ends[2])
    out["instants"] = [down(first), ms(ends[1]), up(late)]
    out["state"] = state(clock, safe >= 1.0, out, ends)
    return out


def sure(clock, points):
    """Energies in kJ/mol (lowest, middle, highest), points and the name of the band of the law by these points."""
    dried = clock.card.water and clock.clock in ("open", "closed")
    if dried or clock.clock == "fresh-surface":
        return {"energy": None, "points": len(points), "band": "plain time"}
    law = Law(points, clock.card.adhesive, clock.clock, clock.direction, "expected")
    if len(points) == 1:
        found, band = law.energy, "class interval"
    elif len(points) == 2:
        found, band = sorted(fit[2] * R for fit in law.fits), "fitted pair"
    else:
        _, _, slope, s, sxx, _, q = law.line
        found, band = [R * (slope + k * q * s / sqrt(sxx)) for k in (-1, 0, 1)], "95 % band of a new batch"
    return {"energy": [x / 1e3 for x in found], "points": len(points), "band": band}


def state(clock, done, out, ends):
    """Item 16: the first that fits."""
    if done:
        return "reached" if clock.direction == "must-reach" else "over"
    if out["ended"] is not None:
        return "ended"
    if ends[0] is None:
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
    """Temperatures of one book seen at one instant; each track is made once."""

    def __init__(self, book, at, stated=None):
        self.book, self.at, self.cache, self.stated = book, at, {}, stated
        # No estimate looks further.
        self.far = at + DAY + max([7 * DAY] + [6 * high for card in book.cards.values() for limit in card.limits
                                               for _, _, high in limit.points])

    def once(self, key, make):
        """Makes a track once."""
        if key not in self.cache:
            self.cache[key] = make()
        return self.cache[key]

    def air(self, where, direction, bound, hottest=None):
        """Air along `where`, a list of (from, place or None, to)."""
        out = []
        for t0, place, t1 in where:
            place = place or NOWHERE
            key = (id(place), direction, bound, hottest)
            whole = self.once(key, lambda: place.track(View(direction, bound), self.at, self.far, hottest,
                                                          self.stated))
            out += clip(whole, t0, t1)
        return out

    def hottest(self, clock):
        """Item 6: the card's highest point, its application maximum and 30 C (the ends of a gap come on top)."""
        known = [p[0] for p in clock.limit.points if p[0] is not None]
        return max([ROOM] + known + [x for x in clock.card.application[1:] if x is not None])

    def warmer(self, where, clock, bound, warm):
        """A must-not-exceed track: the warmer of the air and a constant."""
        air = self.air(where, "must-not-exceed", bound, self.hottest(clock))
        return raised(air, warm)

    def wood(self, where, bound, w0, tau):
        """Item 8: lower of air and wood, wood, higher of both."""
        air = self.air(where, "must-reach", bound)
        behind = lagged(air, w0, tau)
        if bound == "expected":
            return behind
        return pick(air, behind, lowest=bound == "safe")


NOWHERE = Place()
