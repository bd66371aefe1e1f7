"""Reports: JSON, one self-contained page, marked-up pictures, text for the terminal."""
