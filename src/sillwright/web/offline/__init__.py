"""What a phone keeps so that it works without a signal, and what it asks for when there is one."""
