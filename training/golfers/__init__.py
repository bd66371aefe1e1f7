"""Golfers that never lived: posed, dressed and labelled, as triangles and points."""
