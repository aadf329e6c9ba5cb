"""Past sessions as text, Markdown, CSV, JSON, and as a page with pictures."""
