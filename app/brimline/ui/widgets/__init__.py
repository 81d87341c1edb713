"""Widgets that any screen may use; each knows how to show one kind of thing."""
