#!/usr/bin/env python3
"""Our sun against PyEphem: sun_check.py PROGRAM

PROGRAM is warmside. PyEphem (4.1, Debian's python3-ephem) computes the sun by VSOP87 and shares
nothing with the program. 60 dates and places between 65 N and S from a generator with a fixed seed,
years 1901 to 2099: noon, sunrise, sunset and day length within 30 s, the height at noon within 0.005
degrees. Eight dates near the poles: whether the sun is up all day,
all night or neither, and its height at noon; times are ill-conditioned there.

PyEphem is asked for the upper limb at an altitude of -0:34 without air: its own rising takes the
sun's radius off already. It takes the true radius and the parallax, where almanacs take 16 arc
minutes and none, which is worth some seconds.
"""

import datetime
import json
import math
import random
import subprocess
import sys

import ephem

MOST_S = 30
MOST_DEG = 0.005
SEED = 20261125


def ours(program, latitude, longitude, day, zone):
    return json.loads(subprocess.run(
        [program, "calc", "sun", "--lat", str(latitude), "--lon", str(longitude), "--date",
         day.isoformat(), "--zone", zone, "--json"], capture_output=True, text=True, check=True).stdout)


def observer(latitude, longitude, at):
    place = ephem.Observer()
    place.lat, place.lon = math.radians(latitude), math.radians(longitude)
    place.elevation, place.pressure, place.horizon = 0, 0, "-0:34"
    place.date = at
    return place


def moment(text):
    return datetime.datetime.fromisoformat(text).astimezone(datetime.timezone.utc)


def of_ephem(date):
    return date.datetime().replace(tzinfo=datetime.timezone.utc)


def noon_near(latitude, longitude, day):
    """The passage of the meridian nearest 12:00 UTC of the day."""
    noon = datetime.datetime(day.year, day.month, day.day, 12)
    place, sun = observer(latitude, longitude, noon), ephem.Sun()
    before, after = place.previous_transit(sun), place.next_transit(sun)
    nearest = min(before, after, key=lambda t: abs(t - ephem.Date(noon)))
    place.date = nearest
    sun.compute(place)
    return nearest, math.degrees(sun.alt)


def state_round(latitude, longitude, noon):
    """day, night or None, from the heights of the sun's upper limb at noon and 12 h off."""
    heights = []
    for hours in (-12, 0, 12):
        place, sun = observer(latitude, longitude, ephem.Date(noon + hours / 24)), ephem.Sun()
        sun.compute(place)
        heights.append(math.degrees(sun.alt) + sun.radius * 180 / math.pi + 34 / 60)
    if min(heights) > 0:
        return "day"
    return "night" if max(heights) < 0 else None


def temperate():
    chance = random.Random(SEED)
    first = datetime.date(1901, 1, 1)
    for _ in range(60):
        yield (round(chance.uniform(-65, 65), 3), round(chance.uniform(-180, 180), 3),
               first + datetime.timedelta(days=chance.randrange(198 * 365)))


POLAR = (  # none within a degree of where the state turns
    (69.65, 18.96, "2024-06-21"), (69.65, 18.96, "2024-12-21"), (69.65, 18.96, "2024-03-20"),
    (-77.85, 166.67, "2024-01-15"), (-77.85, 166.67, "2024-07-15"), (78.22, 15.65, "2031-04-10"),
    (82.5, -62.3, "1950-08-01"), (-67.6, 62.87, "2099-10-01"))


def main():
    program = sys.argv[1]
    worst = {"noon": 0.0, "sunrise": 0.0, "sunset": 0.0, "day length": 0.0}
    worst_deg, wrong = 0.0, 0
    for latitude, longitude, day in temperate():
        answer = ours(program, latitude, longitude, day, "UTC")
        noon, altitude = noon_near(latitude, longitude, day)
        place, sun = observer(latitude, longitude, noon), ephem.Sun()
        rise, fall = place.previous_rising(sun), place.next_setting(sun)
        apart = {name: abs((moment(answer[field]) - of_ephem(theirs)).total_seconds())
                 for name, field, theirs in (("noon", "solar_noon", noon), ("sunrise", "sunrise", rise),
                                             ("sunset", "sunset", fall))}
        apart["day length"] = abs(answer["day_length_h"] - (fall - rise) * 24) * 3600
        degrees = abs(answer["noon_elevation_deg"] - altitude)
        good = max(apart.values()) <= MOST_S and degrees <= MOST_DEG and answer["polar"] is None
        if not good:
            print(f"WRONG {latitude} {longitude} {day}: {apart}, {degrees:.4f} degrees: {answer}")
            wrong += 1
        worst = {name: max(most, apart[name]) for name, most in worst.items()}
        worst_deg = max(worst_deg, degrees)
    for latitude, longitude, text in POLAR:
        day = datetime.date.fromisoformat(text)
        answer = ours(program, latitude, longitude, day, "UTC")
        noon, altitude = noon_near(latitude, longitude, day)
        state = state_round(latitude, longitude, noon)
        degrees = abs(answer["noon_elevation_deg"] - altitude)
        if answer["polar"] != state or degrees > MOST_DEG:
            print(f"WRONG {latitude} {longitude} {day}: wanted {state}, {altitude:.3f}: {answer}")
            wrong += 1
        worst_deg = max(worst_deg, degrees)
    print(f"seed {SEED}; worst of 60: "
          + ", ".join(f"{name} {seconds:.1f} s" for name, seconds in worst.items())
          + f"; height at noon of 68: {worst_deg:.4f} degrees; {wrong} wrong")
    return 1 if wrong else 0


if __name__ == "__main__":
    sys.exit(main())
