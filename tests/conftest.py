"""For every test: nothing is judged by the clock."""

from hypothesis import settings

settings.register_profile("house", deadline=None)
settings.load_profile("house")
