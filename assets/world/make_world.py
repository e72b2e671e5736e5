#!/usr/bin/env python3
"""Make land-50m.bin, the coarse world below every map, from Natural Earth.

Source: npm package `world-atlas` 2.0.2 (Natural Earth 4.1.0 land and countries at 1:50 million).
Natural Earth is in the public domain; the packaging is ISC (see NOTICE.md beside this file).

    python3 make_world.py DIR/land-50m.json DIR/countries-50m.json land-50m.bin

Needs shapely 2. The output is the same for the same input and versions.

What is done: rings are unwrapped across the antimeridian and cut there (the source stitches them), Antarctica is
closed over the pole and kept, everything is projected to Web Mercator, simplified in three levels, cut into cells so
that a view needs few of them, and written as whole numbers.

File: gzip of
    "LNW1", u8 levels
    per level: u8 log2 of cells a side, u8 log2 of the level's unit, varint count of cells
    per cell: varint index (row * side + column), then two lists, each led by a varint count:
        polygons (varint rings, then rings), borders
    ring or line: varint count of points, then zigzag varint differences x, y; the first from the cell's top left
The unit is 1 / 131072 of the world's width times the level's power of two; x grows east, y south. Rings are not closed by
a repeated point. A ring's edge along the edge of its cell is a cut, all others are coast.
"""

import gzip
import json
import math
import sys

from shapely import make_valid, set_precision
from shapely.geometry import LineString, Polygon, box
from shapely.ops import linemerge, unary_union

GRID = 131072
# (log2 of cells a side, log2 of the unit, tolerance in units of the grid, least area in square units of the grid).
# The first two levels end at zoom 2.5 and 4.5, where one pixel is GRID / (256 * 2 ** zoom) = 90 and 23 units.
LEVELS = [(2, 4, 60.0, 4000.0), (3, 2, 15.0, 250.0), (5, 1, 2.0, 0.0)]
LAT_MAX = 85.0511287798066


def read(path, name):
    """Arcs in degrees and the geometries of one object of a TopoJSON file."""
    with open(path, encoding="utf-8") as file:
        topology = json.load(file)
    (sx, sy), (tx, ty) = topology["transform"]["scale"], topology["transform"]["translate"]
    arcs = []
    for arc in topology["arcs"]:
        x = y = 0
        points = []
        for dx, dy in arc:
            x += dx
            y += dy
            points.append((x * sx + tx, y * sy + ty))
        arcs.append(points)
    return arcs, topology["objects"][name]["geometries"]


def ring_of(arcs, indices):
    points = []
    for index in indices:
        part = arcs[index] if index >= 0 else arcs[~index][::-1]
        points.extend(part if not points else part[1:])
    return points


def unwrap(points):
    """Longitudes without a jump at the antimeridian."""
    out = [points[0]]
    for x, y in points[1:]:
        last = out[-1][0]
        out.append((x + 360.0 * round((last - x) / 360.0), y))
    return out


def shells(geometry):
    if geometry["type"] == "Polygon":
        return [geometry["arcs"]]
    if geometry["type"] == "MultiPolygon":
        return geometry["arcs"]
    return []


def mercator(x, y):
    y = max(-LAT_MAX, min(LAT_MAX, y))
    return (x / 360.0 + 0.5) * GRID, (0.5 - math.asinh(math.tan(math.radians(y))) / (2 * math.pi)) * GRID


def project(points):
    return [mercator(x, y) for x, y in points]


def into_world(shape):
    """Cut at the antimeridian: the world and the two beside it, moved back."""
    from shapely.affinity import translate

    parts = []
    for turn in (-1, 0, 1):
        cut = shape.intersection(box(turn * GRID, 0, (turn + 1) * GRID, GRID))
        if not cut.is_empty:
            parts.append(translate(cut, -turn * GRID))
    return parts


def beside(hole, shell):
    """A hole moved by whole turns of the world until it lies in its outline, which unwrapping may have moved."""
    shell = make_valid(Polygon(shell))
    for turn in (0, -1, 1):
        moved = [(x + turn * GRID, y) for x, y in hole]
        if shell.contains(Polygon(moved).representative_point()):
            return moved
    raise ValueError("a hole outside its outline")


