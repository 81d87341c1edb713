"""What is heard: which sounds, what is spoken, and the program beside the window that does it."""
