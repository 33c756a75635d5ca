"""Which clocks there are, when each starts and ends, and along which temperature it runs."""
from math import inf

from air import clip, lag_seconds
from book import Book
from clocks import BOUNDS, COLD_WOOD, SWING, Clock, Plain, Tracks, credit_floor, marched, own_start, result
from march import crossings, swing
from said import grams, kelvin

FOUR_HOURS = 4 * 3600.0


def ask(events, at_ms, known_ms=None):
    """Every clock at an instant, as the doors would print it."""
    at = at_ms / 1000
    book = Book(events, at_ms, known_ms if known_ms is not None else inf)
    tracks = Tracks(book, at)
    out = []
    for key, batch in book.batches.items():
        if batch.start() is not None:
            out += pot(book, tracks, key, batch, at)
    for key, bond in book.bonds.items():
        out += of_bond(book, tracks, key, bond, at)
    return out


def pot_end(book, batch):
    """Item 11: pot done, else the last Together of the bonds that name it; later glue reopens it."""
    done = max(batch.pot_done) if batch.pot_done else None
    end = done
    for bond in [b for b in book.bonds.values() if batch in b.batches]:
        on, joined = bond.glue_on(), bond.joined()
        begun = on if on is not None else joined
        if begun is None or (done is not None and begun <= done):
            continue
        if joined is None:
            return None
        end = joined if end is None else max(end, joined)
    return end


def pot_place(book, batch):
    """Where the pot stands: the mix's place, the first bond's, the book's only one."""
    if batch.place:
        return book.places[batch.place]
    for bond in [b for b in book.bonds.values() if batch in b.batches]:
        if bond.place:
            return book.places[bond.place]
    return next(iter(book.places.values())) if len(book.places) == 1 else None


def pot_mass(batch):
    """Grams in the pot, top-ups included; None when something was not weighed."""
    parts = [grams(m[c]) if c in m else None for _, m in batch.mixes for c in ("resin", "hardener")]
    return None if not parts or None in parts else sum(parts)


def pot(book, tracks, key, batch, at):
    """The pot of one batch."""
    card = batch.card
    limit = card.limit("pot") if card else None
    clock = Clock(f"batch:{key}", "pot", batch.start(), pot_end(book, batch), limit, card)
    if limit is None:
        return [result(clock, None, at)]
    place = pot_place(book, batch)
    warm = pot_warmth(book, batch, clock.start, place, at)
    where = [(clock.start, place, inf)]
    air = {b: tracks.warmer(where, clock, b, warm) for b in BOUNDS}
    return [result(clock, integrate(clock, air, at, clock.points(pot_mass(batch))), at)]


def integrate(clock, air, at, points, floor=lambda bound: None, swing_at=None):
    """The three bounds along their tracks, or None without a law."""
    if swing_at is None:
        swing_at = swing([air["safe"], air["other"]], SWING)
    bounds = {b: marched(clock, b, air[b], at, points, floor(b), swing_at) for b in BOUNDS}
    return None if bounds["safe"] is None else bounds


def pot_warmth(book, batch, start, place, at):
    """The components' own temperature at the start: as typed, else where their cans stand, else the air."""
    typed = [kelvin(m["start_temperature"]) for _, m in batch.mixes if "start_temperature" in m]
    if typed:
        return max(typed)
    cans = {book.name(c, "container") for _, m in batch.mixes for c in m.get("containers", [])}
    values = [book.places[book.cans[c]].mean(start, at) for c in cans if book.cans.get(c)]
    values = [v for v in values if v is not None]
    if not values and place:
        values = [v for v in [place.mean(start, at)] if v is not None]
    return max(values) if values else None


def of_bond(book, tracks, key, bond, at):
    """Every clock of one bond."""
    card = next((b.card for b in bond.batches if b.card), None)
    starts = [b.start() for b in bond.batches if b.start() is not None]
    instants = {"mixing": min(starts) if starts else None, "spreading": bond.glue_on(),
                "closing": bond.first("together")}
    out = []
    if card:
        out += assembly(book, tracks, key, bond, card, instants, at)
        out += surface(book, key, bond, card, at)
        out += again(book, tracks, key, bond, card, at)
    return out + cures(book, tracks, key, bond, card, at)


def where(book, bond, t0):
    """(from, place, to) along the moves."""
    out, t, place = [], t0, bond.place
    if place is None:
        place = next((b.place for b in bond.batches if b.place), None)
    for when, to in sorted(bond.moves):
        if when > t:
            out.append((t, book.places.get(place), when))
            t = when
        place = to
    out.append((t, book.places.get(place), inf))
    return out


def assembly(book, tracks, key, bond, card, instants, at):
    """Open and closed."""
    joined, together = bond.joined(), instants["closing"]
    begun = instants["spreading"]
    if begun is None and joined is not None:
        begun = instants["mixing"]
    out, carried = [], None
    limit = card.limit("open")
    if begun is not None and limit:
        clock = Clock(f"bond:{key}", "open", own_start(begun, limit, instants), joined, limit, card)
        bounds = timed(book, tracks, bond, clock, at)
        out.append(result(clock, bounds, at))
        if bounds and joined is not None:
            carried = {b: bounds[b].progress(joined) for b in BOUNDS}
    limit = card.limit("closed")
    if together is not None and limit and not bond.two:
        end = next((t for t in map(bond.first, ("all-tight", "first-clamp-off", "used")) if t is not None), None)
        clock = Clock(f"bond:{key}", "closed", own_start(together, limit, instants), end, limit, card)
        if card.together and carried and clock.start == together:
            clock.carry = carried
        out.append(result(clock, timed(book, tracks, bond, clock, at), at))
    return out


