"""`python -m aquacalc` is the command `aquacalc`."""

from aquacalc.cli.command import run

run()
