"""A plain Django page with five queries, as a newcomer would write it: what ``bench/web.py`` measures against."""
