"""Lessons: a door with hidden faults for a class, what it asked, who was there. Of no customer and no site."""
