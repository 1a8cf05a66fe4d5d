"""What goes over first, in words: each assembly turns about its own line."""

from loadplan.report.words.nearest_to_tipping import NearestToTipping, about_words
from tests.report.plans import job


def about(*names: str) -> str:
    return about_words(NearestToTipping(0, ("powertrain",), about=names), job())


def test_places_under_two_assemblies_are_told_apart_since_they_lie_on_no_one_line() -> None:
    stands = {each.name: each.body for each in job().supports}
    assert (stands["A"], stands["C"], stands["E"]) == ("subframe", "subframe", "powertrain")
    assert about("A", "C", "E") == "A and C under the subframe and E under the powertrain"
    assert about("A", "E", "rear roll link") == "A under the subframe, E under the powertrain and rear roll link"


def test_places_under_one_assembly_are_a_line_by_themselves() -> None:
    assert about("A", "C") == "A and C"
    assert about("E", "rear roll link") == "E and rear roll link"
    assert about() == ""
