"""What the floor sheet says of one piece under several places: the share that it carries in all, as the page does."""

from loadplan.assess import assess
from loadplan.files import read_job, shipped_folder
from loadplan.report.sheet.stand_table import _carried
from loadplan.report.text.key_figures import rated_loads, share_words
from loadplan.report.words.vocabulary import reader_of
from loadplan.units import System


def test_a_table_is_as_full_at_each_of_its_places_as_it_is_in_all() -> None:
    told = assess(read_job(shipped_folder("demo") / "battery-pack-table.toml"))
    reader = reader_of(told.job, System.METRIC)
    (piece,) = {each.piece for each in told.job.supports if each.piece}
    at_places = [each for each in told.job.supports if each.piece == piece]
    in_all = max(each.share for each in rated_loads(told) if each.subject == piece)
    assert len(at_places) > 1
    for support in at_places:
        loads = [load for stage in told.stages if (load := stage.statics.load(support.name))]
        share = _carried(told, support, loads, reader)[1]
        assert share == share_words(in_all, told.job.limits.rating_share, reader)
        assert in_all > max(load.at_most for load in loads) / support.equipment.rating_of_one
