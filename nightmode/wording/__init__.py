"""Data made into words for people: the one place."""
