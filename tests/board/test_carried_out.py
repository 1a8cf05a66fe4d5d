"""A job from plan to paper in one go: planned, carried out otherwise than planned, judged again, finished, printed.

The program is killed in the middle of it, at moments that chance picks: nothing that was shown as kept is lost.
"""

import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from random import Random

import pytest
from playwright.sync_api import Browser
from pypdf import PdfReader

import loadplan
from loadplan.model.work_record import Deed
from tests.board.carrying_out import ALL_AT_ONCE, DONE, OPEN, TABLET, Program, Worker
from tests.board.chromium import ready, settled
from tests.board.hands import finger, lift, reach
from tests.files.photographs import jpeg, png
from tests.tracked import shipped

pytestmark = pytest.mark.slow
STEPS = 9


@pytest.fixture
def worker(chromium: Browser, tmp_path: Path) -> Iterator[Worker]:
    for source in shipped("demo", "*.toml"):
        shutil.copy(source, tmp_path)
    program = Program(tmp_path / "front-unit.toml")
    tablet = chromium.new_context(
        viewport={"width": TABLET[0], "height": TABLET[1]}, has_touch=True, reduced_motion="reduce"
    )
    tablet.set_default_timeout(60_000)
    yield Worker(tablet.new_page(), program, Random(16))
    tablet.close()
    program.kill()


def test_a_job_is_planned_carried_out_judged_again_finished_and_printed(worker: Worker) -> None:
    _planned_by_finger(worker)
    page = worker.page
    page.goto(f"http://127.0.0.1:{worker.program.port}/plan/0/bay")
    _named(worker, "Kim Ö")
    for step in range(STEPS):
        worker.go()
        assert f"Step {step + 1} of {STEPS}" in (page.locator("h1").text_content() or "")
        if step == STEPS - 1:
            _read_on_the_lift(worker)
        if step == 1:
            _still_on(worker)
        if step == 3:
            _found_otherwise(worker)
        worker.tap_and_die(OPEN)
        if page.locator(ALL_AT_ONCE).count():
            worker.tap_and_die(ALL_AT_ONCE)
        worker.tick_all()
        worker.tap_and_die(DONE)
        worker.go(step)
        if page.locator(DONE).count():
            worker.tap(DONE)
    assert worker.record.entries[-1].deed is Deed.FINISHED
    assert worker.record.standing is not None
    assert worker.record.standing.finished
    # Some kills came before the disk had it, others after: else the moments were none.
    assert min(worker.lost, worker.kept) >= 2
    _learnt_for_the_next_job(worker)
    _on_paper(worker)
    _weighed_by_the_record(worker)


def _planned_by_finger(worker: Worker) -> None:
    """Move a stand on the plan by finger, and save it."""
    page = ready(worker.page, worker.program.start())
    before = loadplan.read_job(worker.program.job).supports[4]
    lift(finger(page, reach(page, "target-4"), (0, 24)))
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    page.locator("#save").tap()
    page.locator("#save-sure").tap()
    page.wait_for_selector("#unsaved", state="hidden")
    after = loadplan.read_job(worker.program.job).supports[4]
    assert after.at != before.at
    assert "STOP" not in (page.locator("#band [data-say=word]").text_content() or "")


def _named(worker: Worker, name: str) -> None:
    """Say who works here."""
    worker.page.locator("#who").fill(name)
    worker.tap("text=Keep the name")


def _read_on_the_lift(worker: Worker) -> None:
    """Read the lift's own gauge with the whole vehicle on it: nothing stands any more that a hand could turn."""
    planned = worker.page.locator(".bay-stand:has(input[value='bay 2']) summary").first.text_content() or ""
    found = re.search(r"planned ([\d.]+) kg", planned)
    assert found is not None
    told = worker.read("bay 2", f"{float(found[1]) + 4:.0f} kg")
    assert "bay 2 reads" in told
    assert "It fits." in told
    assert worker.page.locator(".bay-stand button:has-text('by hand')").count() == 0


