"""The record of one night: disk first, then state."""
