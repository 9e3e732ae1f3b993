"""What is remembered: the journal of one practice, line by line."""
