"""Asking somebody about one fact of one opening."""
