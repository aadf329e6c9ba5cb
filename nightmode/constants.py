"""Lengths of time, epochs, the speed of light, in the units that the program counts in; the compass."""

HOUR_S = 3600.0
DAY_S = 86400.0
#: The Julian year and century, by which almanacs count.
YEAR_S, CENTURY_D = 365.25 * DAY_S, 36525.0
#: The epoch J2000.0, as a Julian date and in Unix seconds; TT and UTC are a minute apart, which counts for
#: nothing where it is used.
J2000_JD, J2000_S = 2451545.0, 946728000.0
#: The Julian date at which Unix seconds begin.
UNIX_JD = 2440587.5
#: IAU 2012, resolution B2; the speed of light is exact by the definition of the metre.
AU_KM = 149597870.7
LIGHT_KM_PER_DAY = 299792.458 * DAY_S
LIGHT_AU_PER_DAY = LIGHT_KM_PER_DAY / AU_KM

#: The points of the compass from north through east, each 22.5 degrees after the one before.
COMPASS = ("N", "NNE", "NE", "ENE", "E", "ESE", "SE", "SSE", "S", "SSW", "SW", "WSW", "W", "WNW", "NW", "NNW")
