"""What stands against an order, and what releases it; the questions of the chapter."""
