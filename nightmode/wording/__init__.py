"""Makes words for people out of data; nothing else in the program does."""
