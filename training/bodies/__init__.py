"""Rest bodies: random people from an open body model, written once, read without it."""
