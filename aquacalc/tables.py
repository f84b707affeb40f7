"""Placeholder; see the brief."""
