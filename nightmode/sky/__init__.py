"""Where things are in the sky of a site: the only room that knows the ephemeris."""
