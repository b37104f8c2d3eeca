"""Layout: which blank is cut from which sheet or stick, and by which cuts."""
