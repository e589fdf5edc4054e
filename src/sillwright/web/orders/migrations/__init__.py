"""Changes of the tables, forward."""
