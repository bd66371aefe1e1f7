"""Numbered steps of the tables, forward only."""
