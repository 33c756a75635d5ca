"""What somebody stated the air of a place will do: four shapes, sampled every five minutes from the instant asked.

Times in seconds, temperatures in kelvin. A shape needs what was read until then: a cooling starts at the last mean.
"""
from math import cos, exp, log, pi

from air import LONG, Piece
from said import difference, instant, kelvin, seconds

STEP, STILL = 300.0, 1e-9
DAY = 86400.0
RAMP, TAU = 7200.0, 4 * 3600.0  # taken where nobody says
TAUS = (600.0, 360000.0)  # 10 min to 100 h
WEEK = 7 * DAY


def time_of_day(text):
    """Seconds after local midnight of `22:00`."""
    hours, minutes = text.strip().split(":")
    return int(hours) * 3600.0 + int(minutes) * 60.0


class Forecast:
    """One stated forecast as typed; `zone` in seconds east."""

    def __init__(self, body, t, zone=0.0):
        self.body, self.made, self.zone = body, t, zone
        self.until = instant(body["until"]) if "until" in body else None
        self.made_once = None, None

    def course(self, place, at):
        """T(t) from `at` on as a function, or None where the shape knows nothing."""
        course = getattr(self, "_" + self.body["shape"])(place, at)
        if course is None or self.until is None:
            return course
        return lambda t: course(min(t, self.until))

    def _hold(self, place, at):
        value = kelvin(self.body["at"])
        return lambda t: value

    def _setback(self, place, at):
        day, night = kelvin(self.body["day"]), kelvin(self.body["night"])
        dusk, dawn = time_of_day(self.body["from"]), time_of_day(self.body["to"])
        ramp = seconds(self.body["ramp"])[0] if "ramp" in self.body else RAMP
        dark = (dawn - dusk) % DAY

        def course(t):
            s = (t + self.zone - dusk) % DAY
            if s < dark:
                return day + (night - day) * min(1.0, s / ramp)
            return night + (day - night) * min(1.0, (s - dark) / ramp)
        return course

    def _cooling(self, place, at):
        end = kelvin(self.body["towards"])
        start = last_mean(place, at)
        if start is None:
            return None
        if "time_constant" in self.body:
            tau = seconds(self.body["time_constant"])[0]
        else:
            tau = cool_down(place, end, at) or TAU
        return lambda t: end + (start - end) * exp(-max(0.0, t - at) / tau)

    def _day(self, place, at):
        mean, swing = kelvin(self.body["mean"]), difference(self.body["swing"])
        warmest = time_of_day(self.body["warmest"])
        return lambda t: mean + swing * cos(2 * pi * (t + self.zone - warmest) / DAY)

    def pieces_once(self, place, at, far):
        """The same pieces for every track of one instant."""
        key = id(place), at, far
        if self.made_once[0] != key:
            self.made_once = key, self.pieces(place, at, far)
        return self.made_once[1]

    def pieces(self, place, at, far):
        """Straight pieces from `at` to `far`, or None."""
        course = self.course(place, at)
        if course is None:
            return None
        out, t0, v0 = [], at, course(at)
        while t0 < far:
            t1 = t0 + STEP
            v1 = course(t1)
            # What stands still is one piece.
            if out and out[-1].b == 0.0 and abs(v1 - out[-1].a) < STILL:
                out[-1].t1 = t1
            else:
                out.append(Piece(t0, t1, v0, 0.0 if abs(v1 - v0) < STILL else (v1 - v0) / STEP))
            t0, v0 = t1, v1
        return out


def held(at):
    """A forecast that holds a temperature."""
    return Forecast({"shape": "hold", "at": f"{at:.3f} K"}, 0.0)


def last_mean(place, at):
    """The mean air last known, if a reading is at most two hours old."""
    values = []
    for source in place.sources.values():
        past = [k for k in source.knots if k[0] <= at]
        if past and at - max(past)[0] <= LONG:
            values.append(max(past)[2])
    return sum(values) / len(values) if values else None


def cool_down(place, end, at):
    """Time constant of the newest run of means that falls, or None."""
    found = []
    for name, source in sorted(place.sources.items()):
        knots = [k for k in sorted(source.knots) if at - WEEK <= k[0] <= at]
        for run in runs(knots):
            run = from_the_warmest(run)
            if is_cool_down(run) and all(mean - end > 0.5 for _, mean in run):
                found.append((run[-1][0], run))
    if not found:
        return None
    return fitted(max(found, key=lambda x: x[0])[1], end)


def runs(knots):
    """Stretches of (t, mean) at most an hour apart in which no mean is more than 0.2 K above the one before."""
    run = []
    for t, _, mean, _ in knots:
        if run and (t - run[-1][0] > 3600.0 or mean > run[-1][1] + 0.2):
            yield run
            run = []
        run.append((t, mean))
    if run:
        yield run


def from_the_warmest(run):
    """Without the warm hours before: from the last mean within 0.2 K of the highest on."""
    highest = max(mean for _, mean in run)
    return run[max(i for i, (_, mean) in enumerate(run) if mean >= highest - 0.2):]


def is_cool_down(run):
    """At least four means, an hour and three kelvin."""
    return len(run) >= 4 and run[-1][0] - run[0][0] >= 3600.0 and run[0][1] - run[-1][1] >= 3.0


def fitted(run, end):
    """Least squares of ln(T - end) on t."""
    n = len(run)
    tm = sum(t for t, _ in run) / n
    y = [log(mean - end) for _, mean in run]
    ym = sum(y) / n
    slope = sum((t - tm) * (v - ym) for (t, _), v in zip(run, y)) / sum((t - tm) ** 2 for t, _ in run)
    if slope >= 0.0:
        return None
    return -1 / slope if TAUS[0] <= -1 / slope <= TAUS[1] else None
