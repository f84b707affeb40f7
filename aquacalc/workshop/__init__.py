"""A workshop: whom it is for, its hours, its exercises with this garden's own numbers, its repeated readings."""
