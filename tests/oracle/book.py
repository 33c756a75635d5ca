"""Replays the acts that were sent, with their receipts, into what the clocks need.

An event is {"act": <the act as sent>, "receipt": <its receipt>, "t": <ms it happened>, "entered": <ms>}; a
readings-file event also has "rows": [[ms, "21.5 C"], …], the logger's lines. "zone_min": the shop's zone, else UTC.
"""
from air import Place
from forecast import Forecast
from said import difference, grams, instant, kelvin, metres, seconds, utc


class Card:
    """An adhesive card as typed."""

    def __init__(self, body):
        self.adhesive = body["class"]
        self.origin = body.get("origin", "sheet")
        self.together = body.get("together", False)
        self.minimum = kelvin(body["minimum_cure"]) if "minimum_cure" in body else None
        app = [body.get("application_minimum"), body.get("application_maximum")]
        self.application = [kelvin(x) if x else None for x in app]
        self.maximum = kelvin(body["maximum_cure"]) if "maximum_cure" in body else None
        self.film = None  # (kelvin, seconds) of a film's gel time
        if "film_gel" in body:
            self.film = kelvin(body["film_gel"]["at"]), seconds(body["film_gel"]["time"])[0]
        self.water = body.get("water_borne", body["class"] in ("urea", "casein", "resorcinol", "pva"))
        self.limits = [Limit(x) for x in body["limits"]]

    def limit(self, clock, bent=False):
        """The card's limit for a clock, plain or for bent joints."""
        for x in self.limits:
            if x.clock == clock and x.bent == bent:
                return x
        return None


class Limit:
    """One time of a card."""

    def __init__(self, body):
        self.clock, self.bent = body["clock"], body.get("bent", False)
        self.counted_from = body.get("counted_from")
        self.points = []
        self.masses = []
        for p in body["points"]:
            low, high = seconds(p["time"])
            self.points.append((kelvin(p["at"]) if "at" in p else None, low, high))
            self.masses.append(grams(p["mass"]) if "mass" in p else 100.0)


class Batch:
    """Presses and amounts of one pot."""

    def __init__(self):
        self.card = None
        self.hardener_in, self.mixes, self.pot_done, self.place = [], [], [], None

    def start(self):
        """Hardener first in, of the oldest component."""
        return min(self.hardener_in or [t for t, _ in self.mixes], default=None)


class Bond:
    """Presses and places of one bond."""

    def __init__(self, body, t):
        self.body, self.made = body, t
        self.batches, self.joints = [], []
        self.presses = []  # (t, press)
        self.moves, self.coats, self.uses = [], [], []
        self.place = body.get("place")
        self.bent, self.two = body.get("bent", False), False

    def first(self, press):
        """First instant of a press, or None."""
        times = [t for t, p in self.presses if p == press]
        return min(times) if times else None

    def last(self, press):
        """Last instant of a press, or None."""
        times = [t for t, p in self.presses if p == press]
        return max(times) if times else None


    def glue_on(self):
        """First glue on wood, a coat included."""
        on = self.first("first-glue-on")
        return min(self.coats + ([on] if on is not None else []), default=None)

    def joined(self):
        """Together (two-press joints: All tight), else whatever press shows that it was."""
        last = None if self.two else self.last("together")
        for t in [last] + [self.first(p) for p in ("all-tight", "first-clamp-off", "used")]:
            if t is not None:
                return t
        return None

    def tightenings(self):
        """All tight and every re-tightening."""
        return [t for t, p in self.presses if p in ("all-tight", "re-tightened")]

    def tight(self):
        """Item 13: where must-reach clocks count from; None while a clamp is lost."""
        tight = max(self.tightenings(), default=None)
        lost = self.last("clamp-lost")
        return None if tight is None or (lost is not None and lost > tight) else tight


