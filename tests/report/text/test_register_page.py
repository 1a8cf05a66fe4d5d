"""The register as page, JSON, spreadsheet and PDF, and the command that makes them."""

import csv
import json
import re
from io import StringIO
from pathlib import Path

import pytest
from pypdf import PdfReader
from typer.testing import CliRunner

from loadplan.cli import app
from loadplan.errors import InputError
from loadplan.files import shipped_folder
from loadplan.report.words.cautions import ONE_LINE
from loadplan.report.words.columns import WIDTH, breadth
from tests.files.builders import small, write

DEMO = shipped_folder("demo")
SHOP = DEMO / "shop.toml"
JOB = DEMO / "front-unit.toml"


def run(*arguments: str | Path) -> tuple[int, str]:
    done = CliRunner().invoke(app, ["shop", *map(str, arguments)])
    return done.exit_code, done.output


def test_one_job_that_holds_is_a_block_under_its_bay() -> None:
    code, page = run(SHOP, JOB)
    lines = page.splitlines()
    assert code == 0
    assert lines[0] == "Shop register: 1 job, 0 stops, 0 cautions, 0 double bookings"
    assert lines[3:5] == ["bay 2", "=" * WIDTH]
    assert lines[5].endswith("FOR PRACTICE: HOLDS ON PAPER")
    assert any("ratchet stand 3 t, S1" in line and "3000 kg a pair" in line and "1500 kg" in line for line in lines)
    assert any(line.strip().startswith("lift ") for line in lines)
    assert "so nobody signs" in page
    assert max(map(breadth, lines)) <= WIDTH


def test_weights_of_ones_own_leave_room_to_sign(tmp_path: Path) -> None:
    _, page = run(SHOP, write(tmp_path, small()))
    assert "Set by ____" in page
    assert "Checked by ____" in page


def test_the_same_bay_and_stands_thrice_are_told_in_one_line_each(tmp_path: Path) -> None:
    for name in ("again.toml", "and again.toml"):
        (tmp_path / name).write_bytes(JOB.read_bytes())
    (tmp_path / "shop.toml").write_bytes(SHOP.read_bytes())
    code, page = run(SHOP, JOB, tmp_path)
    assert code == 1
    assert "  - Lift bay 2, 2026-11-20 to 2026-11-24: jobs 1, 2 and 3." in page
    assert "  - S1, S2, S3 and S4 (ratchet stand 3 t), 2026-11-20 to 2026-11-24: jobs 1, 2 and 3." in page
    assert "ratchet stand 3 t: up to 12 wanted at once (2026-11-20 to 2026-11-24), 8 there: never enough" in page


def test_a_broken_job_is_a_line_and_a_stop_is_an_exit_code(tmp_path: Path) -> None:
    code, page = run(SHOP, JOB, tmp_path / "gone.toml")
    assert code == 1
    assert "gone.toml: is not there: check the path".replace(" ", "") in "".join(page.split())
    assert run(SHOP, DEMO / "rocking-on-two-stands.toml")[0] == 1


def test_machines_get_loads_in_newtons() -> None:
    _, out = run(SHOP, JOB, "--json")
    found = json.loads(out)
    (job,) = found["jobs"]
    assert (found["schema"], found["holds"], job["bay"], job["basis"]) == (
        "loadplan-register-1",
        True,
        "bay 2",
        "example",
    )
    assert job["pieces"][0]["rating_marked_n"] == pytest.approx(29419.95)
    assert job["pieces"][0]["rating_n"] == pytest.approx(14709.975)
    assert job["pieces"][0]["share"] == pytest.approx(job["pieces"][0]["most_n"] / 14709.975)


def test_a_spreadsheet_gets_a_row_a_piece_and_runs_nothing(tmp_path: Path) -> None:
    _, out = run(SHOP, JOB, write(tmp_path, small(title="=1+1")), "--csv", "--units", "us")
    rows = list(csv.DictReader(StringIO(out)))
    assert rows[0]["tag"] == "S1"
    assert float(rows[0]["rating as counted [lb]"]) == pytest.approx(3306.9, abs=0.1)
    assert {row["job"] for row in rows[-2:]} == {"'=1+1"}
    assert all(None not in row and None not in row.values() for row in rows)


def test_a_job_that_cannot_be_used_fills_a_row_of_the_table_too(tmp_path: Path) -> None:
    broken = tmp_path / "broken.toml"
    broken.write_text('schema = "loadplan-job-1"\nunits = "metric"\nstand = 3\n', "utf-8")
    _, out = run(SHOP, JOB, broken, "--csv")
    *usable, row = csv.DictReader(StringIO(out))
    assert usable
    assert {key: each for key, each in row.items() if each} == {"file": str(broken), "verdict": "cannot be used"}
    assert None not in row.values()


def test_the_page_on_paper_is_the_same_twice_and_never_an_input(tmp_path: Path) -> None:
    target = tmp_path / "register.pdf"
    run(SHOP, JOB, "-o", target)
    first = target.read_bytes()
    run(SHOP, JOB, "-o", target)
    assert first.startswith(b"%PDF")
    assert target.read_bytes() == first
    job = write(tmp_path, small())
    kept = job.read_bytes()
    assert run(SHOP, job, "-o", job)[0] != 0
    assert job.read_bytes() == kept


@pytest.mark.slow
def test_every_sheet_of_paper_has_the_cautions_in_short_once(tmp_path: Path) -> None:
    target = tmp_path / "register.pdf"
    run(SHOP, JOB.parent, "-o", target)
    pages = [re.sub(r"\s+", " ", page.extract_text()) for page in PdfReader(target).pages]
    assert len(pages) > 1
    assert [page.count(ONE_LINE) for page in pages] == [1] * len(pages)


@pytest.mark.parametrize(
    ("arguments", "told"),
    [
        ((SHOP,), "loadplan shop: needs a job, or a folder with jobs, behind the shop file"),
        ((JOB, JOB), f'{JOB}, schema: must be "loadplan-shop-1", is "loadplan-job-1"'),
        ((SHOP, JOB, "--json", "--csv"), "loadplan shop, --csv: must not stand beside --json: ask for one of them"),
        (("gone.toml", JOB), "gone.toml: is not there: check the path"),
    ],
)
def test_what_cannot_be_asked_or_read_ends_it_with_that_fault_alone(
    arguments: tuple[str | Path, ...], told: str
) -> None:
    done = CliRunner().invoke(app, ["shop", *map(str, arguments)])
    assert isinstance(done.exception, InputError)
    assert str(done.exception) == told
    assert done.output == ""
