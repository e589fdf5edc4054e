"""Finding the fault."""
