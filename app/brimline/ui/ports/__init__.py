"""What the window asks of the rest of the program; bootstrap hands it in."""
