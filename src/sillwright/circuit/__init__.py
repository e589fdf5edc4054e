"""What an operator's input reads from the loop on it: wires, strips, end elements, and what hurts them."""
