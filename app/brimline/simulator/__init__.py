"""A simulated vehicle for the demonstration and for training, and its control units on a bus.

The vehicle is pure: :meth:`brimline.simulator.vehicle.Vehicle.step` moves it on, and nothing else
does; there is no clock and no thread, and the same steps give the same vehicle. Its control units
(:mod:`brimline.simulator.ecus`) speak on a python-can bus, so that the program reads it as it
reads a real one. All figures are invented, each with the reason for its size.
"""