def land(path):
    arcs, geometries = read(path, "land")
    areas = []
    for geometry in geometries:
        for shell in shells(geometry):
            rings = []
            for indices in shell:
                points = unwrap(ring_of(arcs, indices))
                if abs(points[-1][0] - points[0][0]) > 180.0:  # winds round the pole
                    points = [*points, (points[-1][0], -90.0), (points[0][0], -90.0)]
                rings.append(project(points))
            if len(rings[0]) < 4:
                continue
            # The source carries the pole itself as a hole without area.
            holes = [beside(ring, rings[0]) for ring in rings[1:] if len(ring) >= 4 and Polygon(ring).area > 0.0]
            shape = make_valid(Polygon(rings[0], holes))
            areas.extend(into_world(shape))
    return unary_union(areas)


def borders(path):
    """Arcs that belong to two countries."""
    arcs, geometries = read(path, "countries")
    uses = {}
    for number, geometry in enumerate(geometries):
        for shell in shells(geometry):
            for ring in shell:
                for index in ring:
                    uses.setdefault(index if index >= 0 else ~index, set()).add(number)
    lines = []
    for index in sorted(uses):
        if len(uses[index]) > 1:
            lines.extend(into_world(LineString(project(unwrap(arcs[index])))))
    return lines


def single(shape, kind):
    if shape.is_empty:
        return []
    if shape.geom_type == kind:
        return [shape]
    if hasattr(shape, "geoms"):
        return [part for geom in shape.geoms for part in single(geom, kind)]
    return []


def varint(out, value):
    while value >= 0x80:
        out.append(value & 0x7F | 0x80)
        value >>= 7
    out.append(value)


def signed(out, value):
    varint(out, (value << 1) if value >= 0 else ((-value << 1) - 1))


def whole_points(points, unit):
    out = []
    for x, y in points:
        point = (round(x / unit), round(y / unit))
        if not out or out[-1] != point:
            out.append(point)
    return out


def path(out, points, x, y):
    varint(out, len(points))
    for px, py in points:
        signed(out, px - x)
        signed(out, py - y)
        x, y = px, py


def level(out, areas, inland, side_log, unit_log, tolerance, least):
    side, unit = 1 << side_log, 1 << unit_log
    size = GRID // side
    polygons = [p for p in single(areas, "Polygon") if p.area >= least]
    polygons = [q for p in polygons for q in single(make_valid(p.simplify(tolerance)), "Polygon")]
    inland = [line.simplify(tolerance) for line in single(linemerge(inland), "LineString")]
    # On the whole-number grid before cutting, so that neighbouring cells share their edge exactly.
    whole = set_precision(unary_union(polygons), float(unit))
    out.append(side_log)
    out.append(unit_log)
    cells = []
    points = 0
    for index in range(side * side):
        left, top = index % side * size, index // side * size
        window = box(left, top, left + size, top + size)
        cell = bytearray()
        fills = [p for p in single(whole.intersection(window), "Polygon") if p.area >= unit * unit]
        varint(cell, len(fills))
        for polygon in fills:
            rings = [polygon.exterior, *polygon.interiors]
            varint(cell, len(rings))
            for ring in rings:
                whole_ring = whole_points(list(ring.coords)[:-1], unit)
                points += len(whole_ring)
                path(cell, whole_ring, left // unit, top // unit)
        edges = [c for line in inland for c in single(line.intersection(window), "LineString")]
        edges = [e for e in (whole_points(c.coords, unit) for c in edges) if len(e) > 1]
        varint(cell, len(edges))
        for edge in edges:
            points += len(edge)
            path(cell, edge, left // unit, top // unit)
        if fills or edges:
            cells.append((index, cell))
    varint(out, len(cells))
    for index, cell in cells:
        varint(out, index)
        out.extend(cell)
    print(f"side {side}: {len(cells)} cells, {points} points", file=sys.stderr)


def main():
    land_path, countries_path, out_path = sys.argv[1:4]
    areas = land(land_path)
    inland = [part for shape in borders(countries_path) for part in single(shape, "LineString")]
    out = bytearray(b"LNW1")
    out.append(len(LEVELS))
    for settings in LEVELS:
        level(out, areas, inland, *settings)
    packed = gzip.compress(bytes(out), compresslevel=9, mtime=0)
    with open(out_path, "wb") as file:
        file.write(packed)
    print(f"{len(out)} bytes, {len(packed)} packed", file=sys.stderr)


if __name__ == "__main__":
    main()
