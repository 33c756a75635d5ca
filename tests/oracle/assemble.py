"""Which clocks there are, when each starts and ends, and along which temperature it runs."""
from book import Book
from clocks import COLD_WOOD, DIRECTION, Clock, Tracks, credit_floor, horizon, marched, own_start, plain, result
from clocks import BOUNDS, unscaled
from air import lag_seconds
from said import grams

FOUR_HOURS = 4 * 3600.0


def ask(events, at_ms, known_ms=None):
    """Every clock at an instant, as the doors would print it."""
    at = at_ms / 1000
    book = Book(events, at_ms, known_ms if known_ms is not None else float("inf"))
    tracks = Tracks(book, at)
    out = []
    for key, batch in book.batches.items():
        if batch.card and batch.card.limit("pot") and batch.start() is not None:
            out.append(pot(book, tracks, key, batch, at))
    for key, bond in book.bonds.items():
        out += of_bond(book, tracks, key, bond, at)
    return out


def using(book, batch):
    """The bonds that name a batch."""
    return [b for b in book.bonds.values() if batch in b.batches]


def pot_end(book, batch, at):
    """Item 11: pot done, else the last Together of the bonds that name it; later glue reopens it."""
    if batch.pot_done:
        return min(batch.pot_done)
    ends = []
    for bond in using(book, batch):
        last = bond.last("all-tight") if bond.two else (bond.last("together") or bond.last("all-tight"))
        if last is None and bond.first("first-glue-on") is not None:
            return None
        if last is not None:
            ends.append(last)
    return max(ends) if ends else None


def pot_place(book, batch):
    """Where the pot stands: the mix's place, the first bond's, the book's only one."""
    if batch.place:
        return book.places[batch.place]
    for bond in using(book, batch):
        if bond.place:
            return book.places[bond.place]
    return next(iter(book.places.values())) if len(book.places) == 1 else None


def pot(book, tracks, key, batch, at):
    """The pot of one batch."""
    card, limit = batch.card, batch.card.limit("pot")
    clock = Clock(f"batch:{key}", "pot", batch.start(), pot_end(book, batch, at), limit, card)
    mass = 0.0
    for _, mix in batch.mixes:
        mass += sum(grams(mix[c]) or 0.0 for c in ("resin", "hardener") if c in mix)
    if mass:
        clock.scale = min(1.0, (limit.masses[0] / mass) ** (1 / 3))
    far = horizon(limit, at)
    place = pot_place(book, batch)
    warm = pot_warmth(book, batch, clock.start, place, tracks)
    bounds = {}
    for bound in BOUNDS:
        track = tracks.used_up([(clock.start, place, far)], limit, card, bound, far, warm)
        bounds[bound] = marched(clock, bound, track)
    return result(clock, None if bounds["safe"] is None else bounds, at)


def pot_warmth(book, batch, start, place, tracks):
    """The components' own temperature at the start: as typed, else where their cans stand, else the air."""
    from said import kelvin
    typed = [kelvin(m["start_temperature"]) for _, m in batch.mixes if "start_temperature" in m]
    if typed:
        return max(typed)
    stores = {book.cans.get(book.name(c, "container")) for _, m in batch.mixes for c in m.get("containers", [])}
    values = [mean_air(book.places[s], start) for s in stores if s] or [mean_air(place, start) if place else None]
    values = [v for v in values if v is not None]
    return max(values) if values else None


def mean_air(place, t):
    """Mean air of a place at an instant, or None."""
    for p in place.known(t + 1e-6, t + 1e-6, 1):
        if p.t0 <= t <= p.t1:
            return p.at(t)
    return None


def of_bond(book, tracks, key, bond, at):
    """Every clock of one bond."""
    card = next((b.card for b in bond.batches if b.card), None)
    if card is None:
        return []
    out = []
    starts = [b.start() for b in bond.batches if b.start() is not None]
    tight, glue = bond.first("all-tight"), bond.first("first-glue-on")
    coated = [t for t in bond.coats] + ([glue] if glue is not None else [])
    together = bond.first("together")
    instants = {"mixing": min(starts) if starts else None, "spreading": min(coated) if coated else None,
                "closing": together, "pressure": tight}
    out += assembly(book, tracks, key, bond, card, instants, at)
    out += surface(book, key, bond, card, instants, at)
    out += again(book, tracks, key, bond, card, at)
    out += cures(book, tracks, key, bond, card, at)
    return out


def where(book, bond, t0, far):
    """(from, place, to) along the moves."""
    out, t, place = [], t0, bond.place
    if place is None and bond.batches and bond.batches[0].place:
        place = bond.batches[0].place
    for when, to in sorted(bond.moves):
        if when > t:
            out.append((t, book.places.get(place), when))
            t = when
        place = to
    out.append((t, book.places.get(place), far))
    return out


def assembly(book, tracks, key, bond, card, instants, at):
    """Open and closed."""
    tight, together = instants["pressure"], instants["closing"]
    begun = instants["spreading"]
    if begun is None and (together or tight):
        begun = instants["mixing"]
    out, carried = [], None
    limit = card.limit("open")
    if begun is not None and limit:
        end = together if together is not None else tight
        clock = Clock(f"bond:{key}", "open", own_start("open", begun, limit, instants), end, limit, card)
        bounds = timed(book, tracks, bond, clock, at)
        out.append(result(clock, bounds, at))
        if bounds and end is not None:
            carried = {b: bounds[b].progress(end) for b in BOUNDS}
    limit = card.limit("closed")
    if together is not None and limit:
        clock = Clock(f"bond:{key}", "closed", own_start("closed", together, limit, instants), tight, limit, card)
        if card.together and carried:
            clock.carry = carried
        out.append(result(clock, timed(book, tracks, bond, clock, at), at))
    return out


