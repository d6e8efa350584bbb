"""Sun's positions and radiation on planes: rows of tests/published/sun.rs, calculated with a general solar library.

Independent of the project: only pvlib (0.16.1, from PyPI) and pandas. Prints the rows:  python sun.py chicago-tmy3.epw

Positions: NREL's SPA in 2011, without refraction. Planes: direct light by its `aoi_projection`, sky by its `haydavies`, ground by its `get_ground_diffuse`
with 20 %. Year: direct and diffuse light of the file with the sun at the middle of each hour, outside the air 1361 W/m2 by Spencer's series.
"""

import sys

import numpy
import pandas
import pvlib

PLACES = [("Chicago", 41.98, -87.92, -6), ("Edmonton", 53.3, -113.6, -7), ("Sydney", -33.9, 151.2, 10)]
STAMPS = ["2011-01-15 09:30", "2011-03-21 15:00", "2011-06-21 12:00", "2011-08-10 18:45", "2011-12-22 12:00"]
NEW_YEAR = pandas.Timestamp("2011-01-01")

for place, latitude, longitude, offset_h in PLACES:
    for stamp in STAMPS:
        time = pandas.Timestamp(stamp) - pandas.Timedelta(hours=offset_h)
        index = pandas.DatetimeIndex([time], tz="UTC")
        sun = pvlib.solarposition.spa_python(index, latitude, longitude, altitude=0, delta_t=66.5).iloc[0]
        hour = (time - NEW_YEAR).total_seconds() / 3600
        print(f"({latitude}, {longitude}, {hour}, {sun.zenith:.4f}, {sun.azimuth:.4f}), // {place} {stamp}")

# zenith, azimuth of the sun; slope, azimuth of the plane; direct, diffuse, outside the air
CASES = [
    (60, 120, 90, 180, 600, 100, 1400),
    (30, 180, 0, 0, 800, 120, 1330),
    (30, 180, 90, 180, 800, 120, 1330),
    (75, 265, 90, 270, 400, 80, 1360),
    (50, 90, 90, 270, 700, 90, 1350),
    (50, 200, 30, 135, 500, 200, 1361),
    (88.9, 240, 90, 250, 20, 15, 1390),
]
for zenith, azimuth, slope, plane, direct, diffuse, outside in CASES:
    beam = direct * max(pvlib.irradiance.aoi_projection(slope, plane, zenith, azimuth), 0)
    sky = pvlib.irradiance.haydavies(slope, plane, diffuse, direct, outside, zenith, azimuth)
    level = direct * numpy.cos(numpy.radians(zenith)) + diffuse
    ground = pvlib.irradiance.get_ground_diffuse(slope, level, 0.2)
    print(zenith, azimuth, slope, plane, direct, diffuse, outside, f"{beam:.3f} {float(sky):.3f} {float(ground):.3f}")

data, _ = pvlib.iotools.read_epw(sys.argv[1])
middles = pandas.date_range("2011-01-01 00:30", periods=8760, freq="h", tz="Etc/GMT+6")
sun = pvlib.solarposition.spa_python(middles, 41.98, -87.92, altitude=0, delta_t=66.5)
dni, dhi = data["dni"].to_numpy(), data["dhi"].to_numpy()
outside = pvlib.irradiance.get_extra_radiation(middles, solar_constant=1361.0).to_numpy()
up = (sun.zenith < 90).to_numpy()
level = numpy.where(up, dni * numpy.cos(numpy.radians(sun.zenith)), 0) + dhi
for name, slope, plane in [("south", 90, 180), ("west", 90, 270), ("north", 90, 0), ("level", 0, 0), ("roof", 30, 135)]:
    total = pvlib.irradiance.get_total_irradiance(
        slope, plane, sun.zenith, sun.azimuth, dni, level, dhi, dni_extra=outside, albedo=0.2, model="haydavies"
    )["poa_global"].to_numpy()
    dark = dhi * 0.5 * (1 + numpy.cos(numpy.radians(slope))) + level * 0.2 * 0.5 * (1 - numpy.cos(numpy.radians(slope)))
    print(name, slope, plane, f"{numpy.where(up, total, dark).sum() / 1000:.2f} kWh/m2")
