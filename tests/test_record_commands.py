"""The record of a job on the command line: printed, told in the register, and held against a plan that changed."""

import json
import re
import shutil
from dataclasses import replace
from datetime import UTC, datetime, timedelta
from io import BytesIO
from pathlib import Path

import pytest
from pypdf import PdfReader

from loadplan.files import read_job, shipped_folder
from loadplan.files.photograph_file import content_sum
from loadplan.files.work_record_file import add_to_record, record_path
from loadplan.model.work_record import LOOKED_AT, Deed, FoundAtStand, RecordEntry
from loadplan.report.sheet.sheet_number import sheet_number
from tests.command_line import Run
from tests.files.photographs import jpeg

DEMO = shipped_folder("demo")
EIGHT = datetime(2026, 11, 20, 8, tzinfo=UTC)
NIGHT = "Overnight"


@pytest.fixture
def job(tmp_path: Path) -> Path:
    """Return the demo's front unit, with a morning's work in its record."""
    for name in ("front-unit.toml", "shop.toml"):
        shutil.copyfile(DEMO / name, tmp_path / name)
    path = tmp_path / "front-unit.toml"
    plan = read_job(path)
    first = plan.stages[0].name
    done = [
        ("", Deed.BEGUN, "", None),
        (first, Deed.TICKED, "At touch: every saddle fully home", None),
        (first, Deed.READ, "", FoundAtStand("A", 500.0, None, 110.0, 300.0)),
        (first, Deed.READ, "", FoundAtStand("B", turns=True, planned=110.0, most=300.0)),
        (first, Deed.NOTED, "a clip was still on", None),
        (first, Deed.STEP_DONE, "", None),
        (NIGHT, Deed.TICKED, "Leaving: barrier", None),
        (NIGHT, Deed.MOVED, "C leans", None),
        (NIGHT, Deed.PHOTOGRAPHED, "photo-12.jpg", None),
    ]
    entries = [
        RecordEntry(EIGHT + timedelta(minutes=7 * number), "K", sheet_number(plan), *each)
        for number, each in enumerate(done)
    ]
    add_to_record(path, *entries)
    return path


def printed(path: Path) -> str:
    pages = PdfReader(BytesIO(path.read_bytes())).pages
    return re.sub(r"\s+", " ", " ".join(page.extract_text() for page in pages))


def test_what_moved_is_over_once_a_step_is_done_and_a_name_gets_no_second_stop(run: Run, job: Path) -> None:
    number = sheet_number(read_job(job))
    add_to_record(job, RecordEntry(EIGHT + timedelta(hours=9), "J. B.", number, "Overnight", Deed.STEP_DONE, ""))
    pdf = job.with_name("over.pdf")
    assert run("sheet", job, "--record", "-o", pdf).code == 0
    told = printed(pdf)
    assert "no step is done since" not in told
    assert "By K and J. B. By sheet" in told


def test_the_record_is_printed_as_what_was_done(run: Run, job: Path) -> None:
    pdf = job.with_name("done.pdf")
    assert run("sheet", job, "--record", "-o", pdf).code == 0
    told = printed(pdf)
    for said in (
        "2026-11-20 08:07",
        "Ticked: At touch: every saddle fully home",
        "A carries 51 kg (planned 11 kg, at most 31 kg on this floor: 40 kg more, above what any floor gives it)",
        "B turns by hand (planned 11 kg",
        "Note: a clip was still on",
        "Something moved: C leans",
        "photo-12.jpg",
        "Now: step 5 of 9, Overnight: at it since 2026-11-20 08:42; something moved, and no step is done since.",
        f"By sheet {sheet_number(read_job(job))}.",
        "Not ticked",
        "At touch: no stand turns by hand; lift on its locks",
        "Set in place, C: ratchet stand 3 t, S3, at 270 mm back, 385 mm left",
        "Makers' ratings, local rules and a qualified person go before this plan",
    ):
        assert said in told, said
    assert "plan is another" not in told
    assert "Step 1: " in told
    assert "Step 2: " not in told, "boxes of a step that nobody began are not told as left open"


