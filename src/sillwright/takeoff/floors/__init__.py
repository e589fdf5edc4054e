"""How the edge lies on the floor, the window of the cut-out, and the scribe."""
