"""The demo jobs, judged once for all tests of the house."""

import pytest

from loadplan.assess import assess
from loadplan.files import read_job
from loadplan.model.verdict import Assessment
from tests.house.tree import ROOT


@pytest.fixture(scope="session")
def demos() -> dict[str, Assessment]:
    jobs = sorted(path for path in (ROOT / "demo").glob("*.toml") if path.name != "shop.toml")
    return {path.name: assess(read_job(path)) for path in jobs}
