"""What the program knows: pure Python, no web, no database, no clock, no files, no sentences."""
