#!/usr/bin/env python3
"""Reads the demo pack with other people's readers, and prints the tile numbers used as reference values.

    python3 map_pack.py ../../demo-data/wrackmore.pmtiles

Needs the PyPI packages pmtiles 3.8.1 (BSD-3), mapbox-vector-tile 2.2.0 (MIT) and shapely 2. The tile numbers stand in
src/ui/map/base/directory.rs.
"""

import gzip
import sys

import mapbox_vector_tile
from pmtiles.reader import MmapSource, Reader, all_tiles
from pmtiles.tile import zxy_to_tileid
from shapely.geometry import shape

KEYS = [(0, 0, 0), (1, 0, 0), (1, 0, 1), (1, 1, 1), (1, 1, 0), (2, 0, 0), (3, 5, 2), (12, 3423, 1763), (12, 3868, 2552)]

for key in [*KEYS, (26, 67108863, 0)]:
    print("tile number", key, zxy_to_tileid(*key))

with open(sys.argv[1], "rb") as file:
    source = MmapSource(file)
    reader = Reader(source)
    print(reader.header())
    print(reader.metadata()["name"], [layer["id"] for layer in reader.metadata()["vector_layers"]])
    tiles, features, invalid, largest, names = 0, {}, [], 0, set()
    for key, packed in all_tiles(source):
        tiles += 1
        largest = max(largest, len(packed))
        tile = mapbox_vector_tile.decode(gzip.decompress(packed), default_options={"y_coord_down": True})
        for layer, content in tile.items():
            assert content["extent"] == 4096 and content["version"] == 2
            for feature in content["features"]:
                features[layer] = features.get(layer, 0) + 1
                if not shape(feature["geometry"]).is_valid:
                    invalid.append((key, layer))
                names.add(feature["properties"].get("name"))
    print(tiles, "tiles, largest", largest, "bytes packed;", features)
    print("shapes that are not simple (cut edges along the margin are expected):", len(invalid))
    print(sorted(name for name in names if name))
