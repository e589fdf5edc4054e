"""At which end the lead comes out, how, and how that is said."""
