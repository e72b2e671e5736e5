"""What independent readers make of the files in exchange/, which the tests of tests/core/exchange.rs write byte for byte.

Needs from PyPI: gpxpy, icalendar, geojson. Prints the answer that is kept in exchange/read_back.txt:

    python3 read_exchange_files.py > exchange/read_back.txt
"""

import pathlib

import geojson
import gpxpy
import icalendar

HERE = pathlib.Path(__file__).parent / "exchange"


def calendar():
    read = icalendar.Calendar.from_ical((HERE / "due.ics").read_bytes())
    for event in read.walk("VEVENT"):
        start, end = event.decoded("DTSTART"), event.decoded("DTEND")
        assert end > start, "a whole day ends on the next (RFC 5545, 3.8.2.2)"
        assert not event.errors, event.errors
        print("event", event["UID"], start, end, event.decoded("DTSTAMP").isoformat(), event["SEQUENCE"])
        for key in ("SUMMARY", "DESCRIPTION", "LOCATION"):
            print("   ", key, repr(str(event[key])))


def route():
    read = gpxpy.parse((HERE / "run.gpx").read_text(encoding="utf-8"))
    assert not read.waypoints and not read.tracks
    for one in read.routes:
        print("route", repr(one.name))
        for point in one.points:
            print("   ", repr(point.name), point.latitude, point.longitude, repr(point.comment), repr(point.description))


def yards():
    read = geojson.loads((HERE / "yards.geojson").read_text(encoding="utf-8"))
    assert read.is_valid, read.errors()
    for feature in read["features"]:
        print("feature", feature["geometry"]["coordinates"], sorted(feature["properties"].items()))


calendar()
route()
yards()
