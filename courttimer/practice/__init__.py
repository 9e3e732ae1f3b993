"""During the practice: calls and time in, events out, and all that follows from them. No clock, no file, no thread."""
