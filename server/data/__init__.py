"""The data files that ship with the program, read and checked."""
