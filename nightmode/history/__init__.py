"""Many sessions as one record: what was looked at, from where, and with which outcome."""
