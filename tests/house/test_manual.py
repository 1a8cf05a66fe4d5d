"""The manual: every page is listed and linked, every command has one, and each reads well on a terminal."""

import inspect
import re
import subprocess
import sys

import pytest

from loadplan.cli import app
from loadplan.errors import InputError
from loadplan.files.manual_topics import find_topic, manual_topics
from loadplan.report.text.manual_page import manual_page
from loadplan.report.words.columns import WIDTH, breadth
from tests.house.tree import MANUAL, README, ROOT

TOPICS = [each.name for each in manual_topics()]
PAGES = sorted(MANUAL)

LONGEST_README = 350
"""Most lines of the README: what is looked up stands in the manual."""


def test_every_page_is_a_topic_and_linked_from_the_readme() -> None:
    assert sorted([*TOPICS, "topics"]) == PAGES
    linked = re.findall(r"\]\(loadplan/manual/([a-z-]+)\.md\)", README)
    assert sorted(linked) == PAGES
    assert len(README.splitlines()) <= LONGEST_README


def test_every_command_leads_to_a_page_that_tells_of_it() -> None:
    commands = {each.name or getattr(each.callback, "__name__", "") for each in app.registered_commands} - {"manual"}
    told = {command: topic.name for topic in manual_topics() for command in topic.commands}
    assert set(told) == commands
    assert {command: find_topic([command]) for command in commands} == told
    assert [name for name, topic in told.items() if f"`loadplan {name}" not in MANUAL[topic]] == []


def test_the_commands_that_write_over_more_when_forced_are_told() -> None:
    forced = {
        each.name or getattr(each.callback, "__name__", "")
        for each in app.registered_commands
        if "force" in inspect.signature(each.callback or int).parameters
    }
    told = re.search(r"`--force`, which (.*?) take", MANUAL["written-files"], re.DOTALL)
    assert told
    assert set(re.findall(r"`([a-z]+)`", told[1])) == forced


def test_a_link_between_pages_leads_to_one() -> None:
    links = {link for text in MANUAL.values() for link in re.findall(r"\]\(([^)]+\.md)\)", text)}
    assert len(links) > 5
    assert links <= {f"{topic}.md" for topic in TOPICS}


@pytest.mark.parametrize("width", [80, 100])
@pytest.mark.parametrize("topic", PAGES)
def test_a_page_fits_its_width_and_keeps_its_words(topic: str, width: int) -> None:
    shown = manual_page(MANUAL[topic], width)
    fenced = set("\n".join(re.findall(r"^```\w+\n(.*?)^```", MANUAL[topic], re.DOTALL | re.MULTILINE)).split("\n"))
    assert [line for line in shown.splitlines() if breadth(line) > width and line not in fenced] == []
    assert [line for line in fenced if breadth(line) > WIDTH] == []
    assert "**" not in shown
    words = re.findall(r"[A-Za-z0-9]+", re.sub(r"!\[.*|\]\([^)]*\)|```\w*", "", MANUAL[topic]))
    assert set(words) <= set(re.findall(r"[A-Za-z0-9]+", shown))


@pytest.mark.parametrize(
    ("typed", "meant"),
    [("limits", "limits"), ("lim", "limits"), ("live plan", "live-plan"), ("PLAN", "live-plan"), ("new", "first-job")],
)
def test_the_beginning_of_a_name_will_do(typed: str, meant: str) -> None:
    assert find_topic(typed.split()) == meant


@pytest.mark.parametrize(
    ("typed", "told"),
    [
        ("limtis", 'did you mean "limits"?'),
        ("j", "may be job-file and json-output"),
        ("gravity", "the word stands in"),
        ("../limits", "without a topic, `loadplan manual` lists them all"),
        ("", 'there is none called ""'),
    ],
)
def test_what_fits_no_topic_or_several_is_asked_again(typed: str, told: str) -> None:
    with pytest.raises(InputError, match=re.escape(told)):
        find_topic([typed])


def _printed(*arguments: str) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "loadplan", "manual", *arguments]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False)


def test_the_command_prints_a_page_lists_the_topics_and_refuses_what_there_is_not() -> None:
    page, listed, refused = _printed("exit"), _printed(), _printed("limtis")
    assert (page.returncode, page.stdout) == (0, manual_page(MANUAL["exit-codes"], 80))
    assert (listed.returncode, listed.stdout) == (0, manual_page(MANUAL["topics"], 80))
    assert (refused.returncode, refused.stdout) == (2, "")
    assert 'did you mean "limits"?' in refused.stderr
