"""Calls about doors that do not do what they should: their pages, their records, and parts that are in on trial."""
