"""How much of a list has been seen: as text, as data, as a page with a picture."""
