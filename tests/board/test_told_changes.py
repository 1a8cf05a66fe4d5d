"""What changed is told in words: when saving, when two changed one file, and when something is taken back."""

import os
from dataclasses import replace

import pytest
from playwright.sync_api import BrowserContext

import loadplan
from loadplan.board.job_differences import differences
from loadplan.board.line_merge import merged
from loadplan.board.undo_history import Plan
from loadplan.model.job import Stack
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System
from tests.board.chromium import Served, settled
from tests.board.desk import DEMO, Page
from tests.board.hands import to_step, watched


def _theirs(page: Page, before: str, after: str) -> None:
    text = page.path.read_text("utf-8")
    assert before in text
    page.path.write_text(text.replace(before, after, 1), "utf-8")


def test_saving_says_in_words_what_changes(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    page.change("remove", stand=4)
    page.change("name_step", text="Set it down slowly")
    told = page.post("save").json()
    assert told["words"][0] == ("A: under cradle front left to free under cradle, 300 mm front, 300 mm left.")
    assert "E is taken out." in told["words"]
    assert 'Step "Van raised clear, tall prop under the tail" is called "Set it down slowly" now.' in told["words"]
    assert any(line.startswith("- under") for line in told["changes"])


def test_every_field_of_a_stand_and_a_step_that_changes_has_words() -> None:
    job = loadplan.read_job(DEMO / "front-unit.toml")
    reader = reader_of(job, System.METRIC)

    def told(**changed: object) -> list[str]:
        stand = replace(job.supports[0], **changed)
        after = replace(job, supports=(stand, *job.supports[1:]))
        return [each.says for each in differences(job, after, reader)]

    height = job.supports[0].height or 0.0
    assert told(height=height + 0.04) == [f"A: {reader.length(height)} to {reader.length(height + 0.04)}"]
    assert told(shim=Stack(0.012, "birch", crib=False)) == ["A: 12 mm shim"]
    for name, value in (("friction", 0.3), ("standby", True), ("keep", True)):
        assert told(**{name: value}) == ["A: more about it: see the lines"], name
    assert told(height=height + 1e-5) == ["A: changed: see the lines"]
    step = replace(job.stages[0], unattended=not job.stages[0].unattended, confirm=("Look again",), lowered=0.01)
    says = [each.says for each in differences(job, replace(job, stages=(step, *job.stages[1:])), reader)]
    assert len(says) == 1
    assert all(words in says[0] for words in ("unattended", "confirm changed", "10 mm lowered"))
    heavier = replace(job.vehicle.parts[0], mass=job.vehicle.parts[0].mass + 10)
    vehicle = replace(job.vehicle, parts=(heavier, *job.vehicle.parts[1:]))
    says = [each.says for each in differences(job, replace(job, vehicle=vehicle), reader)]
    assert len(says) == 1
    assert " kg to " in says[0]
    assert differences(job, job, reader) == ()


def test_a_thing_that_is_only_called_otherwise_is_told_as_that_and_once() -> None:
    job = loadplan.read_job(DEMO / "front-unit.toml")
    reader = reader_of(job, System.METRIC)
    text = (DEMO / "front-unit.toml").read_text("utf-8")

    def told(before: str, after: str) -> list[str]:
        assert before in text
        there = loadplan.files.read_job(DEMO / "front-unit.toml", text=text.replace(before, after))
        return [each.says for each in differences(job, there, reader)]

    # In the steps the stand is named, too.
    assert told('"tail prop"', '"long prop"') == ['Stand "tail prop" is called "long prop" now']
    # With more than the name it may be another one.
    both = text.replace('"tail prop"', '"long prop"').replace("lowered     = 8", "lowered     = 9")
    changed = loadplan.files.read_job(DEMO / "front-unit.toml", text=both)
    assert len(differences(job, changed, reader)) == 2
    part = job.vehicle.parts[-1]
    heavier = replace(part, name="another", mass=part.mass + 1)
    vehicle = replace(job.vehicle, parts=(*job.vehicle.parts[:-1], heavier))
    says = [each.says for each in differences(job, replace(job, vehicle=vehicle), reader)]
    assert says == [f"Part {part.name}: taken out", "Part another: new"]


def test_the_same_word_elsewhere_is_not_called_otherwise() -> None:
    """A stand named as the tag that is painted on it, a step named as a part: only the one of them has a new name."""
    job = loadplan.read_job(DEMO / "front-unit.toml")
    stand, part, step = job.supports[0], job.vehicle.parts[-1], job.stages[0]
    bare = replace(job.vehicle, joints=(), points=(), ties=())
    stands = [replace(stand, name=name, tag="S9", say="S9") for name in ("S9", "left")]
    parts = [replace(part, name=name) for name in (part.name, "another")]
    before, after = (
        replace(
            job,
            supports=(named,),
            vehicle=replace(bare, name=part.name, parts=(called,)),
            stages=(replace(step, name=part.name, in_place=(), confirm=(part.name,)),),
        )
        for named, called in zip(stands, parts, strict=True)
    )
    says = [each.says for each in differences(before, after, reader_of(job, System.METRIC))]
    assert says == [f'Part "{part.name}" is called "another" now', 'Stand "S9" is called "left" now']


def test_a_name_that_two_kinds_share_is_given_to_neither() -> None:
    """A stand at the point "left": the point stays, whatever a part of the same name is called now."""
    job = loadplan.read_job(DEMO / "front-unit.toml")
    part = replace(job.vehicle.parts[-1], name="left")
    point = replace(job.vehicle.points[0], name="left")
    bare = replace(job.vehicle, joints=(), ties=(), points=(point,))
    before, after = (
        replace(
            job,
            supports=(replace(job.supports[0], point="left"),),
            vehicle=replace(bare, parts=(replace(part, name=name),)),
            stages=(replace(job.stages[0], in_place=()),),
        )
        for name in ("left", "another")
    )
    says = [each.says for each in differences(before, after, reader_of(job, System.METRIC))]
    assert says == ["Part left: taken out", "Part another: new"]


def test_a_part_that_is_called_otherwise_on_the_page_is_told_as_that(page: Page) -> None:
    job = page.draft.given
    taken = {name for stage in job.stages for name in stage.off}
    number, part = next((n, each.name) for n, each in enumerate(job.vehicle.parts) if each.name in taken)
    page.change("thing", what="part", item=number, fields={"name": "another name"})
    words = page.post("save").json()["words"]
    assert f'Part "{part}" is called "another name" now.' in words
    # Not of each step in which it comes off, too.
    assert not any("off" in each for each in words)


def test_of_two_that_are_alike_nobody_says_which_is_which() -> None:
    job = loadplan.read_job(DEMO / "front-unit.toml")
    first = job.stages[0]
    before = replace(job, stages=(replace(first, name="a"), replace(first, name="b")))
    after = replace(job, stages=(replace(first, name="c"), replace(first, name="b")))
    twins = replace(job, stages=(replace(first, name="c"), replace(first, name="d")))
    reader = reader_of(job, System.METRIC)
    assert [each.says for each in differences(before, after, reader)] == ['Step "a" is called "c" now']
    assert all("called" not in each.says for each in differences(before, twins, reader))


def test_what_is_only_written_otherwise_is_told_so(page: Page) -> None:
    plan = page.desk.plans[0].plan
    plan.change(plan.draft.text + "# a note\n", plan.draft.what_if)
    page.show()
    assert page.post("save").json()["words"] == ["Only how it is written: see the lines."]


def test_two_changes_that_do_not_touch_are_both_taken(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    _theirs(page, "lowered     = 8", "lowered     = 9")
    clash = page.post("save", sure=True).json()
    assert clash["both"]
    assert any(line.startswith("A: ") for line in clash["yours_words"])
    assert any("8 mm to 9 mm lowered" in line for line in clash["theirs_words"])
    theirs = page.path.read_bytes()
    taken = page.post("both")
    assert taken.status_code == 200, taken.text
    page.seen = taken.json()
    assert page.path.read_bytes() == theirs, "nothing is written before it was looked at"
    assert page.seen["unsaved"]
    assert page.post("save", sure=True).status_code == 200
    job = loadplan.read_job(page.path)
    assert job.supports[0].at[:2] == (0.3, 0.3)
    assert 0.009 in [stage.lowered for stage in job.stages]


def test_after_both_were_taken_undo_takes_back_yours_and_never_theirs(page: Page) -> None:
    page.show(2)
    page.change("move", stand=1, x=0.3, y=-0.3, snap=0.0)
    page.show(2)
    done = page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)["said"]
    _theirs(page, "lowered     = 8", "lowered     = 9")
    page.seen = page.post("both").json()
    both = page.draft.text
    for stand in (0, 1):
        page.seen = page.post("undo").json()
        assert not any("lowered" in each for each in page.post("save").json()["words"]), stand
        assert page.stand("AB"[stand])["point"] is not None
    assert (page.seen["unsaved"], page.seen["undo"]) == (False, False)
    page.seen = page.post("redo").json()
    page.seen = page.post("redo").json()
    assert page.seen["said"] == f"Made again: {done}"
    assert page.draft.text == both


def test_what_touches_is_not_taken_together(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    _theirs(page, 'under  = "cradle front left"', 'under  = "cradle front left"\nfriction = 0.3')
    assert not page.post("save").json()["both"]
    before, text = page.path.read_bytes(), page.draft.text
    assert page.post("both").status_code == 422
    assert (page.path.read_bytes(), page.draft.text) == (before, text)


def test_a_file_that_is_no_job_any_more_is_told_and_not_taken(page: Page) -> None:
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    page.path.write_text("nonsense", "utf-8")
    clash = page.post("save").json()
    assert not clash["both"]
    assert "cannot be used" in clash["theirs_words"][0]
    text = page.draft.text
    assert page.post("both").status_code == 422
    assert page.draft.text == text


def test_a_kill_after_both_were_taken_loses_neither(page: Page) -> None:
    page.show(2)
    page.change("move", stand=0, x=0.3, y=0.3, snap=0.0)
    _theirs(page, "lowered     = 8", "lowered     = 9")
    page.seen = page.post("both").json()
    text = page.draft.text
    # A killed program lets go of its journal, and takes nothing away.
    os.close(page.desk.plans[0].plan._journal._file)
    again = Plan(page.path)
    assert again.draft.text == text
    assert again.as_read() == page.path.read_text("utf-8")


@pytest.mark.parametrize(
    ("one", "other"),
    [("a\nB\nc\n", "a\nb\nC\n"), ("a\nx\nb\nc\n", "a\ny\nb\nc\n"), ("", "A\nb\nc\n")],
)
def test_lines_that_touch_are_not_merged(one: str, other: str) -> None:
    assert merged("a\nb\nc\n", one, other) is None


def test_undo_says_what_it_took_back(page: Page) -> None:
    page.show(2)
    done = page.change("remove", stand=4)["said"]
    page.change("under", stand=0, point=0)
    page.post("undo")
    page.show(2)
    assert page.post("undo").json()["said"] == f"Taken back: {done}"
    page.show(2)
    assert page.post("redo").json()["said"] == f"Made again: {done}"


def test_both_sides_are_shown_in_words_and_taken_by_a_tap(context: BrowserContext, desk: Served) -> None:
    path = desk.folder / "front-unit.toml"
    with watched(context, desk) as page:
        to_step(page, 2)
        page.locator("#row-0").click()
        page.locator("#nudges button").first.click()
        page.wait_for_selector("#unsaved:visible")
        page.keyboard.press("Escape")
        path.write_text(path.read_text("utf-8").replace("lowered     = 8", "lowered     = 9"), "utf-8")
        page.locator("#save").click()
        page.wait_for_selector("#conflict-dialog[open]")
        assert "lowered" in page.locator("#theirs-words").inner_text()
        assert page.locator("#yours-words").inner_text().startswith("A: ")
        assert not page.locator("#theirs").is_visible()
        page.locator("#conflict-both").click()
        page.wait_for_selector("#stale", state="hidden")
        settled(page)
        page.locator("#save").click()
        page.wait_for_selector("#save-dialog[open]")
        assert page.locator("#save-words").inner_text().startswith("A: ")
        assert not page.locator("#save-lines").is_visible()
        page.locator("#save-lines-room summary").click()
        assert page.locator("#save-lines").is_visible()
        page.locator("#save-sure").click()
        page.wait_for_selector("#unsaved", state="hidden")
    assert "lowered     = 9" in path.read_text("utf-8")
