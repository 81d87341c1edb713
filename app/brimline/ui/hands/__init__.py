"""What hands give the window besides a mouse: held keys, the one button, scanners, the pad."""
