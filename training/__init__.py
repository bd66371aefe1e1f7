"""How the landmark network is made: bodies, golfers, pictures, weights, figures.

Nothing here ships with the package. The order of work is ``bodies`` (rest bodies
from an open body model), ``golfers`` (posed, dressed, labelled), then pictures and
the network itself.
"""
