#!/usr/bin/env python3
"""Draws the plots of the science pages as SVG: lines from the program itself, dots from the printed tables.

Use: python3 docs/science/plots.py PATH-OF-GLUEWRIGHT. Only the standard library; the same program gives the same bytes.
"""

import json
import pathlib
import subprocess
import sys

HERE = pathlib.Path(__file__).resolve().parent
TABLES = HERE.parent.parent / "tests" / "tables"
WIDE, HIGH, LEFT, RIGHT, TOP, BOTTOM = 640, 360, 56, 120, 30, 44
INKS = ["#1b4f72", "#935116", "#1d6f42", "#6c3483", "#7b241c"]
DASHES = ["", "8 4", "2 4", "10 3 2 3", "5 2"]


def ask(program, name, field, **inputs):
    """One number of one figure."""
    words = [f"{key.replace('_', '-')}={value}" for key, value in inputs.items()]
    done = subprocess.run([program, "figure", name, *words, "--json"], capture_output=True, text=True, check=True)
    return json.loads(done.stdout)["result"][field]


def rows(name):
    """Rows of a printed table as lists of text."""
    lines = [line for line in (TABLES / name).read_text().splitlines() if line and not line.startswith("#")]
    return [line.split(",") for line in lines[1:]]


def steps(low, high, count):
    """Evenly spaced numbers, both ends among them."""
    return [low + (high - low) * i / (count - 1) for i in range(count)]


