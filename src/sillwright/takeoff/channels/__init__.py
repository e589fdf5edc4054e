"""What carries the body, and how a rigid channel is cut."""
