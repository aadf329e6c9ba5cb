"""What the commands tell: text, tables, pages. Nothing here prints or opens a file."""
