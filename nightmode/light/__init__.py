"""What reaches the terminal: its depth of colour, and printing and asking in red."""
