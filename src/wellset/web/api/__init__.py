"""The REST interface: the same use cases as the pages, as JSON."""
