"""Before the practice: the session file read, checked and laid out."""
