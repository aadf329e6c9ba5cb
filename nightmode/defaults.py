"""Figures that stand where nobody has given others: of the air, the telescope and the eye."""

#: V magnitudes lost in one airmass.
MAG_PER_AIRMASS = 0.25
#: The part of the light that comes through a telescope.
TRANSMISSION = 0.85
#: Width of the eye's pupil in the dark.
PUPIL_MM = 6.0
#: How many times the light is needed that a young eye in a laboratory needs: the cautious end of 1.4 to 2.4,
#: the range that Crumey (2014, MNRAS 442, 2600) finds; with it the model agrees with known sights.
FIELD_FACTOR = 2.4
