"""What keeps players safe, each rule beside its source: looked up by plan, practice and report."""
