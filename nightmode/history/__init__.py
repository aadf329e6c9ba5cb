"""Many sessions as one record: what was ever looked at, from where, and how it went."""
