"""What would make a good year: levers of a garden, the search among them, and the changes in their order."""
