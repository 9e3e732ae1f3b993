"""courttimer: the clock, the horn, the voice, the count and the memory of a basketball practice."""

__version__ = "0.1.0"
