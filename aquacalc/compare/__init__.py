"""Gardens side by side on the same tries."""