def timed(book, tracks, bond, clock, at):
    """The three bounds of an assembly clock."""
    tight = bond.first("all-tight")
    warm = wood_start(book, bond, at if tight is None else tight, at) if clock.clock != "glue-again" else None
    if clock.card.water and clock.clock in ("open", "closed"):
        return water(book, tracks, bond, clock, warm)
    if any(p[0] is None for p in clock.limit.points):
        return None
    air = {b: tracks.warmer(where(book, bond, clock.start), clock, b, warm) for b in BOUNDS}
    return integrate(clock, air, at, clock.limit.points)


def water(book, tracks, bond, clock, warm):
    """Item 14: plain time inside the stated range, over outside it (reading without error)."""
    card = clock.card
    temps = [p[0] for p in clock.limit.points if p[0] is not None] + [x for x in card.application if x is not None]
    if not temps or len(set(temps)) == 1:
        return None
    low, high = min(temps), max(temps)
    out = []
    for bound in ("safe", "other"):
        for piece in tracks.warmer(where(book, bond, clock.start), clock, bound, warm):
            if piece.kind == "reading":
                out += [p.t0 for p in crossings(piece, [low, high])
                        if not low - 1e-9 <= p.at((p.t0 + p.t1) / 2) <= high + 1e-9]
    clock.over_at = min(out) if out else None
    return {b: Plain(clock, b) for b in BOUNDS}


def surface(book, key, bond, card, at):
    """Fresh surface: plain time from the earliest face to Together."""
    limit = card.limit("fresh-surface")
    joined = bond.joined()
    until = next((t for t in (bond.glue_on(), joined) if t is not None), inf)
    faces = []
    for part, mark, _ in bond.joints:
        mine = [t for t, who in book.surfaces if who in ((part, mark), (part, None)) and t <= until]
        if mine:
            faces.append(max(mine))
    if not limit or not faces:
        return []
    clock = Clock(f"bond:{key}", "fresh-surface", min(faces), joined, limit, card)
    return [result(clock, {b: Plain(clock, b) for b in BOUNDS}, at)]


def again(book, tracks, key, bond, card, at):
    """Glue again: All tight of the layer below to this bond's first glue."""
    below = bond.body.get("layer_below")
    limit = card.limit("glue-again")
    if not below or not limit:
        return []
    below = book.bonds[book.name(below, "bond")]
    start = below.tight()
    if start is None:
        return []
    end = bond.glue_on() if bond.glue_on() is not None else bond.joined()
    clock = Clock(f"bond:{key}", "glue-again", start, end, limit, card)
    return [result(clock, timed(book, tracks, below, clock, at), at)]


def wood_start(book, bond, before, at):
    """Temperature the wood starts from, or None: as typed, measured within four hours, the store's air."""
    if "wood_temperature" in bond.body:
        return kelvin(bond.body["wood_temperature"])
    place = where(book, bond, before)[0][1]
    near = [(t, k) for t, p, k in book.wood if book.places[p] is place and before - FOUR_HOURS <= t <= before]
    if near:
        return max(near)[1]
    if "stored" in bond.body:
        return book.places[book.name(bond.body["stored"], "place")].mean(before, at)
    return None


def cure_limit(card, clock, bent):
    """Item 15: a bent joint falls back to machining, then full cure."""
    if not card:
        return None
    if clock != "clamp":
        return card.limit(clock)
    if not bent:
        return card.limit("clamp")
    return card.limit("clamp", True) or card.limit("machining") or card.limit("full-cure")


def cures(book, tracks, key, bond, card, at):
    """Clamp, machining, full cure."""
    out = []
    for name in ("clamp", "machining", "full-cure"):
        limit = cure_limit(card, name, bond.bent)
        if not limit and name != "clamp":
            continue
        clock = Clock(f"bond:{key}", name, bond.tight(), cure_end(bond, name), limit, card)
        if limit is None or clock.start is None:
            out.append(result(clock, None, at))
            if limit is None and bond.bent and out[-1]["state"] == "held":
                out[-1]["state"] = "never"
            continue
        out.append(result(clock, cure_bounds(book, tracks, bond, clock, at), at))
    return out


def cure_end(bond, name):
    """First clamp off since it was tight; planing, loading, shipping; loading and shipping."""
    if name == "clamp":
        tight = max(bond.tightenings(), default=-inf)
        return min((t for t, p in bond.presses if p == "first-clamp-off" and t >= tight), default=None)
    return min((t for t, how in bond.uses if name == "machining" or how != "planed"), default=None)


def cure_bounds(book, tracks, bond, clock, at):
    """The three bounds along air and wood, which lags from the first All tight on."""
    first = bond.first("all-tight")
    first = clock.start if first is None else first
    w0 = wood_start(book, bond, first, at)
    w0 = COLD_WOOD if w0 is None else w0
    tau = lag_seconds(book.thickness(bond))
    tracks_of = {b: tracks.once((bond.key, b), lambda b=b: tracks.wood(where(book, bond, first), b, w0, tau))
                 for b in BOUNDS}
    air = {b: tracks.once((bond.key, clock.start, b), lambda b=b: clip(tracks_of[b], clock.start, inf)) for b in BOUNDS}
    swing_at = tracks.once((bond.key, clock.start), lambda: swing([air["safe"], air["other"]], SWING))
    return integrate(clock, air, at, clock.limit.points, lambda b: credit_floor(clock.card, b), swing_at)
