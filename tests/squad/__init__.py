"""Who goes with whom, and where."""
