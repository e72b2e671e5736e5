#!/usr/bin/env python3
"""Writes a small vector tile with another library; its bytes stand in src/ui/map/base/mvt.rs.

Needs the PyPI packages mapbox-vector-tile 2.2.0 (MIT) and shapely 2.
"""

import mapbox_vector_tile

layers = [
    {
        "name": "water",
        "features": [
            {"geometry": "POLYGON ((0 0, 100 0, 100 90, 0 90, 0 0), (20 20, 20 40, 50 40, 50 20, 20 20))",
             "properties": {"class": "lake", "depth": 12.5, "level": -3, "salt": False}},
        ],
    },
    {
        "name": "roads",
        "features": [
            {"geometry": "MULTILINESTRING ((0 0, 10 5, 20 5), (50 50, 60 70))", "properties": {"class": "minor", "lanes": 2}},
        ],
    },
]
data = mapbox_vector_tile.encode(layers, default_options={"y_coord_down": True})
print(data.hex())
print(mapbox_vector_tile.decode(data, default_options={"y_coord_down": True}))
