"""From catalogue values to a verdict: sky, air, telescope, eye. Numbers in, numbers out."""
