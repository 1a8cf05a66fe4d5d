"""For every test: nothing is left to chance or judged by the clock, so what passes here passes everywhere."""

from hypothesis import HealthCheck, settings

from tests.examples import examples

settings.register_profile(
    "house",
    examples(100),
    deadline=None,
    derandomize=True,
    database=None,
    # How long an example takes to draw is the machine's affair.
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("house")
