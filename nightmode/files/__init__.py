"""The files on disk: reading with good errors, safe replacing, the append-only journal, where things live."""
