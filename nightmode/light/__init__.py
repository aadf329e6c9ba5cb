"""The terminal: its depth of colour, its own colours, and printing and asking in red."""
