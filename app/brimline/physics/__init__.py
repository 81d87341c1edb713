"""What the fluid does: pure functions with their sources, no clock, no file."""
