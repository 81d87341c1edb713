"""Invented answers to the window, and pictures of every screen."""
