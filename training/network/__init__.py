"""The landmark network: its form, its training, and the file that the product reads."""