def timed(book, tracks, bond, clock, at):
    """The three bounds of an assembly clock."""
    far = horizon(clock.limit, at)
    if unscaled(clock):
        return water(book, tracks, bond, clock, at, far)
    warm = wood_start(book, bond, at)
    bounds = {}
    for b in BOUNDS:
        track = tracks.used_up(where(book, bond, clock.start, far), clock.limit, clock.card, b, far, warm)
        bounds[b] = marched(clock, b, track)
    return None if bounds["safe"] is None else bounds


def water(book, tracks, bond, clock, at, far):
    """Item 14: plain time inside the stated range, over outside it (reading without error)."""
    card = clock.card
    temps = [p[0] for p in clock.limit.points if p[0] is not None] + [x for x in card.application if x is not None]
    if not temps or (len(set(temps)) == 1):
        return None
    until = at if clock.end is None else min(at, clock.end)
    clock.over_at = outside(book, bond, clock.start, until, min(temps), max(temps), at)
    return {b: plain(clock, b) for b in BOUNDS}


def outside(book, bond, start, until, low, high, at):
    """First instant the mean air leaves a range, or None."""
    from air import clip
    from march import crossings
    for t0, place, t1 in where(book, bond, start, until):
        if place is None or t1 <= t0:
            continue
        for piece in clip(place.known(at, at, 1), t0, t1):
            for p in crossings(piece, [low, high]):
                if not low - 1e-9 <= p.at((p.t0 + p.t1) / 2) <= high + 1e-9:
                    return p.t0
    return None


def surface(book, key, bond, card, instants, at):
    """Fresh surface: plain time from the earliest face to Together."""
    limit = card.limit("fresh-surface")
    faces = []
    for part, mark, _ in bond.joints:
        mine = [t for t, who in book.surfaces if who in ((part, mark), (part, None))]
        if mine:
            faces.append(max(mine))
    if not limit or not faces:
        return []
    end = instants["closing"] if instants["closing"] is not None else instants["pressure"]
    clock = Clock(f"bond:{key}", "fresh-surface", own_start("fresh-surface", min(faces), limit, instants), end, limit, card)
    return [result(clock, {b: plain(clock, b) for b in BOUNDS}, at)]


def again(book, tracks, key, bond, card, at):
    """Glue again: All tight of the layer below to this bond's first glue."""
    below = bond.body.get("layer_below")
    limit = card.limit("glue-again")
    if not below or not limit:
        return []
    below = book.bonds[book.name(below, "bond")]
    start = below.first("all-tight")
    if start is None:
        return []
    clock = Clock(f"bond:{key}", "glue-again", start, bond.first("first-glue-on"), limit, card)
    return [result(clock, timed(book, tracks, below, clock, at), at)]


def wood_start(book, bond, before):
    """Temperature the wood starts from, or None: as typed, measured within four hours, the store's air."""
    from said import kelvin
    if "wood_temperature" in bond.body:
        return kelvin(bond.body["wood_temperature"])
    near = [(t, k) for t, place, k in book.wood if place == bond.place and before - FOUR_HOURS <= t <= before]
    if near:
        return max(near)[1]
    if "stored" in bond.body:
        return mean_air(book.places[book.name(bond.body["stored"], "place")], before)
    return None


def cure_limit(card, clock, bent):
    """Item 15: a bent joint falls back to machining, then full cure."""
    if clock != "clamp":
        return card.limit(clock)
    if not bent:
        return card.limit("clamp")
    return card.limit("clamp", True) or card.limit("machining") or card.limit("full-cure")


def stretches_under_pressure(bond, start, far):
    """Item 13: re-tightening starts anew; clamp lost stops until then."""
    lost = [t for t, p in bond.presses if p == "clamp-lost"]
    again_ = [t for t, p in bond.presses if p == "re-tightened"]
    begin = max([start] + again_)
    after = [t for t in lost if t >= begin]
    return begin, (min(after) if after else far)


def cures(book, tracks, key, bond, card, at):
    """Clamp, machining, full cure."""
    tight = bond.first("all-tight")
    if tight is None:
        return []
    out = []
    for name in ("clamp", "machining", "full-cure"):
        limit = cure_limit(card, name, bond.bent)
        if not limit:
            continue
        far = horizon(limit, at)
        begin, stop = stretches_under_pressure(bond, tight, far)
        end = bond.first("first-clamp-off") if name == "clamp" else bond.first("used")
        clock = Clock(f"bond:{key}", name, begin, end, limit, card)
        out.append(result(clock, cure_bounds(book, tracks, bond, clock, tight, stop, far, at), at))
    return out


def cure_bounds(book, tracks, bond, clock, tight, stop, far, at):
    """The three bounds along air and wood."""
    from air import clip
    w0 = wood_start(book, bond, tight)
    tau = lag_seconds(book.thickness(bond))
    bounds = {}
    for b in BOUNDS:
        track = tracks.wood(where(book, bond, tight, far), b, far, tight, COLD_WOOD if w0 is None else w0, tau)
        track = clip(track, clock.start, stop)
        bounds[b] = marched(clock, b, track, credit_floor(clock.card, b))
    return None if bounds["safe"] is None else bounds
