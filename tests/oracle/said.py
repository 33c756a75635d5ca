"""Reads what was typed into acts: quantities with units, instants, times, ratios. Nothing from the program."""
import re
from datetime import datetime, timezone
from functools import lru_cache

TIME_UNITS = {"s": 1, "sec": 1, "min": 60, "h": 3600, "hour": 3600, "hours": 3600, "d": 86400, "day": 86400, "days": 86400}
MASS_UNITS = {"mg": 1e-3, "g": 1.0, "kg": 1000.0}
LENGTH_UNITS = {"mm": 1e-3, "cm": 1e-2, "m": 1.0}
NUMBER = r"[-+]?\d+(?:\.\d+)?"


def number_unit(text):
    """The number and the unit of a typed quantity."""
    m = re.fullmatch(rf"\s*({NUMBER})\s*(\S.*?)\s*", text)
    if not m:
        raise ValueError(f"not a quantity: {text!r}")
    return float(m.group(1)), m.group(2)


def half_even(x):
    """Rounds to a whole number, half to even, as entries do."""
    return round(x)


@lru_cache(maxsize=None)
def kelvin(text):
    """A typed temperature, rounded to a millikelvin as stored."""
    value, unit = number_unit(text)
    unit = unit.replace("°", "").strip()
    k = {"C": value + 273.15, "K": value, "F": (value - 32) / 1.8 + 273.15}[unit]
    return half_even(k * 1000) / 1000


def difference(text):
    """A typed temperature difference in kelvin."""
    value, unit = number_unit(text)
    unit = unit.replace("°", "").strip()
    return half_even({"C": value, "K": value, "F": value / 1.8}[unit] * 1000) / 1000


def seconds(text):
    """Short and long end of a typed time: `12 h`, `4-6 h`, `45 min`."""
    m = re.fullmatch(rf"\s*({NUMBER})\s*(?:(?:-|–|to)\s*({NUMBER}))?\s*([a-z]+)\s*", text)
    unit = TIME_UNITS[m.group(3)]
    low = float(m.group(1)) * unit
    high = float(m.group(2)) * unit if m.group(2) else low
    return half_even(low * 1000) / 1000, half_even(high * 1000) / 1000


def grams(text):
    """A typed mass in grams, or None when it is not a mass."""
    value, unit = number_unit(text)
    return value * MASS_UNITS[unit] if unit in MASS_UNITS else None


def metres(text):
    """A typed length."""
    value, unit = number_unit(text)
    return value * LENGTH_UNITS[unit]


def instant(text):
    """An RFC 3339 instant in seconds since 1970, to the millisecond."""
    t = datetime.fromisoformat(text.replace("Z", "+00:00"))
    d = t - datetime(1970, 1, 1, tzinfo=timezone.utc)
    return (d.days * 86400000 + d.seconds * 1000 + d.microseconds // 1000) / 1000


def utc(ms):
    """Milliseconds since 1970 as the doors print instants."""
    s, m = divmod(int(ms), 1000)
    return datetime.fromtimestamp(s, timezone.utc).strftime("%Y-%m-%dT%H:%M:%S") + f".{m:03d}Z"
