#!/usr/bin/env python3
"""DXF files of plates, read by a general library: are they sound, and what is in them?

    pip install ezdxf
    python3 tests/peers/dxf.py FOLDER

FOLDER and the folders in it hold .dxf files: those of
`axlewright brackets SETUP --out FOLDER`, or those that the tests of `sheets`
leave in `target/tmp/dxf`: a few plates by hand, and every bracket of the demo
scenes.

Each file is audited (ezdxf's auditor finds no error and has nothing to fix),
and must have, on the layer CUT, closed polylines and circles only, none twice,
no piece without length; beside them, on CHECK, a square of 50 mm or 2 in; the
caution among its words; and in R2000 the unit that its name says.

Prints a line of JSON a file: its version, unit, the radii of its arcs, signed
as they turn, and x, y, radius of its holes, in its unit. Exits 1 with a
sentence at the first file that is wrong.
"""

import json
import math
import sys
from pathlib import Path

import ezdxf
from ezdxf.math import bulge_radius, bulge_to_arc

SAME = 1e-6  # in the file's unit
CHECK_SIDE = {"mm": 50.0, "in": 2.0}
INSUNITS = {"mm": 4, "in": 1}
LAYERS = {"CUT", "MARK", "NOTES", "CHECK"}


class Wrong(Exception):
    pass


def need(true, sentence):
    if not true:
        raise Wrong(sentence)


def corners(polyline):
    """[x, y, bulge] of a closed polyline of either kind."""
    if polyline.dxftype() == "LWPOLYLINE":
        need(polyline.closed, "a polyline is open")
        return [tuple(p) for p in polyline.get_points("xyb")]
    need(polyline.is_closed and polyline.is_2d_polyline, "a polyline is open")
    return [(*v.dxf.location.vec2, v.dxf.get("bulge", 0.0)) for v in polyline.vertices]


def pieces(profile):
    """A profile's corners in pairs, the last with the first."""
    return list(zip(profile, profile[1:] + profile[:1]))


def middle(a, b):
    """Half way along a piece: a positive bulge is to the right of its chord."""
    (ax, ay, bulge), (bx, by, _) = a, b
    return (ax + bx + bulge * (by - ay)) / 2, (ay + by - bulge * (bx - ax)) / 2


def extent(profile):
    """The box round a profile, by points along its arcs."""
    points = [p[:2] for p in profile]
    for a, b in pieces(profile):
        if a[2]:
            centre, start, end, radius = bulge_to_arc(a[:2], b[:2], a[2])
            sweep = (end - start) % math.tau
            turns = [start + sweep * i / 90 for i in range(91)]
            points += [(centre.x + radius * math.cos(t), centre.y + radius * math.sin(t)) for t in turns]
    xs, ys = zip(*points)
    return min(xs), min(ys), max(xs), max(ys)


def rounded(*values):
    return tuple(round(v / SAME) for v in values)


def unit_of(path):
    """The unit as the file's name says it: ...-mm.dxf, ...-in-r12.dxf."""
    unit = path.stem.removesuffix("-r12").rpartition("-")[2]
    need(unit in CHECK_SIDE, "the name says no unit")
    return unit


def cut(shapes):
    """Profiles and holes of the cut layer, none twice."""
    profiles, holes = [], []
    for shape in shapes:
        if shape.dxftype() == "CIRCLE":
            holes.append((*shape.dxf.center.vec2, shape.dxf.radius))
        else:
            need(shape.dxftype() in ("LWPOLYLINE", "POLYLINE"), f"a {shape.dxftype()} is cut")
            profiles.append(corners(shape))
    need(profiles, "nothing is cut")
    need(len({rounded(*h) for h in holes}) == len(holes), "a hole is there twice")
    sides = [side for profile in profiles for side in pieces(profile)]
    need(all(math.dist(a[:2], b[:2]) > SAME for a, b in sides), "a piece has no length")
    once = {(frozenset((rounded(*a[:2]), rounded(*b[:2]))), rounded(*middle(a, b))) for a, b in sides}
    need(len(once) == len(sides), "a piece is there twice")
    return profiles, holes


def examined(path):
    unit = unit_of(path)
    document = ezdxf.readfile(path)
    audit = document.audit()
    need(not audit.has_errors, f"audit: {[e.message for e in audit.errors]}")
    need(not audit.has_fixes, f"audit would mend: {[e.message for e in audit.fixes]}")
    if document.dxfversion != "AC1009":
        need(document.header["$INSUNITS"] == INSUNITS[unit], "the header says another unit than the name")
    need({e.dxf.layer for e in document.modelspace()} <= LAYERS, "something is on no layer of ours")
    on = {layer: list(document.modelspace().query(f'*[layer=="{layer}"]')) for layer in LAYERS}

    profiles, holes = cut(on["CUT"])
    (square,) = on["CHECK"]
    square, side = corners(square), CHECK_SIDE[unit]
    need(all(abs(math.dist(a[:2], b[:2]) - side) < SAME for a, b in pieces(square)), "the check square's side is off")
    need(abs(math.dist(square[0][:2], square[2][:2]) - side * math.sqrt(2)) < SAME, "the check square is no square")
    need(extent(square)[0] > max(extent(p)[2] for p in profiles), "the check square is not beside the plate")
    words = " ".join(e.dxf.text for e in on["NOTES"] if e.dxftype() == "TEXT")
    need("Screening calculation, not an approval" in words, "the caution is missing")

    arcs = [(a, b) for p in profiles for a, b in pieces(p) if a[2]]
    return {
        "version": document.acad_release,
        "unit": unit,
        "profiles": len(profiles),
        "arc_radii": [round(math.copysign(bulge_radius(a[:2], b[:2], a[2]), a[2]), 9) for a, b in arcs],
        "holes": [[round(v, 9) for v in hole] for hole in holes],
        "scribed": len(on["MARK"]),
    }


def main():
    if len(sys.argv) != 2:
        sys.exit(__doc__)
    folder = Path(sys.argv[1])
    files = sorted(folder.rglob("*.dxf"))
    if not files:
        sys.exit(f"there is no .dxf file in {folder}")
    for path in files:
        try:
            print(json.dumps({"file": str(path.relative_to(folder)), **examined(path)}))
        except (Wrong, ezdxf.DXFError) as wrong:
            sys.exit(f"{path}: {wrong}")


if __name__ == "__main__":
    main()
