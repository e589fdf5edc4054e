"""Every calculation as a page to play with."""
