"""The memory: what is kept survives a crash, a power cut and a full disk."""
