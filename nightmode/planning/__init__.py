"""The day before: which night to choose, and which targets are worth it from this site with this kit."""
