"""The demo jobs, judged once for all tests of the house."""

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.verdict import Assessment
from tests.demo.jobs import names
from tests.house.tree import ROOT


@pytest.fixture(scope="session")
def demos() -> dict[str, Assessment]:
    return {f"{name}.toml": assess(read_job(ROOT / "demo" / f"{name}.toml")) for name in names()}
