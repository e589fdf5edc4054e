"""Which profiles of the catalogue fit, and what a new edge changes at the leaf."""
