"""Wellset: measure how a student stands to a golf ball, and say what to change first."""

__version__ = "0.1.0"
