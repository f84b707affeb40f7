"""What of a run counts, as arrays of members: fish of size, heads, pickings, money, and what must hold."""
