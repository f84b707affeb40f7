"""Panels of a workshop: exercises that are marked, many readings of one water."""
