"""What is seen: the board and its keys."""
