"""The rules of the walk: what is up, in which order, what is done, and what comes next. Pure."""
