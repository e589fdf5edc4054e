"""What is ordered: catalogues of organisations, take-off pages, quotes and orders."""
