"""The light guard: everything between the program and the terminal that keeps the screen deep red.

Nothing is imported here, so that the terminal can be taken before Textual is loaded.
"""
