"""Starting a filter: a forecast that every reading narrows, and what the readings may be telling besides."""
