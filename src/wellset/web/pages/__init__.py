"""One module for each group of pages: read the form, call a use case, show the result."""
