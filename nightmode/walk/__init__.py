"""The walk through the night: what is up, in which order, what is done, what comes next. Pure."""
