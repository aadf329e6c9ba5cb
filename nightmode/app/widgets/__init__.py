"""The one widget of our own: rows of text in the theme's roles."""
