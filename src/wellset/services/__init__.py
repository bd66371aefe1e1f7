"""Use cases, and the ports they need."""
