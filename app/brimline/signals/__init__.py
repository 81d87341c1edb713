"""Signals: from the vehicle's bus, a recording or a keypad to readings with a quality."""
