"""A name that stands for nothing: what there is instead is listed once, not once a stand."""

from pathlib import Path

import pytest

from loadplan.errors import InputError
from loadplan.files import read_job, shipped_folder


def test_a_job_whose_shop_lacks_its_stands_lists_the_equipment_once(tmp_path: Path) -> None:
    demo = shipped_folder("demo")
    shop = (demo / "shop.toml").read_text("utf-8")
    for number, name in enumerate(("ratchet stand 3 t", "pin stand 5 t", "screw stand 2 t", "tall prop stand 1 t")):
        shop = shop.replace(f'"{name}"', f'"{"qjxz"[number] * 12}"')
    (tmp_path / "shop.toml").write_text(shop, "utf-8")
    (tmp_path / "job.toml").write_text((demo / "front-unit.toml").read_text("utf-8"), "utf-8")
    with pytest.raises(InputError) as told:
        read_job(tmp_path / "job.toml")
    messages = [each.message for each in told.value.faults]
    assert len(messages) == 8
    assert messages[0].startswith('there is no equipment in the shop "ratchet stand 3 t"; there are: "qqqqqqqqqqqq"')
    assert sum("there are: " in each for each in messages) == 1
    assert all(each.endswith('; for what there is see support 1 "A"') for each in messages[1:])