class Book:
    """Everything seen from one instant: what happened until `at` among what was entered until `known`."""

    def __init__(self, events, at, known):
        self.places, self.cards, self.lots, self.cans = {}, {}, {}, {}
        self.instruments, self.kinds, self.parts = {}, {}, {}
        self.batches, self.bonds, self.ids, self.surfaces = {}, {}, {}, []
        self.wood = []  # (t, place, kelvin)
        for e in settled(events, at, known):
            name = "_" + e["act"]["act"].replace("-", "_")
            self.zone = e.get("zone_min", 0) * 60.0
            if hasattr(self, name):
                getattr(self, name)(e["act"]["body"], e["t"] / 1000, e["receipt"])

    def id_of(self, receipt, kind):
        """The id of the receipt's entry of a kind."""
        return next(x["id"] for x in receipt["entries"] if x["kind"] == kind)

    def name(self, key, what):
        """Resolves a name or an id."""
        return self.ids.get((what, key), key)

    def _place(self, body, t, receipt):
        key = self.id_of(receipt, "place")
        self.ids["place", body["name"]] = key
        self.places[key] = Place()

    def _instrument(self, body, t, receipt):
        key = self.id_of(receipt, "instrument")
        self.ids["instrument", body["name"]] = key
        accuracy = body.get("accuracy", [])
        for text in [accuracy] if isinstance(accuracy, str) else accuracy:
            if text.strip()[-1] in "KCF":
                self.instruments[key] = text

    def _card(self, body, t, receipt):
        key = self.id_of(receipt, "card")
        self.ids["card", body["name"]] = key
        self.cards[key] = Card(body)

    def _container(self, body, t, receipt):
        key = self.id_of(receipt, "container")
        self.ids["container", body["mark"]] = key
        self.cans[key] = self.name(body["stored"], "place") if "stored" in body else None

    def _kind(self, body, t, receipt):
        self.kinds[body["mark"]] = body

    def _set(self, body, t, receipt):
        for mark in body["marks"]:
            self.parts[mark] = {"kind": body["kind"], "joints": {}}

    def _part(self, body, t, receipt):
        self.parts[body["mark"]] = {"kind": None, "joints": {}}

    def _joint(self, body, t, receipt):
        self.parts[body["part"]]["joints"][body["mark"]] = body

    def error(self, body):
        """The reading's error: the instrument's own accuracy, else 1 K; and the source's name."""
        if "instrument" not in body:
            return None, 1.0
        key = self.name(body["instrument"], "instrument")
        return key, difference(self.instruments[key]) if key in self.instruments else 1.0

    def _reading(self, body, t, receipt):
        key = self.name(body["place"], "place")
        place = self.places[key]
        name, error = self.error(body)
        src = place.source(name or "hand", error)
        value = kelvin(body["temperature"])
        before = [x for x in place.by_hand if x < t]
        place.by_hand.append(t)
        src.knots.append((t, value, value, value))
        since = body.get("lowest_since")
        if isinstance(since, str) and "T" in since:
            src.lowest.append((instant(since), t, value))
        elif isinstance(since, str):
            if before:
                src.lowest.append((max(before), t, kelvin(since)))
        elif since:
            src.lowest.append((instant(since["since"]), t, kelvin(since["temperature"])))
        wood = body.get("wood")
        wood = wood.get("temperature") if isinstance(wood, dict) else wood
        if wood and wood.strip()[-1] in "CFK":
            self.wood.append((t, key, kelvin(wood)))

    def _readings_file(self, body, t, receipt):
        place = self.places[self.name(body["place"], "place")]
        name, error = self.error(body)
        src = place.source(name or "logger", error)
        minutes = {}
        for ms, text in body["rows"]:
            minutes.setdefault(ms // 60000 * 60, []).append(kelvin(text))
        for m, values in minutes.items():
            mean = sum(values) / len(values)
            src.knots.append((float(m), min(values), mean, max(values)))

    def _forecast(self, body, t, receipt):
        place = self.places[self.name(body["place"], "place")]
        place.forecasts.append(Forecast(body, t, self.zone))
        place.forecasts.sort(key=lambda x: x.made)

    def _vouch(self, body, t, receipt):
        place = self.places[self.name(body["place"], "place")]
        start = instant(body["from"]) if "from" in body else t
        place.floors.append((start, instant(body["until"]), kelvin(body["floor"])))

    def batch_of(self, body, receipt, t):
        """The batch an act names or makes. Its name is unique in its local day; the tests' zone is UTC."""
        made = [x["id"] for x in receipt["entries"] if x["kind"] == "batch"]
        key = made[0] if made else self.name(body["batch"], "batch")
        if made:
            self.batches[key] = Batch()
            if "batch" in receipt["made"]:
                name = receipt["made"]["batch"]
                self.ids["batch", name] = self.ids["batch", f"{name} {utc(t * 1000)[:10]}"] = key
        return self.batches[key]

    def _mix(self, body, t, receipt):
        batch = self.batch_of(body, receipt, t)
        batch.card = self.cards[self.name(body["card"], "card")]
        batch.place = self.name(body["place"], "place") if "place" in body else batch.place
        batch.mixes.append((t, body))

    _top_up = _mix

    def _bond(self, body, t, receipt):
        key = self.id_of(receipt, "bond")
        bond = Bond(body, t)
        bond.key = key
        self.bonds[key] = bond
        self.ids["bond", receipt["made"]["bond"]] = key
        bond.batches = [self.batches[self.name(b, "batch")] for b in body["batches"]]
        bond.place = self.name(bond.place, "place") if bond.place else None
        bond.joints = list(self.joints_of(body))
        kinds = [self.kinds[self.parts[p]["kind"]] for p, _, _ in bond.joints if self.parts[p]["kind"]]
        bond.two = body.get("presses", kinds[0].get("presses", 6) if kinds else 6) == 2
        bond.bent = body["bent"] if "bent" in body else any(k.get("bent") for k in kinds)

    def joints_of(self, body):
        """(part, mark, thickness) of each joint of a bond."""
        for joint in body.get("joints", []):
            part, mark = joint.split("/")
            yield part, mark, self.joint(part, mark).get("thickness")
        for part in body.get("parts", []):
            kind = self.kinds[self.parts[part]["kind"]]
            for stage in kind["stages"]:
                if body.get("stage", stage["mark"]) == stage["mark"]:
                    for j in stage["joints"]:
                        yield part, j["mark"], j.get("thickness")

    def joint(self, part, mark):
        """One joint as typed."""
        if mark in self.parts[part]["joints"]:
            return self.parts[part]["joints"][mark]
        kind = self.kinds[self.parts[part]["kind"]]
        return next(j for s in kind["stages"] for j in s["joints"] if j["mark"] == mark)

    def _press(self, body, t, receipt):
        if body["press"] == "hardener-in":
            self.batch_of(body, receipt, t).hardener_in.append(t)
        elif body["press"] == "pot-done":
            self.batches[self.name(body["batch"], "batch")].pot_done.append(t)
        elif "bond" in body:
            bond = self.bonds[self.name(body["bond"], "bond")]
            bond.presses.append((t, body["press"]))
            if body["press"] == "used":
                bond.uses.append((t, body.get("seen")))

    def _moved(self, body, t, receipt):
        bond = self.bonds[self.name(body["bond"], "bond")]
        bond.moves.append((t, self.name(body["place"], "place")))

    def _coat(self, body, t, receipt):
        self.bonds[self.name(body["bond"], "bond")].coats.append(t)

    def _surface(self, body, t, receipt):
        for joint in body.get("joints", []):
            self.surfaces.append((t, tuple(joint.split("/"))))
        for part in body.get("parts", []):
            self.surfaces.append((t, (part, None)))

    def thickness(self, bond):
        """Largest total thickness of the bond's joints in metres, 60 mm when unknown."""
        known = [metres(th) for _, _, th in bond.joints if th]
        return max(known) if known else 0.060


def settled(events, at, known):
    """The events in force: corrections put in place, withdrawn and taken-back ones left out, by instant."""
    seen = [dict(e) for e in events if e.get("entered", e["t"]) <= known]
    by_entry = {}
    out = []
    for e in seen:
        act = e["act"]
        if act["act"] == "correct":
            target = by_entry[act["body"]["entry"]]
            target["act"] = dict(target["act"], body=act["body"]["body"])
            if "happened" in act:
                target["t"] = e["t"]
            continue
        if act["act"] == "withdraw":
            by_entry[act["body"]["entry"]]["gone"] = True
            continue
        if act["act"] == "press" and act["body"]["press"] == "taken-back":
            mine = [x for x in out if x["act"]["act"] == "press" and not x.get("gone") and same(x, act["body"])]
            mine[-1]["gone"] = True
            continue
        for x in e["receipt"]["entries"]:
            by_entry[x["id"]] = e
        out.append(e)
    # A file's minutes happened when they were read, whenever the file came.
    return [e for e in out if not e.get("gone") and (e["t"] <= at or e["act"]["act"] == "readings-file")]


def same(event, body):
    """True when a press is of the bond or batch that is taken back."""
    mine = event["act"]["body"]
    return any(k in body and mine.get(k) == body[k] for k in ("bond", "batch"))
