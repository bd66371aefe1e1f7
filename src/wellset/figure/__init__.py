"""The figure: points of a body, a club and a ball; landmarks, pictures and views as values."""
