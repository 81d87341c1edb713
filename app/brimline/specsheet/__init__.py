"""Spec sheets: what the maker's service information demands of one transmission family.

A sheet is a TOML file. :mod:`model` says what it holds, :mod:`reader` reads one and names every
fault in it with its place, :mod:`library` finds sheets by their name.
"""
