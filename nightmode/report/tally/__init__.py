"""How far a list has come: a plain bar, data, and a page with a picture."""
