"""The files on disk: reading with good errors, safe replacing, the log, and where files are."""
