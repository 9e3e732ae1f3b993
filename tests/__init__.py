"""The tests mirror the rooms of the program."""
