"""A walk of many doors in a day: what is taken down at each, what is missing, and the list of the evening."""
