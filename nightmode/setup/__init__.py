"""The questions that make observer.toml, and that file's text."""
