"""nightmode: a deep-red companion at the telescope."""

__version__ = "0.2.0"
