"""Calculations for a loop of fish, bacteria and vegetables."""

__version__ = "0.1.0"