def test_a_photograph_is_printed_small_under_its_line(run: Run, job: Path) -> None:
    plan, name = read_job(job), job.with_name("IMG 7.jpg")
    name.write_bytes(jpeg(900, 600))
    hung = RecordEntry(EIGHT + timedelta(hours=9), "J. B.", sheet_number(plan), NIGHT, Deed.PHOTOGRAPHED, name.name)
    add_to_record(job, replace(hung, picture=content_sum(name.read_bytes())))
    pdf = job.with_name("with.pdf")
    assert run("sheet", job, "--record", "-o", pdf).code == 0
    told = printed(pdf)
    assert "2026-11-20 17:00 J. B. Photograph: IMG 7.jpg" in told
    assert "photo-12.jpg (not shown: its file is not there any more, or cannot be read)" in told
    # Its pages share what they may draw, so a page lists the picture of another, too.
    (picture,) = {each.data: each for page in PdfReader(pdf).pages for each in page.images}.values()
    assert picture.image is not None
    assert picture.image.size == (360, 240)
    red, blue = (picture.image.convert("RGB").getpixel((x, 120)) for x in (90, 270))
    assert red[0] > 150 > red[2]  # type: ignore[index]
    assert blue[2] > 150 > blue[0]  # type: ignore[index]


def read_over(job: Path, step: int = 1) -> None:
    """Write down that F was read far above what any weights put there."""
    plan = read_job(job)
    found = FoundAtStand("F", 3000.0, None, 640.0, 1250.0)
    at, number, name = EIGHT + timedelta(hours=2), sheet_number(plan), plan.stages[step].name
    add_to_record(job, RecordEntry(at, "J. B.", number, name, Deed.READ, found=found))


def test_check_counts_what_was_read_at_the_bay_and_says_where_from(run: Run, job: Path) -> None:
    fits = run("check", job)
    assert (fits.code, "STOP" in fits.out) == (0, False)
    assert "What was read at the bay in step 1 counts" in " ".join(fits.out.split())
    number = sheet_number(read_job(job))
    read_over(job)
    code, out, _ = run("check", job)
    assert code == 1
    assert out.startswith("FOR PRACTICE: STOP")
    told = " ".join(out.split())
    assert "STOP step 2: Read at the bay 2026-11-20 10:00 by J. B.: F reads 305.9 kg; the plan says" in told
    assert "What was read at the bay in steps 1 to 2 counts" in told
    assert re.search(r"^ +2 +STOP ", out, re.MULTILINE)
    assert "FOR PRACTICE: STOP" in run("check", job, "--from", "4").out, "what stands in step 2 stands there yet"
    assert sheet_number(read_job(job)) == number, "readings are no other plan"
    record_path(job).unlink()
    record_path(job).with_suffix(".count").unlink()
    assert "read at the bay" not in run("check", job).out.lower()


def test_the_machine_output_counts_what_was_read_at_the_bay(run: Run, job: Path) -> None:
    read_over(job)
    code, out, _ = run("check", job, "--json")
    told = json.loads(out)
    assert (code, told["verdict"], told["stages"][1]["verdict"]) == (1, "stop", "stop")
    (reading,) = told["stages"][1]["readings"]
    assert (reading["support"], reading["found_n"]) == ("F", pytest.approx(3000.0))
    assert [each["verdict"] for each in told["stages"][1]["findings"] if each["check"] == "reading"] == ["stop", "stop"]
    assert told["record"] == [
        "What was read at the bay in steps 1 to 2 counts: the verdict is the worse of the plan's and that with it."
    ]
    record_path(job).unlink()
    record_path(job).with_suffix(".count").unlink()
    assert "record" not in json.loads(run("check", job, "--json").out)


@pytest.mark.slow
def test_a_folder_and_the_shop_say_of_a_job_what_check_says(run: Run, job: Path) -> None:
    shop = job.with_name("shop.toml")
    assert "FOR PRACTICE: STOP" not in run("shop", shop, job).out
    assert run("check", job.parent).code == 0
    read_over(job)
    code, out, _ = run("shop", shop, job)
    assert (code, "FOR PRACTICE: STOP" in out) == (1, True)
    assert "The verdict is worse than the plan's, by what was read at the bay: check says why" in " ".join(out.split())
    code, out, _ = run("check", job.parent)
    told = " ".join(out.split())
    assert (code, "reading: F, step 2" in told) == (1, True)
    assert "By their records - front-unit.toml: What was read at the bay in steps 1 to 2 counts" in told
    (line,) = json.loads(run("check", job.parent, "--json").out)["jobs"]
    assert (line["verdict"], len(line["record"])) == ("stop", 1)
    text = record_path(job).read_text("utf-8")
    record_path(job).write_text(text.replace("who", "whom", 1), "utf-8")
    code, out, _ = run("check", job.parent)
    told = " ".join(out.split())
    assert (code, "The record of this job cannot be read." in told, "reading: the record, step 1" in told) == (
        0,
        True,
        True,
    )
    assert run("check", job.parent, "--strict").code == 1
    assert "No jobs: shop.toml" in told


