"""For every test: nothing is left to chance or judged by the clock, so what passes here passes everywhere."""

import pytest
from hypothesis import HealthCheck, settings

from tests.command_line import Run, runner
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


@pytest.fixture
def run(monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]) -> Run:
    """Run the command line in this process: exit code, output, messages."""
    return runner(monkeypatch, capsys)
