"""How good the landmark network is: on scenes with exact truth, and under stress."""