def _still_on(worker: Worker) -> None:
    """Find a hose that is still on, and say where it is."""
    page = worker.page
    worker.unfold("#forgotten")
    page.locator("#forgotten").fill("heater hose, clip at the bulkhead")
    worker.tap("text=It was still on")
    page.locator("#at-1").select_option("powertrain")
    page.locator("#front-1").fill("-200")
    page.locator("#left-1").fill("150")
    worker.tap("button:has-text('It has to be tied up')")
    assert worker.record.entries[-1].deed is Deed.PLACED
    assert "200 mm back, 150 mm left; it has to be tied up" in worker.says()
    assert worker.page.locator("button:has-text('Write these lines')").count() == 0


def _learnt_for_the_next_job(worker: Worker) -> None:
    """On the last screen the lines are shown, and written when that is tapped."""
    worker.go()
    lines = worker.page.locator(".bay-lines").text_content() or ""
    assert lines.startswith('[[tie]]\nname = "heater hose"\n')
    vehicle = worker.program.job.with_name("van-longitudinal-diesel-rwd.toml")
    assert not vehicle.exists()
    worker.tap("button:has-text('Write these lines')")
    assert lines.strip() in vehicle.read_text("utf-8")
    assert worker.record.entries[-1].deed is Deed.LISTED
    assert "This step is done." in worker.says()
    assert loadplan.read_job(worker.program.job).vehicle.ties[-1].name == "heater hose"


def _weighed_by_the_record(worker: Worker) -> None:
    """What was read at the bay is what the terminal learns from."""
    job = worker.program.job
    command = [sys.executable, "-m", "loadplan", "weigh", job.name, "--stage", "4"]
    told = subprocess.run(command, cwd=job.parent, check=True, capture_output=True, text=True).stdout
    words = " ".join(told.split())
    assert "Read at the bay, and kept in the record: E and A." in words
    assert "Readings and plan agree" in words
    assert "What was still on was listed in the vehicle's file since" in words


def _found_otherwise(worker: Worker) -> None:
    """Find that a scale reads more than planned: the flywheel is on still. It is answered for, and read again."""
    page = worker.page
    told = worker.read("E", "82 kg")
    assert "Stop, and look before going on" in told
    assert "a part still on that the plan has off" in told
    assert "contradict the plan" in worker.says()
    assert worker.open_lines() == 1
    assert "a qualified person says that work may go on" in (page.locator(OPEN).text_content() or "")
    worker.tap_and_die(OPEN)
    worker.read("E", "60 kg")
    told = worker.read("A", "57 kg")
    assert "It fits." in told
    assert "With what the scales read, all steps: FOR PRACTICE" in worker.says()
    worker.unfold("#note")
    page.locator("#note").fill("flywheel was still on")
    worker.tap("text=Keep the note")
    worker.unfold("#photo")
    page.locator("#photo").set_input_files({"name": "IMG_7.jpg", "mimeType": "image/jpeg", "buffer": jpeg(3000, 2000)})
    worker.tap("text=Send and keep it")
    assert worker.record.entries[-1].deed is Deed.PHOTOGRAPHED
    worker.program.job.with_name("seal.png").write_bytes(png(640, 480))
    worker.go(3)
    worker.unfold("button:has-text('seal.png')")
    worker.tap("button:has-text('seal.png')")
    assert worker.record.entries[-1].words == "seal.png"


def _on_paper(worker: Worker) -> None:
    """Print what was done, and read it."""
    job = worker.program.job
    pdf = job.with_name("done.pdf")
    command = [sys.executable, "-m", "loadplan", "sheet", job.name, "--record", "-o", pdf.name]
    subprocess.run(command, cwd=job.parent, check=True, capture_output=True)
    pages = PdfReader(pdf).pages
    text = " ".join(page.extract_text() for page in pages)
    # Each page names the pictures of all.
    assert {each.image.size for page in pages for each in page.images if each.image} == {(360, 240), (360, 270)}
    words = " ".join(text.split())
    kept = ("flywheel was still on", "E carries 82 kg", "bay 2 carries", "heater hose")
    for told in ("Now: finished", "By Kim Ö", "entries; the sum of the last is", *kept, "Not ticked"):
        assert (told in words) is (told != "Not ticked"), told
    assert words.count("Step done") == STEPS
