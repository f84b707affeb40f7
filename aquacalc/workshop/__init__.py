"""A workshop: whom it is for, its minutes, its exercises with a garden's numbers, its repeated readings."""
