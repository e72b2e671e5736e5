#!/usr/bin/env python3
"""Reference values for the coarse world, from the source data by other means than assets/world/make_world.py.

    python3 world_land.py DIR/land-50m.json

Needs shapely 2. The values stand in src/ui/map/base/world.rs: the share of the square Web Mercator world that is land
(rings are cut into trapezoids by hand, no cutting at the antimeridian needed), and whether places are on land.
"""

import json
import math
import sys

LAT_MAX = 85.0511287798066


def main():
    with open(sys.argv[1], encoding="utf-8") as file:
        topology = json.load(file)
    (sx, sy), (tx, ty) = topology["transform"]["scale"], topology["transform"]["translate"]
    arcs = []
    for arc in topology["arcs"]:
        x = y = 0
        points = []
        for dx, dy in arc:
            x, y = x + dx, y + dy
            points.append((x * sx + tx, y * sy + ty))
        arcs.append(points)

    rings = []
    for geometry in topology["objects"]["land"]["geometries"]:
        shells = [geometry["arcs"]] if geometry["type"] == "Polygon" else geometry["arcs"]
        rings.extend(ring for shell in shells for ring in shell)

    def points(ring):
        out = []
        for index in ring:
            out.extend((arcs[index] if index >= 0 else arcs[~index][::-1])[0 if not out else 1 :])
        return out

    # Share of land: the sum over all edges of (step in x, the short way round) times (mean height above the south edge).
    # Outlines and holes run opposite ways, so holes take away; a ring round the pole needs nothing of its own.
    def height(lat):
        lat = max(-LAT_MAX, min(LAT_MAX, lat))
        return 0.5 + math.asinh(math.tan(math.radians(lat))) / (2 * math.pi)

    total = 0.0
    for ring in rings:
        line = points(ring)
        for (x1, y1), (x2, y2) in zip(line, line[1:]):
            step = (x2 - x1 + 540.0) % 360.0 - 180.0
            total += step / 360.0 * (height(y1) + height(y2)) / 2
    print(f"land takes {abs(total):.6f} of the square world")

    # A place is on land where a line to the south crosses an odd number of edges; the ring round the pole has one there.
    for lon, lat in [(0.0, -80.0), (170.0, -84.0), (179.0, 67.5), (-179.0, 67.0), (25.0, 62.0), (147.0, -42.2),
                     (100.0, 78.0),
                     (160.0, -40.0), (-170.0, 0.0), (-30.0, 40.0), (-140.0, 55.0), (51.0, 42.0)]:
        crossed = 0
        for ring in rings:
            line = points(ring)
            for (x1, y1), (x2, y2) in zip(line, line[1:]):
                a = (x1 - lon + 540.0) % 360.0 - 180.0
                b = a + (x2 - x1 + 540.0) % 360.0 - 180.0
                if (a > 0.0) != (b > 0.0) and abs(a - b) < 180.0 and y1 + (y2 - y1) * (0.0 - a) / (b - a) < lat:
                    crossed += 1
        print(lon, lat, "land" if crossed % 2 == 1 else "sea")


if __name__ == "__main__":
    main()
