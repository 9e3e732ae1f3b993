"""The sound room: mapping, mixing, speaking."""
