"""Water that is topped up: what it carries, what a year of it leaves behind, rain, and how much is wanted."""