def ticks(low, high, step):
    """Round numbers inside a range."""
    first = -(-low // step)
    return [step * (first + i) for i in range(int((high - first * step) / step + 1e-9) + 1)]


class Plot:
    """One picture with two axes."""

    def __init__(self, title, across, up, wide, high, marks):
        self.title, self.across, self.up = title, across, up
        self.x, self.y, self.marks, self.body, self.names, self.count = wide, high, marks, [], [], 0

    def at(self, x, y):
        """Where a point lies on the paper."""
        share_x = (x - self.x[0]) / (self.x[1] - self.x[0])
        share_y = (y - self.y[0]) / (self.y[1] - self.y[0])
        return LEFT + share_x * (WIDE - LEFT - RIGHT), HIGH - BOTTOM - share_y * (HIGH - TOP - BOTTOM)

    def line(self, name, points):
        """A line with its name at its end; it is told from the others by its dashes as well as its ink."""
        ink, dash = INKS[self.count % 5], DASHES[self.count % 5]
        self.count += 1
        inside = [point for point in points if self.y[0] <= point[1] <= self.y[1]]
        path = " ".join(f"{x:.1f},{y:.1f}" for x, y in (self.at(*point) for point in inside))
        dashed = f' stroke-dasharray="{dash}"' if dash else ""
        self.body.append(f'<polyline fill="none" stroke="{ink}" stroke-width="1.6"{dashed} points="{path}"/>')
        x, y = self.at(*inside[-1])
        self.names.append((y + 4, x + 5, ink, name))

    def labels(self):
        """The lines' names, kept apart from each other."""
        last = None
        for y, x, ink, name in sorted(self.names):
            y = y if last is None else max(y, last + 14)
            last = y
            self.body.append(f'<text x="{x:.1f}" y="{y:.1f}" fill="{ink}">{name}</text>')

    def dots(self, points):
        """Printed values."""
        for point in points:
            x, y = self.at(*point)
            self.body.append(f'<circle cx="{x:.1f}" cy="{y:.1f}" r="2.6" fill="none" stroke="#222"/>')

    def write(self, name):
        """The file."""
        out = [
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {WIDE} {HIGH}" role="img" font-family="sans-serif" font-size="12">',
            f"<title>{self.title}</title>",
            f'<rect width="{WIDE}" height="{HIGH}" fill="#fff"/>',
            f'<text x="{LEFT}" y="18" font-size="13">{self.title}</text>',
        ]
        for x in ticks(*self.x, self.marks[0]):
            a, b = self.at(x, self.y[0])
            out.append(f'<line x1="{a:.1f}" y1="{TOP}" x2="{a:.1f}" y2="{b:.1f}" stroke="#ddd"/>')
            out.append(f'<text x="{a:.1f}" y="{b + 15:.1f}" text-anchor="middle">{x:g}</text>')
        for y in ticks(*self.y, self.marks[1]):
            a, b = self.at(self.x[0], y)
            out.append(f'<line x1="{a:.1f}" y1="{b:.1f}" x2="{WIDE - RIGHT}" y2="{b:.1f}" stroke="#ddd"/>')
            out.append(f'<text x="{a - 6:.1f}" y="{b + 4:.1f}" text-anchor="end">{y:g}</text>')
        self.labels()
        middle = (LEFT + WIDE - RIGHT) / 2
        out.append(f'<text x="{middle:.1f}" y="{HIGH - 8}" text-anchor="middle">{self.across}</text>')
        down = (TOP + HIGH - BOTTOM) / 2
        out.append(f'<text transform="translate(14 {down:.1f}) rotate(-90)" text-anchor="middle">{self.up}</text>')
        (HERE / "plots" / name).write_text("\n".join([*out, *self.body, "</svg>", ""]))


def air(program):
    """What wood settles at, with the printed cells of two temperatures."""
    plot = Plot("Wood settles at (dots: Wood Handbook table 4-2)", "relative humidity, %", "wood moisture, %",
                (0, 100), (0, 30), (20, 5))
    for fahrenheit in (40, 70, 120):
        curve = [(h, ask(program, "wood-moisture", "wood_moisture_pct", temperature=f"{fahrenheit}F", humidity=h))
                 for h in steps(0, 95, 39)]
        plot.line(f"{fahrenheit} °F", curve)
    plot.dots([(float(h), float(m)) for t, h, m in rows("wood_settles.csv") if t in ("40", "70", "120")])
    plot.write("air-and-wood.svg")


def mixing(program):
    """The doubt of a ratio against the resin weighed."""
    plot = Plot("Doubt of a ratio of 100:20 by weight", "resin, g", "expanded uncertainty, %", (5, 100), (0, 20), (20, 5))
    sorts = [("0.1 g", {}), ("0.1 g, one cup", {"weighing": "one-cup"}), ("0.1 g, ± 0.3 g", {"accuracy": "0.3g"})]
    for name, more in sorts:
        plot.line(name, [(r, ask(program, "mix-ratio", "uncertainty_pct", nominal="100:20", resin=f"{r}g",
                                 hardener=f"{r / 5}g", resolution="0.1g", **more)) for r in steps(5, 100, 40)])
    plot.write("mixing.svg")


def law(program):
    """Five points, their line and the band of a new batch."""
    points = "10C:30h,15C:19h,20C:12h,25C:8.5h,30C:5.5h"
    plot = Plot("Five points, their line and the 95 % band of a new batch", "temperature, °C", "time, h", (5, 35), (0, 50), (5, 10))
    at = steps(6, 34, 57)
    typed = ",".join(f"{t}C" for t in at)
    times = ask(program, "cure-law", "times_min", points=points, at=typed)
    bands = ask(program, "cure-law", "bands", points=points, at=typed)
    plot.line("line", [(t, m / 60) for t, m in zip(at, times)])
    plot.line("lower", [(t, band[0] / 60) for t, band in zip(at, bands)])
    plot.line("upper", [(t, band[1] / 60) for t, band in zip(at, bands)])
    plot.dots([(10, 30), (15, 19), (20, 12), (25, 8.5), (30, 5.5)])
    plot.write("time-law.svg")


def bends(program):
    """Least radii of plywood."""
    plot = Plot("Least bend radius of plywood (dots: AC 43.13-1B table 1-2)", "thickness, mm", "radius, mm",
                (0, 10), (0, 1400), (2, 200))
    table = rows("plywood_bend.csv")
    for kind, column in (("dry-90", 1), ("dry-0-45", 2), ("soaked-90", 3), ("soaked-0-45", 4)):
        curve = [(t, ask(program, "bend-radius", "least_radius_mm", thickness=f"{t:.4f}mm", kind=f"plywood-{kind}"))
                 for t in steps(0.889, 9.525, 60)]
        plot.line(kind, curve)
        plot.dots([(25.4 * float(row[0]), 25.4 * float(row[column])) for row in table])
    plot.write("clamps-and-laminations.svg")


def laps(program):
    """Peak by average shear of a lap as it gets longer."""
    plot = Plot("A longer lap: shear at its ends and on average", "overlap, mm", "shear, MPa", (5, 100), (0, 25), (20, 5))
    both = {"peak": [], "average": []}
    for overlap in steps(5, 100, 40):
        for name, curve in both.items():
            curve.append((overlap, ask(program, "lap-stress", f"{name}_mpa", load_per_width="100N/mm",
                                       overlap=f"{overlap}mm", e1="70GPa", t1="1.6mm", e2="70GPa", t2="1.6mm",
                                       glue_shear_modulus="1GPa", glue_thickness="0.2mm")))
    for name, curve in both.items():
        plot.line(name, curve)
    plot.write("joints.svg")


def factors(program):
    """Tolerance factors, with the printed ones."""
    plot = Plot("Tolerance factors (dots: CMH-17-1G)", "number of joints", "k", (3, 30), (1, 11), (3, 1))
    for name, coverage in (("B, 90 %", 90), ("A, 99 %", 99)):
        plot.line(name, [(n, ask(program, "tolerance-factor", "k", n=n, coverage=f"{coverage}%")) for n in range(3, 31)])
    table = [row for row in rows("tolerance_printed.csv") if 3 <= int(row[0]) <= 30]
    plot.dots([(int(row[0]), float(row[1])) for row in table] + [(int(row[0]), float(row[2])) for row in table])
    plot.write("sample-joints.svg")


def pots(program):
    """What a mass in a cup gives, and what the hottest point leaves of it."""
    plot = Plot("Work limit of a cup, generic glue (dots: another program)", "mass, g", "min", (0, 500), (0, 160), (100, 20))
    masses = [25, 35, 50, 70, 100, 140, 200, 280, 380, 500]
    for celsius in (20, 25, 30, 35):
        plot.line(f"{celsius} °C", [(m, ask(program, "pot", "work_limit_min", mass=f"{m}g", ambient=f"{celsius}C"))
                                    for m in masses])
    plot.line("25 °C, advised", [(m, ask(program, "pot", "advised_min", mass=f"{m}g", ambient="25C")) for m in masses])
    table = [row for row in rows("pot_matrix.csv") if row[0] == "cup" and row[2] != "15"]
    plot.dots([(float(row[1]), float(row[5])) for row in table if float(row[5]) <= 160])
    plot.write("pot.svg")


def glass(program):
    """How the glass transition climbs and stalls."""
    plot = Plot("Glass transition over time (dots: another program)", "days at one temperature", "glass transition, °C",
                (0, 14), (-30, 60), (2, 10))
    days = [0.02, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4, 0.5, 0.7, 1, 1.5, 2, 3, 4, 5, 6, 7, 8, 10, 12, 14]
    for celsius in (15, 20, 25, 30, 40):
        plot.line(f"{celsius} °C", [(d, ask(program, "cured-state", "glass_transition_c", temperature=f"{celsius}C",
                                            time=f"{d}d")) for d in days])
    table = rows("glass.csv")
    plot.dots([(day, float(row[column])) for row in table for day, column in ((1, 3), (3, 5), (7, 7))])
    plot.write("cured-state.svg")


def balance(program):
    """What a wrong ratio leaves loose."""
    plot = Plot("Mass that stays loose (dots: another program)", "amine hydrogens for each epoxide", "% of the mass",
                (0.6, 1.4), (0, 20), (0.1, 5))
    for name, conversion in (("full", "100%"), ("95 %", "95%"), ("90 %", "90%")):
        plot.line(name, [(r, ask(program, "off-ratio", "sol_pct", equivalents=f"{r:.4f}", conversion=conversion))
                         for r in steps(0.6, 1.4, 65)])
    table = [row for row in rows("off_balance.csv") if 0.6 <= float(row[0]) <= 1.4]
    both = [(float(row[0]), 100 * float(row[column])) for row in table for column in (5, 6)]
    plot.dots([point for point in both if point[1] <= 20])
    plot.write("off-ratio.svg")


def warming(program):
    """How long the middle of the wood takes."""
    plot = Plot("Middle of the wood, nine tenths of a step (dots: another program)", "thickness, mm", "min",
                (0, 80), (0, 400), (20, 50))
    for film in (6, 10, 25):
        plot.line(f"{film} W/m²K", [(t, ask(program, "glue-line-warmup", "time_min", thickness=f"{t}mm", film=film))
                                    for t in steps(2, 80, 40)])
    plot.dots([(float(row[0]), float(row[4])) for row in rows("heat_up.csv") if float(row[4]) <= 400])
    plot.write("glue-line-temperature.svg")


def bounds(program):
    """The three bounds of a clock over the temperature of the shop."""
    points = "10C:30h,15C:19h,20C:12h,25C:8.5h,30C:5.5h"
    plot = Plot("Three bounds of a clock on five points", "glue line all along at, °C", "h", (8, 34), (0, 50), (4, 10))
    for name, field in (("latest", "latest_h"), ("expected", "finish_h"), ("earliest", "earliest_h")):
        plot.line(name, [(t, ask(program, "cure-finish", field, points=points, trace=f"0h:{t}C", sensor_error="1K"))
                         for t in steps(8, 34, 53)])
    plot.dots([(10, 30), (15, 19), (20, 12), (25, 8.5), (30, 5.5)])
    plot.write("clocks.svg")


def chance(program):
    """The bounds of one clock with made-up batches between them."""
    points = "10C:30h,15C:19h,20C:12h,25C:8.5h,30C:5.5h"
    trace = ",".join(f"{i / 12:.6f}h:{8 + 14 * 2.718281828459045 ** (-i / 48):.6f}C" for i in range(1201))
    plot = Plot("A shop that cools: bounds, and 400 batches (dots)", "h", "share of the batches done, %", (20, 40), (0, 100), (5, 25))
    for name, field in (("earliest", "earliest_h"), ("expected", "finish_h"), ("latest", "latest_h")):
        at = ask(program, "cure-finish", field, points=points, trace=trace, sensor_error="1K")
        plot.line(name, [(at, 0), (at, 100)])
    shares = {"mc_p2.5": 2.5, "mc_median": 50, "mc_p97.5": 97.5}
    plot.dots([(float(row[1]), shares[row[0]]) for row in rows("finish_bounds.csv") if row[0] in shares])
    plot.write("chance.svg")


if __name__ == "__main__":
    for draw in (air, mixing, law, bends, laps, factors, pots, glass, balance, warming, bounds, chance):
        draw(sys.argv[1])
