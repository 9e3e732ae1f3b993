"""What keeps players safe, checked against the published standards."""
