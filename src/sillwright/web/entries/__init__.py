"""What a device wrote while it had no signal, taken in entry by entry."""
