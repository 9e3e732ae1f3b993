"""Who goes with whom, and where: looked up by plan, practice and report."""
