"""Measurements of the project that are kept: accuracy and speed."""
