"""Files out and back in: writers, readers that share no code with them, and the measuring of what was read back."""
