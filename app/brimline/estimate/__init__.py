"""What to expect: joins spec sheet and check with the physics; pure, no clock, no file."""