def test_the_plan_stays_what_it_is_whatever_was_read(run: Run, job: Path) -> None:
    run("sheet", job, "-o", job.with_name("before.pdf"))
    read_over(job)
    code, _, _ = run("sheet", job, "-o", job.with_name("after.pdf"))
    assert printed(job.with_name("after.pdf")) == printed(job.with_name("before.pdf"))
    assert code == 0


def test_what_was_read_where_the_plan_has_nothing_any_more_is_told_and_not_counted(run: Run, job: Path) -> None:
    plan = read_job(job)
    entries = [
        RecordEntry(EIGHT, "K", sheet_number(plan), step, Deed.READ, found=FoundAtStand(name, 9000.0))
        for step, name in ((plan.stages[0].name, "Q"), ("Weigh it", "A"))
    ]
    add_to_record(job, *entries)
    code, out, _ = run("check", job)
    assert code == 0
    told = " ".join(out.split())
    assert (
        f"What was read at Q in {plan.stages[0].name} and A in Weigh it does not count: this plan has no such" in told
    )


def test_what_was_read_in_a_step_that_is_called_otherwise_now_is_a_caution(run: Run, job: Path) -> None:
    assert run("check", job, "--strict").code == 1, "something moved"
    plan = read_job(job)
    done = RecordEntry(EIGHT + timedelta(hours=1), "K", sheet_number(plan), NIGHT, Deed.STEP_DONE)
    add_to_record(job, done)
    assert run("check", job, "--strict").code == 0
    entry = RecordEntry(EIGHT, "K", sheet_number(plan), "Weigh it", Deed.READ, found=FoundAtStand("F", 3000.0))
    add_to_record(job, entry)
    code, out, _ = run("check", job, "--strict")
    assert (code, "FOR PRACTICE: CAUTION" in out) == (1, True)
    assert "cannot be told: the plan has no such place any more as F in Weigh it. It may have been a stop." in (
        " ".join(out.split())
    )


def test_what_moved_is_told_until_it_was_looked_at(run: Run, job: Path) -> None:
    told = json.loads(run("check", job, "--json").out)
    (finding,) = [each for each in told["stages"][4]["findings"] if each["subject"] == "what moved"]
    assert (told["verdict"], finding["verdict"]) == ("caution", "caution")
    assert finding["says"].startswith("Something moved at the bay 2026-11-20 08:49 (C leans; kept by K), and was not")
    number = sheet_number(read_job(job))
    add_to_record(job, *(RecordEntry(EIGHT, "K", number, NIGHT, Deed.TICKED, each) for each in LOOKED_AT))
    assert json.loads(run("check", job, "--json").out)["verdict"] == "holds"


def test_a_damaged_count_beside_a_whole_record_is_told(run: Run, job: Path) -> None:
    record_path(job).with_suffix(".count").write_bytes(bytes(100))
    said = "JOB-record.count beside this record is damaged, or something else: whether entries are missing at its end"
    assert said in " ".join(run("check", job).out.split())
    record_path(job).with_suffix(".count").unlink()
    said = "JOB-record.count, which says how long this record was, is not beside it: whether entries are missing at"
    assert said in " ".join(run("check", job).out.split())


def test_the_record_says_which_command_lists_what_was_still_on(run: Run, job: Path) -> None:
    plan = read_job(job)
    forgot = RecordEntry(EIGHT + timedelta(hours=3), "K", sheet_number(plan), NIGHT, Deed.FORGOTTEN, "heater hose")
    add_to_record(job, forgot)
    assert run("sheet", job, "--record", "-o", job.with_name("done.pdf")).code == 0
    told = printed(job.with_name("done.pdf"))
    assert "Was still on: heater hose. `loadplan forgotten JOB` lists it in the vehicle's file" in told


def test_without_a_record_there_is_nothing_to_print(run: Run, job: Path) -> None:
    record_path(job).unlink()
    code, out, err = run("sheet", job, "--record", "-o", job.with_name("done.pdf"))
    assert (code, out) == (2, "")
    assert "front-unit-record.toml" in err
    assert not job.with_name("done.pdf").exists()


