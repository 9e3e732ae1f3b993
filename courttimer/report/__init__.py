"""After the practice, and advice before it: told from the plan and the journal."""
