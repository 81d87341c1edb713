"""The fluid's condition: what is seen and smelt, and what follows from it."""
