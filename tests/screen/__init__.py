"""What is seen, read as words; keys, pressed by a pilot."""
