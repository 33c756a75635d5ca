"""Progress along a track: composite Simpson on short panels, every kink split off by halving, finish by halving.

Times in seconds, temperatures in kelvin, progress as a share (1 = the card's time).
"""
from math import ceil, inf

PANEL_K = 0.25  # a panel spans at most this much; Simpson is then good to about 1e-10 relative


def crossings(piece, levels):
    """Cuts a piece into stretches on which it is monotone and meets none of the levels inside."""
    turn = piece.turning()
    runs = [(piece.t0, turn), (turn, piece.t1)] if turn else [(piece.t0, piece.t1)]
    out = []
    for t0, t1 in runs:
        cuts = [t0, t1]
        v0, v1 = piece.at(t0), piece.at(t1)
        for level in levels:
            if (v0 - level) * (v1 - level) < 0:
                cuts.append(meets(piece, t0, t1, level))
        cuts.sort()
        out += [piece.cut(a, b) for a, b in zip(cuts, cuts[1:]) if b > a]
    return out


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


def area(piece, rate, t0, t1):
    """Integral of rate(T) over part of a monotone stretch."""
    span = abs(piece.at(t1) - piece.at(t0))
    n = max(1, ceil(span / PANEL_K))
    if piece.c:
        n = max(n, ceil(min(t1 - t0, 40 * piece.tau) / (piece.tau / 8)))
    if span == 0.0:
        return rate(piece.at(t0)) * (t1 - t0)
    # Panels equal in time would be uneven in temperature on a dying exponential: after 40 tau it is a constant.
    end = min(t1, t0 + 40 * piece.tau) if piece.c and not piece.b else t1
    h = (end - t0) / n
    total = rate(piece.at(t0)) + rate(piece.at(end))
    for i in range(n):
        total += 4 * rate(piece.at(t0 + (i + 0.5) * h))
        if i:
            total += 2 * rate(piece.at(t0 + i * h))
    tail = rate(piece.at(t1)) * (t1 - end) if end < t1 else 0.0
    return total * h / 6 + tail


class March:
    """Integrates one bound of one clock from `start`; remembers progress at each stretch's end and the swing."""

    def __init__(self, pieces, law, shift, floor=None, swing_limit=None, first=0.0):
        """`shift`: -1, 0 or +1 times the reading's error. `floor`: function of error giving the lowest
        temperature that earns credit, or None. `first`: progress carried in."""
        self.law, self.shift = law, shift
        self.stretches, self.total = [], first
        self.swing_at, self.low, self.high = inf, inf, -inf
        self.no_credit = 0.0
        for piece in pieces:
            self._take(piece, floor, swing_limit)

    def _take(self, piece, floor, swing_limit):
        off = self.shift * piece.e
        levels = [k - off for k in self.law.kinks]
        least = floor(piece.e) if floor else None
        if least is not None:
            levels.append(least)
        for p in crossings(piece, levels):
            if swing_limit is not None and self.swing_at == inf:
                self._swing(p, swing_limit)
            if least is not None and p.at((p.t0 + p.t1) / 2) < least:
                self.no_credit += p.t1 - p.t0
                continue
            rate = lambda kelvin: 1.0 / self.law.seconds(kelvin + off)
            gained = area(p, rate, p.t0, p.t1)
            self.stretches.append((p, rate, self.total, gained))
            self.total += gained

    def _swing(self, p, limit):
        for end in (p.at(p.t0), p.at(p.t1)):
            new_low, new_high = min(self.low, end), max(self.high, end)
            if new_high - new_low > limit + 1e-9:
                level = self.low + limit if end > self.low + limit else self.high - limit
                self.swing_at = p.t0 if end == p.at(p.t0) else meets(p, p.t0, p.t1, level)
                return
            self.low, self.high = new_low, new_high

    def progress(self, t):
        """Progress at an instant, without spread and allowance."""
        done = None
        for p, rate, before, gained in self.stretches:
            if p.t0 >= t:
                break
            if p.t1 <= t:
                done = before + gained
            else:
                done = before + area(p, rate, p.t0, t)
        if done is None:
            return self.stretches[0][2] if self.stretches else self.total
        return done

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
            if p.t0 < lo and before + area(p, rate, p.t0, lo) >= target:
                return lo
            base = p.t0
            for _ in range(70):
                m = (lo + hi) / 2
                if before + area(p, rate, base, m) < target:
                    lo = m
                else:
                    hi = m
                if hi - lo < 1e-6:
                    break
            found = (lo + hi) / 2
            return found if found < t1 else None
        return None


class Bound:
    """A march with spread and allowance on the asked progress: `asked` before the swing, `later` after it."""

    def __init__(self, march, factor=1.0, allowance=1.0):
        self.march, self.factor, self.allowance = march, factor, allowance

    def finish(self):
        """First instant the adjusted progress is 1, or None."""
        swing = self.march.swing_at
        if self.allowance == 1.0 or swing == inf:
            return self.march.reaches(self.factor)
        early = self.march.reaches(self.factor, t1=swing)
        if early is not None:
            return early
        return self.march.reaches(self.factor * self.allowance, t0=swing)

    def progress(self, t):
        """Adjusted progress at an instant; what was reached stays reached."""
        p = self.march.progress(t) / self.factor
        if t >= self.march.swing_at:
            p /= self.allowance
        done = self.finish()
        if done is not None and done <= t:
            p = max(p, 1.0)
        return p
