"""The study of an opening, what-if, papers and links to them."""
