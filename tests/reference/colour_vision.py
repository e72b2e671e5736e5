"""Writes colour_vision.json: CAM02-UCS coordinates of the theme's signs as seen by normal, deutan, protan and tritan eyes.

Computed by colorspacious 1.1.2 (its CIECAM02 in sRGB viewing conditions, its Machado 2009 matrices at full severity).
Run from the root of the repository: python3 tests/reference/colour_vision.py
"""

import json

import numpy
from colorspacious import cspace_convert

EYES = {"normal": None, "deutan": "deuteranomaly", "protan": "protanomaly", "tritan": "tritanomaly"}


def seen(hex_colour, kind):
    rgb = [int(hex_colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    if kind:
        rgb = cspace_convert(rgb, {"name": "sRGB1+CVD", "cvd_type": kind, "severity": 100}, "sRGB1")
        rgb = numpy.clip(rgb, 0, 1)  # what no screen can show is shown at the edge of its gamut
    return [round(float(v), 4) for v in cspace_convert(rgb, "sRGB1", "CAM02-UCS")]


tokens = json.load(open("assets/theme/tokens.json"))
colours = dict(tokens["both"])
for theme in ("light", "dark"):
    colours[f"accent {theme}"] = tokens[theme]["accent"]
table = {name: {eye: seen(value, kind) for eye, kind in EYES.items()} for name, value in colours.items()}
with open("tests/reference/colour_vision.json", "w") as out:
    json.dump(table, out, indent=1)
    out.write("\n")
