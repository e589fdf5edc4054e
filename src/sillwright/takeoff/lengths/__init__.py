"""How long the edge is: body, sensing and channel length, pieces, dead strips."""
