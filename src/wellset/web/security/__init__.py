"""Who may come in, from where, and how fast they may knock."""
