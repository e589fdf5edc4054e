"""Cutting stock at least cost: whole numbers in, bars and a proven bound out. Knows no models."""
