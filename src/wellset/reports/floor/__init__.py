"""The floor plan at true size, and the lists to lay the same without paper."""
