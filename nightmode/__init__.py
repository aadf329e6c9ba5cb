"""nightmode: a deep-red companion at the telescope."""

__version__ = "0.1.0"
