"""Derives tests/data/aurell2025.csv from the open data of Aurell et al. 2025 (CC BY 4.0).

Usage: python3 aurell.py "analyses for split-treat/curated data/an_dat_up.csv" > ../data/aurell2025.csv
from a checkout of github.com/DanAurell/Study_QueenCellSplits_OrganicVarroaTreatments (doi 10.5281/zenodo.15733143).
One row for each combination of what was found; the colonies are only counted.
"""

import collections
import csv
import sys

STAGES = {"eggs": "eggs", "capped": "capped", "prepupa": "capped", "white eye": "capped", "na": "none"}


def stage(text):
    return STAGES.get(text.lower(), "larvae")


counts = collections.Counter()
with open(sys.argv[1], newline="") as file:
    for row in csv.DictReader(file):
        start = row["start_layday"]
        counts[
            "" if start in ("", "NA") else start.removesuffix(".0"),
            stage(row["ch18_ageoldest"]),
            stage(row["ch30_ageoldest"]),
            int(row["ch44_qstatus"] == "DL"),
            int(row["established"]),
        ] += 1

print("# Derived from Aurell, Bruckner, Steury, Williams 2025, J. Econ. Entomol., doi 10.1093/jee/toaf126;")
print("# data doi 10.5281/zenodo.15733143, CC BY 4.0. Counted by tests/reference/aurell.py; changed: grouped and counted.")
print("# Days after the split; oldest brood seen on day 18 and 30; drone layer on day 44; established in the end.")
print("began_day,oldest_day18,oldest_day30,drone_layer,established,colonies")
for key in sorted(counts, key=lambda key: (float(key[0] or 99), key)):
    print(*key, counts[key], sep=",")
