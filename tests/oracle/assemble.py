"""Which clocks there are, when each starts and ends, and along which temperature it runs."""
from math import inf

from air import clip, lag_seconds, lagged
from book import Book
from carried import Age, Met, pot_share
from forecast import held
from clocks import (BOUNDS, COLD_WOOD, SWING, Clock, Plain, Tracks, credit_floor, horizon, marched, own_start,
                    result, up)
from march import crossings, swing
from said import grams, kelvin

FOUR_HOURS, THREE_DAYS = 4 * 3600.0, 72 * 3600.0


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
    where = [(clock.start, place, looked_at(clock, at))]
    air = {b: tracks.warmer(where, clock, b, warm) for b in BOUNDS}
    mass = pot_mass(batch)
    met = place.mean(clock.start, at) if place else None
    begins = max(x for x in (warm, tracks.hottest(clock) if met is None else met) if x is not None)
    # No longer than what the mass leaves of the sheet's time, and what the pot's own heat does.
    share = pot_share(card, limit, mass, begins) if all(p[0] is not None for p in limit.points) else 1.0
    safe = [clock.points(mass)]
    if share < 1.0:
        safe.append([(k, low * share, high * share) for k, low, high in limit.points])
    return [result(clock, integrate(clock, air, at, clock.points(mass), safe=safe), at, mass)]


def integrate(clock, air, at, points, floor=lambda bound: None, swing_at=None, safe=None, which=BOUNDS):
    """The three bounds (or `which`) along their tracks, or None without a law. `safe`: sheets whose quickest is the
    safe bound's, if not the points."""
    if swing_at is None:
        swing_at = swing([air["safe"], air["other"]], SWING)
    bounds = {b: marched(clock, b, air[b], at, safe if safe and b == "safe" else [points], floor(b), swing_at)
              for b in which}
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


def looked_at(clock, at):
    """Until when a clock needs to know the air."""
    return clock.end if clock.end is not None and clock.end <= at else horizon(clock.limit.points, at) + 1.0


def where(book, bond, t0, far=inf):
    """(from, place, to) along the moves, up to `far`."""
    out, t, place = [], t0, bond.place
    if place is None:
        place = next((b.place for b in bond.batches if b.place), None)
    for when, to in sorted(bond.moves):
        if when > t:
            out.append((t, book.places.get(place), when))
            t = when
        place = to
    out.append((t, book.places.get(place), inf))
    return [(t0, place, min(t1, far)) for t0, place, t1 in out if t0 < far]


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
        bounds = timed(book, tracks, bond, clock, at, instants["spreading"])
        out.append(result(clock, bounds, at))
        if bounds and joined is not None:
            carried = {b: bounds[b].progress(joined) for b in BOUNDS}
    limit = card.limit("closed")
    if together is not None and limit and not bond.two:
        end = next((t for t in map(bond.first, ("all-tight", "first-clamp-off", "used")) if t is not None), None)
        clock = Clock(f"bond:{key}", "closed", own_start(together, limit, instants), end, limit, card)
        if card.together and carried and clock.start == together:
            clock.carry = carried
        out.append(result(clock, timed(book, tracks, bond, clock, at, instants["spreading"]), at))
    return out


def timed(book, tracks, bond, clock, at, spread=None):
    """The three bounds of an assembly clock. `spread`: when the first glue was on, if the age of the mix counts."""
    tight = bond.first("all-tight")
    warm = wood_start(book, bond, at if tight is None else tight, at)[1] if clock.clock != "glue-again" else None
    if clock.card.water and clock.clock in ("open", "closed"):
        return water(book, tracks, bond, clock, warm, at)
    if any(p[0] is None for p in clock.limit.points):
        return None
    path = where(book, bond, clock.start, looked_at(clock, at))
    air = {b: tracks.warmer(path, clock, b, warm) for b in BOUNDS}
    share = left(book, tracks, bond, clock, at, spread)
    safe = [(k, low * share, high * share) for k, low, high in clock.limit.points]
    return integrate(clock, air, at, clock.limit.points, safe=[safe])


def left(book, tracks, bond, clock, at, spread):
    """Share of a clock's safe limit that the age of the oldest mix leaves."""
    old = [b for b in bond.batches if b.start() is not None]
    if spread is None or not old:
        return 1.0
    batch = min(old, key=lambda b: b.start())
    if not batch.card or not batch.card.limit("pot"):
        return 1.0
    place = pot_place(book, batch)
    of_pot = Clock(None, "pot", batch.start(), None, batch.card.limit("pot"), batch.card)
    in_pot = Met(tracks, [(-inf, place, inf)], tracks.hottest(of_pot))
    age = Age(batch, pot_mass(batch), spread, in_pot, pot_warmth(book, batch, batch.start(), place, at))
    return age.share(clock)


