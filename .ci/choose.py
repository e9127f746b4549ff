#!/usr/bin/env python3
"""Chooses guides to look at: choose.py FOLDER prints folders of units that between them have every model, every option and
every part that some unit of the folder has, and the shortest and the longest guide. Each next one is the unit that adds the most.
"""
import json
import pathlib
import sys

units = {}
for name in sorted(pathlib.Path(sys.argv[1]).glob("*/record.json")):
    record = json.loads(name.read_text())
    has = {"model " + record["model"]}
    has |= {"option " + o["id"] for o in record["options"] or []} | {"part " + p["component"] for p in record["parts"] or []}
    units[name.parent] = has
if not units:
    sys.exit(sys.argv[1] + ": no units")
size = lambda unit: (unit / "guide.html").stat().st_size
chosen = {min(units, key=size), max(units, key=size)}
left = set.union(*units.values()) - set.union(*(units[u] for u in chosen))
while left:
    best = max(sorted(units), key=lambda u: len(units[u] & left))
    chosen.add(best)
    left -= units[best]
print("\n".join(str(u) for u in sorted(chosen)))
