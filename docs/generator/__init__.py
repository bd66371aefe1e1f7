"""Reference pages made from the code, so that the two can't drift apart."""
