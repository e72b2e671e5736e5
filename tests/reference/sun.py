"""Sunrise and sunset by PyEphem, for src/roads/sun.rs.

Run: pip install ephem==4.2.1; python sun.py > sun.csv
Upper edge at a horizon of -50' for the centre (refraction 34', radius 16'), no air pressure (the refraction is in the horizon).
Seconds from midnight of the clock of the place (minutes ahead of UTC, no summer time).
"""
import datetime as dt
import ephem

PLACES = [
    ("Invercargill", -46.4132, 168.3538, 720),
    ("Wrackmore", -40.0, 160.0, 660),
    ("Quito", -0.1807, -78.4678, -300),
    ("Phoenix", 33.4484, -112.0740, -420),
    ("Berlin", 52.5200, 13.4050, 60),
    ("Tromso", 69.6492, 18.9553, 60),
]
DAYS = ["2026-01-15", "2026-03-20", "2026-05-01", "2026-06-21", "2026-09-23", "2026-11-25"]


def event(place, start, end, kind):
    """The first rise or set in the day; None if there is none."""
    try:
        when = (place.next_rising if kind == "rise" else place.next_setting)(ephem.Sun(), start=start, use_center=True)
    except (ephem.AlwaysUpError, ephem.NeverUpError):
        return None
    return when if when < end else None


print("# PyEphem " + ephem.__version__ + ", by sun.py")
print("name,latitude,longitude,clock,day,rise,set")
for name, lat, lon, clock in PLACES:
    for day in DAYS:
        place = ephem.Observer()
        place.lat, place.lon = str(lat), str(lon)
        place.pressure, place.horizon = 0, "-0:50"
        midnight = dt.datetime.fromisoformat(day) - dt.timedelta(minutes=clock)
        start, end = ephem.Date(midnight), ephem.Date(midnight + dt.timedelta(days=1))
        rise, sunset = event(place, start, end, "rise"), event(place, start, end, "set")
        if rise is None and sunset is None:
            place.date = ephem.Date(midnight + dt.timedelta(hours=12))
            sun = ephem.Sun(place)
            cells = ["up" if sun.alt > ephem.degrees("-0:50") else "down"] * 2
        else:
            cells = [f"{(event - start) * 86400:.1f}" for event in (rise, sunset)]
        print(f"{name},{lat},{lon},{clock},{day},{','.join(cells)}")
