"""Photos of an opening: named shots in a fixed order, their pages, pins on the drawing and marks on copies."""
