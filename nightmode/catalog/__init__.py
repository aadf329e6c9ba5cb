"""What targets are: OpenNGC, the Solar System's names, and small tables of our own. Credits: docs/catalog.md."""
