"""The pot's model on the safe bound: how it shortens a pot life, and what age of the mix open and closed time inherit.

Written from docs/science/clocks.md and docs/science/pot.md. Temperatures in kelvin, times in seconds, shares of one.
"""
import pot
from air import clip
from clocks import DIRECTION
from law import Law


def ppm(share):
    """To the nearest millionth."""
    return round(share * 1e6) / 1e6


def sheet_point(limit, mass):
    """(grams, kelvin, seconds) of the pot's point nearest in mass, the first of equals."""
    points = [(grams, p[0], p[1]) for p, grams in zip(limit.points, limit.masses) if p[0] is not None]
    return min(points, key=lambda p: abs(p[0] - mass)) if points else None


def modelled(card):
    """Only an epoxy that does not set by drying."""
    return card.adhesive == "epoxy" and not card.water


def rates(card, point):
    """Rates that give this point of the sheet and, if it fits, the card's film."""
    return pot.calibrated(*point, *(card.film or (None, None)))


def law_safe(points, card, clock):
    """Seconds of the sheet's safe bound at a temperature, as a function; None without a law."""
    law = Law(points, card.adhesive, clock, DIRECTION[clock], "safe")
    return None if law.refused else law.seconds


def pot_share(card, limit, mass, at):
    """Share of the sheet's safe time that the model leaves a pot of this mass from `at`; 1 without a model."""
    mass = 100.0 if mass is None else mass
    point = sheet_point(limit, mass)
    if not modelled(card) or not point:
        return 1.0
    k = rates(card, point)
    sheet = law_safe(limit.points, card, "pot")
    if not k or not sheet:
        return 1.0
    here, there = pot.working(*k, mass, at), pot.working(*k, point[0], point[1])
    if here is None or not there:
        return 1.0
    return ppm(min(1.0, here / there * point[2] / sheet(at)))


class Met:
    """Air met along a path of (from, place, to), by means with the reading's error."""

    def __init__(self, tracks, where, hottest):
        self.tracks, self.where, self.hottest = tracks, where, hottest

    def highest(self, t0, t1):
        """Highest mean with its error; the hottest taken where nobody read."""
        return max(max(p.at(p.t0), p.at(p.t1)) + (p.e if p.kind == "reading" else 0.0)
                   for p in self.pieces("must-not-exceed", t0, t1))

    def lowest(self, t0, t1):
        """Lowest mean less its error; 0 K, which means the law's cap, where nobody read."""
        return min(min(p.at(p.t0), p.at(p.t1)) - p.e if p.kind == "reading" else 1.0
                   for p in self.pieces("must-not-exceed", t0, t1))

    def pieces(self, direction, t0, t1):
        """Expected air between two instants, at least an instant of it."""
        air = self.tracks.air(self.where, direction, "expected", self.hottest)
        return clip(air, t0, max(t1, t0 + 1e-4))


class Age:
    """The mix of a bond's oldest batch when it was spread."""

    def __init__(self, batch, mass, spread, met, warm):
        """`spread`: instant of the first glue; `met`: the pot's air; `warm`: the components."""
        self.met = met
        self.batch, self.since, self.spread = batch, batch.start(), spread
        self.mass = 100.0 if mass is None else mass
        self.hottest = met.highest(self.since, max(spread, self.since))
        if warm is not None:
            self.hottest = max(self.hottest, warm)
        limit = batch.card.limit("pot")
        self.point = sheet_point(limit, self.mass) if limit else None
        self.k = rates(batch.card, self.point) if self.point and modelled(batch.card) else None

    def share(self, clock):
        """Share of the clock's safe limit that the mix has left; 1 where nothing is known."""
        sheet = law_safe(clock.points(), clock.card, clock.clock)
        own = [p for p in clock.limit.points if p[0] is not None]
        if not self.k or not sheet or not own or self.spread <= self.since:
            return 1.0
        at, seconds, _ = min(own, key=lambda p: abs(p[0] - self.hottest))
        enough = max(pot.WORK, pot.conversion(*self.k, at, seconds))
        film = lambda a: pot.isothermal(*self.k, at, a)
        a = pot.reacted(*self.k, self.mass, self.hottest, max(0.0, self.spread - self.since), enough)
        g, used = film(enough) / seconds, min(1.0, film(a) / film(enough))
        before = 0.0
        if clock.start < self.spread:
            before = (self.spread - clock.start) / sheet(self.met.lowest(clock.start, self.spread))
        elif clock.start > self.spread:
            used += (clock.start - self.spread) / (g * sheet(self.hottest))
        return ppm(min(1.0, max(0.0, before + g * (1.0 - used))))
