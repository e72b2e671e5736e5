"""Makes the table of a firm: 300 yards and 8,000 hives in mid-season, seeded, for the import's speed and a trial by hand.

    python3 make_big_import.py > big.csv
"""

import csv
import datetime
import random
import sys

FIRST = "Alder Bracken Clover Dune Elder Fern Gorse Heath Iris Juniper Kelp Linden Moss Nettle Oat Pine Quarry Rowan Sedge Thyme".split()
SECOND = "Bank Corner Dell Edge Flat Gully Hollow Island Junction Knoll Lane Meadow Nook Orchard Point".split()
TODAY = datetime.date(2026, 11, 23)


def day(date):
    return f"{date.day}/{date.month}/{date.year}"


def main():
    rng = random.Random(20261123)
    yards = [(f"{one} {two}", -40 + rng.random(), 160 + rng.random()) for one in FIRST for two in SECOND]
    assert len(yards) == 300
    out = csv.writer(sys.stdout, lineterminator="\r\n")
    out.writerow(["Site", "Lat", "Lng", "Hive no", "Row", "Place", "Queen yr", "Dot", "Breeder", "Date in", "Method", "Last look", "Found", "Note"])
    for number in range(8000):
        yard, lat, lon = yards[number % 300]
        place = number // 300
        born = rng.choice([2023, 2024, 2025, 2025, 2026, 2026])
        dot = {2023: "red", 2024: "green", 2025: "blue", 2026: "white"}[born]
        row = [yard, f"{lat:.6f}", f"{lon:.6f}", f"{yard[0]}{place + 1:02}", place // 10 + 1, place % 10 + 1, born, dot]
        row.append(rng.choice(["Thrift", "Broom", "Tansy", "Farside Queens", ""]))
        kind = rng.random()
        if kind < 0.15:
            given = TODAY - datetime.timedelta(days=rng.randrange(1, 40))
            row[6], row[7] = "", ""
            row += [day(given), rng.choice(["caged", "caged", "mature cell", "push-in cage"]), "", ""]
        elif kind < 0.7:
            given = datetime.date(born, 11, 1) - datetime.timedelta(days=rng.randrange(0, 200))
            looked = TODAY - datetime.timedelta(days=rng.randrange(0, 60))
            row[6] = ""
            row += [day(given), "caged", day(looked), rng.choice(["eggs", "eq", "eggs, queen seen", "e l b"])]
        else:
            row += ["", "", "", ""]
        row.append("by the gate, mind the step" if rng.random() < 0.02 else "")
        out.writerow(row)


main()
