"""The commands: they read flags, print, and exit. The only room that prints."""