@pytest.mark.slow
def test_a_plan_that_changed_after_work_began_says_so_everywhere(run: Run, job: Path) -> None:
    assert "this plan is another" not in run("check", job).out
    before = sheet_number(read_job(job))
    job.write_text(
        re.sub(r"^title *=.*$", 'title = "Another plan"', job.read_text("utf-8"), flags=re.MULTILINE), "utf-8"
    )
    assert f"Work began 2026-11-20 08:00, and was done by sheet {before}: this plan is another" in (
        run("check", job).out.replace("\n", " ")
    )
    for asked, name in ((["--record"], "done.pdf"), ([], "sheet.pdf")):
        run("sheet", job, *asked, "-o", job.with_name(name))
        assert f"was done by sheet {before}: this plan is another" in printed(job.with_name(name))


def test_the_register_says_where_the_job_stands_and_what_waits_overnight(run: Run, job: Path) -> None:
    told = run("shop", job.with_name("shop.toml"), job, "-o", job.with_name("register.pdf")).out
    stands = "at it since 2026-11-20 08:42; something moved, and no step is done since; left alone at this step."
    assert f"Step 5 of 9, Overnight: {stands}" in " ".join(told.split())
    assert "left alone at this step" in printed(job.with_name("register.pdf"))
    record_path(job).unlink()
    assert "left alone at this step" not in run("shop", job.with_name("shop.toml"), job).out


def test_the_register_says_that_a_record_was_edited(run: Run, job: Path) -> None:
    said = "its record was edited by hand"
    assert said not in run("shop", job.with_name("shop.toml"), job).out
    text = record_path(job).read_text("utf-8")
    record_path(job).write_text(text.replace("a clip was still on", "all was off", 1), "utf-8")
    told = run("shop", job.with_name("shop.toml"), job, "-o", job.with_name("register.pdf")).out
    assert said in " ".join(told.split())
    assert said in printed(job.with_name("register.pdf"))


def test_a_record_without_its_end_is_told_everywhere(run: Run, job: Path) -> None:
    pdf = job.with_name("whole.pdf")
    run("sheet", job, "--record", "-o", pdf)
    assert "9 entries; the sum of the last is " in printed(pdf)
    pieces = record_path(job).read_text("utf-8").split("\n[[done]]\n")
    record_path(job).write_text("\n[[done]]\n".join(pieces[:-3]), "utf-8")
    said = "Entries that were kept at the end of this record are not there any more (3)"
    told = " ".join(run("check", job).out.split())
    assert (said in told, told.startswith("FOR PRACTICE: CAUTION")) == (True, True)
    run("sheet", job, "--record", "-o", job.with_name("cut.pdf"))
    assert said in printed(job.with_name("cut.pdf"))
    shop = job.with_name("shop.toml")
    assert "3 entries at the end of its record are missing" in " ".join(run("shop", shop, job).out.split())
    record_path(job).unlink()
    assert "Its record was last written to 2026-11-20" in " ".join(run("shop", shop, job).out.split())
    code, _, err = run("sheet", job, "--record", "-o", job.with_name("gone.pdf"))
    assert (code, "9 entries were kept in it" in err) == (2, True)


def test_a_spoilt_record_does_not_hide_the_verdict(run: Run, job: Path) -> None:
    text = record_path(job).read_text("utf-8")
    record_path(job).unlink()
    record_path(job).with_suffix(".count").unlink()
    plan = run("check", job)
    record_path(job).write_text(text.replace("who", "whom", 1), "utf-8")
    code, out, _ = run("check", job)
    assert (code, run("check", job, "--strict").code) == (plan.code, 1)
    assert out.startswith("FOR PRACTICE: CAUTION"), "a stop may have been read"
    assert "read at the bay cannot be told: the record of this job cannot be read." in " ".join(out.split())
    told = json.loads(run("check", job, "--json").out)
    assert "cannot be read" in told["record"][0]
    cautions = {each["subject"] for each in told["stages"][0]["findings"] if each["verdict"] == "caution"}
    assert (told["verdict"], cautions) == ("caution", {"the record"})
    assert "record of this job cannot be read" in out
    told = " ".join(run("shop", job.with_name("shop.toml"), job).out.split())
    assert told.startswith("Shop register: 1 job")
    assert "The verdict is worse than the plan's, since what was read at the bay cannot be told" in told
    assert "so nothing that was read at the bay counts" in told
    assert run("sheet", job, "--record", "-o", job.with_name("x.pdf")).code == 2


def test_an_edited_record_is_told_on_paper(run: Run, job: Path) -> None:
    text = record_path(job).read_text("utf-8")
    record_path(job).write_text(text.replace("a clip was still on", "all was off", 1), "utf-8")
    run("sheet", job, "--record", "-o", job.with_name("done.pdf"))
    assert "Somebody has edited this record by hand" in printed(job.with_name("done.pdf"))
