"""How the signal goes from the leaf to the operator: cord, reel, radio, wire."""
