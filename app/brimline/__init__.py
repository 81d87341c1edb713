"""Brimline: guided fluid-level checks for automatic transmissions that have no dipstick."""

from importlib.metadata import version

__version__ = version("brimline")
