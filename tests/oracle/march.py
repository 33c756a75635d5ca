"""Progress along a track: composite Simpson on short panels, every kink split off by halving, finish by halving.

Times in seconds, temperatures in kelvin, progress as a share (1 = the card's time).
"""
from bisect import bisect_left
from math import ceil, inf

PANEL_K = 0.5  # a panel spans at most this much; Simpson is then good to about 1e-9 relative
PANELS_TAU = 8  # and an eighth of a time constant
DEAD = 30  # after so many time constants an exponential is a constant (1e-13)


def crossings(piece, levels):
    """Cuts a piece into stretches that are monotone, meet no level inside and last at most a time constant."""
    marks = [piece.t0, piece.t1]
    if not piece.c:
        low, high = sorted((piece.a, piece.at(piece.t1)))
        levels = [x for x in levels if low < x < high]
        if not levels:
            yield piece
            return
    else:
        marks += [piece.t0 + k * piece.tau for k in range(1, DEAD + 1) if piece.t0 + k * piece.tau < piece.t1]
        turn = piece.turning()
        marks += [turn] if turn else []
        marks.sort()
    for t0, t1 in zip(marks, marks[1:]):
        v0, v1 = piece.at(t0), piece.at(t1)
        cuts = [meets(piece, t0, t1, x) for x in levels if (v0 - x) * (v1 - x) < 0]
        if not cuts:
            yield piece.cut(t0, t1) if len(marks) > 2 else piece
            continue
        cuts = sorted([t0, t1] + cuts)
        for a, b in zip(cuts, cuts[1:]):
            if b > a:
                yield piece.cut(a, b)


def meets(piece, t0, t1, level):
    """The instant a monotone stretch meets a level."""
    rising = piece.at(t1) > piece.at(t0)
    for _ in range(100):
        m = (t0 + t1) / 2
        if (piece.at(m) < level) == rising:
            t0 = m
        else:
            t1 = m
        if t1 - t0 < 1e-7:
            break
    return (t0 + t1) / 2


def area(piece, rate, t0, t1, smooth=True):
    """Integral of rate(T) over part of a monotone stretch; with `smooth` False it looks for corners inside."""
    steepest = max(abs(piece.slope(t0)), abs(piece.slope(t1)))
    n = ceil(steepest * (t1 - t0) / PANEL_K)
    if piece.c and n:
        n = max(n, ceil(min(1.0, (t1 - t0) / piece.tau) * PANELS_TAU))
    if n == 0:
        return rate(piece.at(t0)) * (t1 - t0)
    if steepest * (t1 - t0) < 1e-9:
        return rate(piece.at((t0 + t1) / 2)) * (t1 - t0)
    h = (t1 - t0) / n
    if not smooth:
        f = lambda t: rate(piece.at(t))
        ends = [t0 + i * h for i in range(n)] + [t1]
        return sum(halved(f, a, f(a), (a + b) / 2, f((a + b) / 2), b, f(b)) for a, b in zip(ends, ends[1:]))
    total = rate(piece.at(t0)) + rate(piece.at(t1))
    for i in range(n):
        total += 4 * rate(piece.at(t0 + (i + 0.5) * h))
        if i:
            total += 2 * rate(piece.at(t0 + i * h))
    return total * h / 6


def halved(f, a, fa, m, fm, b, fb, depth=30):
    """Simpson, halved until both halves together say the same: a law of many points has corners nobody lists."""
    left, right = (a + m) / 2, (m + b) / 2
    fl, fr = f(left), f(right)
    whole = (b - a) / 6 * (fa + 4 * fm + fb)
    halves = (m - a) / 6 * (fa + 4 * fl + fm) + (b - m) / 6 * (fm + 4 * fr + fb)
    if depth == 0 or abs(halves - whole) <= 1e-9 * abs(whole):
        return halves
    return (halved(f, a, fa, left, fl, m, fm, depth - 1) + halved(f, m, fm, right, fr, b, fb, depth - 1))


ENOUGH = 1.3  # more than any spread and allowance ask for


