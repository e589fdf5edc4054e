"""Finding the fault: harm first, then the step that shortens the way to the right repair."""