def water(book, tracks, bond, clock, warm, at):
    """Item 14: plain time inside the stated range, over outside it (reading without error)."""
    card = clock.card
    temps = [p[0] for p in clock.limit.points if p[0] is not None] + [x for x in card.application if x is not None]
    if not temps or len(set(temps)) == 1:
        return None
    low, high = min(temps), max(temps)
    out = []
    for bound in ("safe", "other"):
        for piece in tracks.warmer(where(book, bond, clock.start, looked_at(clock, at)), clock, bound, warm):
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
    """Lowest and highest temperature the wood may start from, or None twice: as typed, measured within four hours, what
    it was where it was stored."""
    if "wood_temperature" in bond.body:
        return (kelvin(bond.body["wood_temperature"]),) * 2
    place = where(book, bond, before)[0][1]
    near = [(t, k) for t, p, k in book.wood if book.places[p] is place and before - FOUR_HOURS <= t <= before]
    if near:
        return (max(near)[1],) * 2
    if "stored" in bond.body:
        store = book.places[book.name(bond.body["stored"], "place")]
        return stored(store, lag_seconds(book.thickness(bond)), before, at)
    return None, None


def stored(store, tau, before, at):
    """Lower and higher of the store's air and of wood that has lain behind it for three days."""
    air, since = store.mean(before, at), before - THREE_DAYS
    track = store.mean_track(since, before, at)
    # As warm as the air three days before, or as the first reading after that.
    begins = [(since, track[0].a)] if track and track[0].kind == "reading" else []
    for source in store.sources.values():
        begins += [(k[0], k[2]) for k in source.knots if since <= k[0] <= min(before, at)]
    if air is None or not begins:
        return air, air
    t0, wood = min(begins, key=lambda x: x[0])
    rest = clip(track, t0, before)
    wood = lagged(rest, wood, tau)[-1].at(before) if rest else wood
    return min(wood, air), max(wood, air)


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
        bounds = cure_bounds(book, tracks, bond, clock, at)
        out.append(result(clock, bounds, at))
        if bounds and out[-1]["state"] in ("running", "never"):
            latest = bounds["safe"].finish() if out[-1]["instants"][2] is not None else inf
            out[-1]["helps"] = helps(book, tracks, bond, clock, at, latest)
    return out


def helps(book, tracks, bond, clock, at, latest):
    """(kelvin, latest ms, certain) of each temperature, coldest first, that brings the safe bound to its end sooner than
    what is told if it is held from now on: of the card's clamp points, 18 and 20 C. Not certain: it ends as soon as what
    is told, to a second, or lies so near the border of credit that wood creeps up to it for ever."""
    card = clock.card
    own = [p[0] for x in card.limits if x.clock == "clamp" for p in x.points if p[0] is not None]
    least = card.minimum if card.minimum is not None else min(own, default=0.0)
    most = card.maximum if card.maximum is not None else inf
    out = []
    for kelvins in sorted(set(own + [291.15, 293.15])):
        if least <= kelvins <= most:
            warm = tracks.once(("held", kelvins), lambda k=kelvins: Tracks(book, at, held(k)))
            bounds = cure_bounds(book, warm, bond, clock, at, ["safe"])
            end = bounds["safe"].finish() if bounds else None
            border = abs(kelvins - credit_floor(card, "safe")(1.0)) < 1e-6
            if border or (end is not None and end <= horizon(clock.limit.points, at) and end < latest + 1.0):
                out.append([kelvins, up(end), not border and end < latest - 1.0])
        if len([x for x in out if x[2]]) == 2:
            break
    return out


def cure_end(bond, name):
    """First clamp off since it was tight; planing, loading, shipping; loading and shipping."""
    if name == "clamp":
        tight = max(bond.tightenings(), default=-inf)
        return min((t for t, p in bond.presses if p == "first-clamp-off" and t >= tight), default=None)
    return min((t for t, how in bond.uses if name == "machining" or how != "planed"), default=None)


def cure_bounds(book, tracks, bond, clock, at, which=BOUNDS):
    """The three bounds along air and wood, which lags from the first All tight on."""
    first = bond.first("all-tight")
    first = clock.start if first is None else first
    w0 = wood_start(book, bond, first, at)[0]
    w0 = COLD_WOOD if w0 is None else w0
    tau = lag_seconds(book.thickness(bond))
    tracks_of = {b: tracks.once((bond.key, b), lambda b=b: tracks.wood(where(book, bond, first), b, w0, tau))
                 for b in BOUNDS if b in which or b == "other"}
    far = looked_at(clock, at)
    air = {b: clip(track, clock.start, far) for b, track in tracks_of.items()}
    swing_at = swing([air["safe"], air["other"]], SWING)
    return integrate(clock, air, at, clock.limit.points, lambda b: credit_floor(clock.card, b), swing_at,
                     which=which)
