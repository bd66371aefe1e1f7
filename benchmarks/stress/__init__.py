"""Golfers that no training has seen: another body source, other clothes, another renderer.

A skeleton is stood to the ball from random set-up parameters, fleshed out with tubes and
cones that melt into each other, dressed, turned into meshes and drawn by a small ray tracer.
Nothing of it stems from the body model that the landmark network learnt from. The truth
beside the pictures has the form that :mod:`benchmarks.accuracy` reads.
"""
