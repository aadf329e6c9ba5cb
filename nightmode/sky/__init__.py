"""Where things stand in the sky of a site: the only room that knows the ephemeris."""
