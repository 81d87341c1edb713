"""A whole level check without a window: a source of readings and a disclosed script of taps."""
