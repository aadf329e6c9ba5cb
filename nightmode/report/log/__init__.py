"""The record read back: as text, Markdown, CSV, JSON and as a page with pictures."""
