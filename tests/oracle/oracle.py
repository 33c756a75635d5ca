#!/usr/bin/env python3
"""The outside oracle: integrates every clock by itself from what went through the doors.

Usage: oracle.py CASES.json   prints {"cases":[{"asks":[{"clocks":[…]}]}]}
       oracle.py --check      compares itself with the numbers printed on the design page and in SCIENCE section 2

It shares no code with the program: plain Python 3.11, composite Simpson and halving on its own pieces. Input is
{"cases":[{"events":[{"act":…,"receipt":…,"t":ms,"entered":ms,"rows":…}],"asks":[{"at":ms,"known":ms}]}]}.
"""
import json
import os
import sys
from concurrent.futures import ProcessPoolExecutor

sys.path.insert(0, os.path.dirname(os.path.abspath(__file__)))

from assemble import ask  # noqa: E402
from check import check  # noqa: E402


CASES = []


def one(work):
    """The clocks of one case at one instant."""
    n, at, known = work
    return ask(CASES[n], at, known)


def main():
    """Reads the cases, prints what the clocks should say."""
    if sys.argv[1:] == ["--check"]:
        return check()
    with open(sys.argv[1], encoding="utf-8") as f:
        cases = json.load(f)["cases"]
    work = [(n, a["at"], a.get("known")) for n, c in enumerate(cases) for a in c["asks"]]
    with ProcessPoolExecutor(initializer=CASES.extend, initargs=([c["events"] for c in cases],)) as pool:
        told = list(pool.map(one, work, chunksize=4))
    out = [{"asks": []} for _ in cases]
    for (n, *_), clocks in zip(work, told):
        out[n]["asks"].append({"clocks": clocks})
    json.dump({"cases": out}, sys.stdout)
    return 0


if __name__ == "__main__":
    sys.exit(main())