class March:
    """Integrates one bound of one clock from `start`; remembers progress at each stretch's end and the swing."""

    def __init__(self, pieces, law, shift, floor=None, swing_at=inf, until=inf):
        """`shift`: -1, 0 or +1 times the reading's error. `floor`: function of error giving the lowest
        temperature that earns credit, or None. `swing_at`: when the temperature has varied. It goes on to `until`
        and then until progress is ENOUGH."""
        self.law, self.shift, self.smooth = law, shift, law.smooth
        self.stretches, self.total, self.swing_at = [], 0.0, swing_at
        for piece in pieces:
            if piece.t0 >= until and self.total >= ENOUGH:
                break
            self._take(piece, floor)
        self.starts = [p.t0 for p, *_ in self.stretches]

    def _take(self, piece, floor):
        if piece.kind == "nothing":
            return
        off = self.shift * piece.e
        levels = [k - off for k in self.law.kinks]
        least = floor(piece.e) if floor else None
        if least is not None:
            levels.append(least)
        rate = lambda kelvin: 1.0 / self.law.seconds(kelvin + off)
        for p in crossings(piece, levels):
            # A reading of exactly the minimum counts.
            if least is not None and p.at((p.t0 + p.t1) / 2) < least - 1e-9:
                continue
            gained = area(p, rate, p.t0, p.t1, self.smooth)
            self.stretches.append((p, rate, self.total, gained))
            self.total += gained

    def progress(self, t):
        """Progress at an instant, without spread and allowance."""
        i = bisect_left(self.starts, t) - 1
        if i < 0:
            return self.stretches[0][2] if self.stretches else self.total
        p, rate, before, gained = self.stretches[i]
        return before + (gained if p.t1 <= t else area(p, rate, p.t0, t, self.smooth))

    def reaches(self, target, t0=-inf, t1=inf):
        """First instant in [t0, t1) with progress >= target, or None."""
        if self.stretches and self.stretches[0][2] >= target and t0 == -inf:
            return self.stretches[0][0].t0
        for p, rate, before, gained in self.stretches:
            if p.t1 <= t0 or before + gained < target:
                continue
            if p.t0 >= t1:
                return None
            lo, hi = max(p.t0, t0), p.t1
            if before >= target and p.t0 >= t0:
                return p.t0
            if p.t0 < lo and before + area(p, rate, p.t0, lo, self.smooth) >= target:
                return lo
            base = p.t0
            for _ in range(70):
                m = (lo + hi) / 2
                if before + area(p, rate, base, m, self.smooth) < target:
                    lo = m
                else:
                    hi = m
                if hi - lo < 1e-6:
                    break
            found = (lo + hi) / 2
            return found if found < t1 else None
        return None


def swing(tracks, limit):
    """First instant at which highest minus lowest over several tracks is more than the limit, or inf. Stretches where
    nothing is known do not count."""
    marks, lanes = set(), []
    for track in tracks:
        lane = [p for piece in track if piece.kind != "nothing" for p in crossings(piece, [])]
        lanes.append(lane)
        marks |= {x for p in lane for x in (p.t0, p.t1)}
    marks = sorted(marks)
    low, high, at = inf, -inf, [0] * len(lanes)
    for t0, t1 in zip(marks, marks[1:]):
        here = []
        for i, lane in enumerate(lanes):
            while at[i] < len(lane) and lane[at[i]].t1 <= t0:
                at[i] += 1
            if at[i] < len(lane) and lane[at[i]].t0 <= t0:
                here.append(lane[at[i]])
        exceeds = lambda t: (max([high] + [max(p.at(t0), p.at(t)) for p in here])
                             - min([low] + [min(p.at(t0), p.at(t)) for p in here]) > limit + 1e-9)
        if here and exceeds(t1):
            if exceeds(t0):
                return t0
            a, b = t0, t1
            for _ in range(60):
                m = (a + b) / 2
                a, b = (a, m) if exceeds(m) else (m, b)
            return b
        for p in here:
            low, high = min(low, p.at(t0), p.at(t1)), max(high, p.at(t0), p.at(t1))
    return inf


class Bound:
    """A march with spread and allowance on the asked progress, and a share carried in that is already adjusted."""

    def __init__(self, march, factor=1.0, allowance=1.0, carried=0.0):
        self.march, self.factor, self.allowance, self.carried = march, factor, allowance, min(carried, 1.0)
        self.done = self._finish()

    def finish(self):
        """First instant the adjusted progress is 1, or None."""
        return self.done

    def _finish(self):
        swing_at, left = self.march.swing_at, 1.0 - self.carried
        if self.allowance == 1.0 or swing_at == inf:
            return self.march.reaches(self.factor * left)
        early = self.march.reaches(self.factor * left, t1=swing_at)
        if early is not None:
            return early
        return self.march.reaches(self.factor * self.allowance * left, t0=swing_at)

    def progress(self, t):
        """Adjusted progress at an instant; what was reached stays reached and is 1."""
        # What the forecast alone brings about at this very instant is not yet so.
        if self.done is not None and self.done <= t and not self.done == self.march.swing_at == t:
            return 1.0
        factor = self.factor * (self.allowance if t > self.march.swing_at else 1.0)
        return min(self.carried + self.march.progress(t) / factor, 1.0 - 1e-6)
