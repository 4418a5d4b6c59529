"""The demo: a house of our own invention, played in through the program's own commands."""
