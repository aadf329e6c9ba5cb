"""The questions that make observer.toml, and the text of that file."""
