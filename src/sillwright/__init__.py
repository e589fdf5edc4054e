"""Entrapment protection at powered doors and gates, from survey to papers."""

__version__ = "0.1.0"
