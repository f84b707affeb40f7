"""Settings of all tests: hypothesis gives the same examples on every machine and knows no deadline."""

from hypothesis import settings

settings.register_profile("steady", derandomize=True, deadline=None)
settings.load_profile("steady")
