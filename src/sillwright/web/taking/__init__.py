"""Taking down the facts of an opening."""
