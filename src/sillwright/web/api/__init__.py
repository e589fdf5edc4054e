"""The API for programs: the same deeds as the pages, as JSON."""
