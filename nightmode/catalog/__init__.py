"""What targets are: OpenNGC, the Solar System, and small tables of our own. Credits: docs/catalog.md."""
