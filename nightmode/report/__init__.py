"""Makes what the commands print: text, tables, pages, data. Nothing here prints or opens a file."""
