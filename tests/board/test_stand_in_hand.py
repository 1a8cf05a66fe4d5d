"""The stand in hand: what is free, its settings, shim and tag, its place typed and nudged, what it carries."""

from pathlib import Path

import pytest
from playwright.sync_api import BrowserContext

import loadplan
from tests.board.chromium import Served, ready, settled
from tests.board.desk import Page, opened, page_on
from tests.board.hands import pane, place, text, to_step, watched


def test_equipment_tells_its_rating_and_what_is_free_in_every_step(page: Page) -> None:
    page.show(2)
    told = {each["name"]: each for each in page.seen["equipment"]}
    job = page.draft.job
    for equipment in job.shop.equipment:
        most = max(
            sum(each.equipment.name == equipment.name for each in stage.state.supports)
            for stage in page.draft.assessment.stages
        )
        assert equipment.count is not None
        left = equipment.count - len(equipment.out_of_use) - most
        assert told[equipment.name]["about"].endswith(f"{left} of {equipment.usable_count} free")
        assert told[equipment.name]["free"] == (left > 0)
    assert told["ratchet stand 3 t"]["about"].startswith("1500 kg each")


def test_the_setting_nearest_to_the_others_is_marked(page: Page) -> None:
    page.show(2)
    stand = page.stand("A")
    marked = [each for each in stand["settings"] if each["near"]]
    assert [each["words"] for each in marked] == [stand["height"]]
    page.change("height", stand=stand["id"], text=stand["settings"][0]["text"])
    again = page.stand("A")["settings"]
    assert [each["near"] for each in again] == [each["near"] for each in stand["settings"]]
    assert again[0]["now"]
    assert not any(each["now"] for each in again[1:])


@pytest.mark.slow
def test_a_shim_and_a_tag_are_of_the_shops_own(page: Page) -> None:
    page.show(2)
    stand = page.stand("A")
    page.change("shim", stand=stand["id"], shim=1)
    shop = page.draft.job.shop
    shim = page.draft.job.supports[stand["id"]].shim
    assert shim is not None
    assert (shim.height, shim.wood) == (shop.shims[1].height, shop.shims[1].wood)
    assert page.stand("A")["shim"] == 1
    page.change("tag", stand=stand["id"], tag=page.stand("A")["tags"][1])
    assert page.draft.job.supports[stand["id"]].tag == page.stand("A")["tags"][1]
    page.change("shim", stand=stand["id"], shim=None)
    page.change("tag", stand=stand["id"], tag="")
    now = page.draft.job.supports[stand["id"]]
    assert (now.shim, now.tag) == (None, "")
    assert "no" in page.refused("tag", stand=stand["id"], tag="made up")
    assert "shim" in page.refused("shim", stand=stand["id"], shim=99)


def test_a_piece_that_is_out_of_use_is_not_offered_and_not_taken(tmp_path: Path) -> None:
    page = page_on(tmp_path)
    tags = page.stand("A")["tags"]
    texts = {path: path.read_text("utf-8") for path in tmp_path.glob("*.toml")}
    shop = next(path for path, text in texts.items() if "[[equipment]]" in text and f'"{tags[-1]}"' in text)
    told = shop.read_text("utf-8")
    line = next(each for each in told.splitlines() if each.startswith("tags") and f'"{tags[-1]}"' in each)
    shop.write_text(told.replace(line, f'{line}\nout_of_use = ["{tags[-1]}"]', 1), "utf-8")
    again = opened(tmp_path, page.path)
    assert tags[-1] not in again.stand("A")["tags"]
    assert "out of use" in again.refused("tag", stand=again.stand("A")["id"], tag=tags[-1])


def test_what_it_carries_is_a_range_on_its_rating(page: Page) -> None:
    page.show(2)
    for stand in page.seen["stands"]:
        if stand["here"] and stand["range"]:
            assert 0 <= stand["range_low"] <= stand["range_given"] <= stand["range_high"]
            assert stand["most"] in stand["range"]


@pytest.mark.parametrize("name", ["front-unit.toml", "us-units.toml"])
def test_a_stand_is_nudged_typed_to_a_place_and_tells_how_far(context: BrowserContext, desk: Served, name: str) -> None:
    number = desk.desk.open(desk.folder / name)
    page = ready(context.new_page(), f"{desk.address}/plan/{number}")
    plan = desk.desk.plans[number].plan
    page.locator("#row-0").click()
    x, y, _ = plan.draft.job.supports[0].at
    small, large = (0.005, 0.05) if name == "front-unit.toml" else (0.003175, 0.0254)
    page.locator("#nudges [data-size=large][data-ahead='-1']").click()
    page.locator("#nudges [data-size=small][data-left='1']").click()
    page.locator("#nudges [data-size=small][data-left='1']").click()
    page.wait_for_selector("#unsaved:visible")
    settled(page)
    now = plan.draft.job.supports[0].at
    assert now[:2] == pytest.approx((x - large, y + 2 * small), abs=small / 2 + 1e-6)
    told = text(page, "#moved-by")
    assert "back" in told
    assert "left" in told
    page.locator("#stand-x").fill("100 mm")
    page.locator("#stand-y").fill("-8 in")
    page.locator("#stand-place").click()
    page.wait_for_function("was => document.getElementById('moved-by').textContent !== was", arg=told)
    settled(page)
    assert plan.draft.job.supports[0].at[:2] == pytest.approx((0.1, -0.2032), abs=0.0026)
    page.locator("#stand-x").fill("somewhere")
    page.locator("#stand-place").click()
    page.wait_for_function("() => document.getElementById('said').textContent.startsWith('Both places')")
    page.locator("#undo").click()
    page.locator("#undo").click()
    page.wait_for_selector("#unsaved", state="hidden")
    assert page.locator("#moved-by").is_hidden()


def test_how_it_is_set_is_chosen_from_lists(context: BrowserContext, desk: Served) -> None:
    with watched(context, desk) as page:
        to_step(page, 2)
        pane(page, "parts")
        page.locator("#target-0").click()
        assert page.locator("#pane-stands").is_visible()
        plan = desk.desk.plans[0].plan
        assert "nearest" in text(page, "#stand-setting option:checked")
        page.locator("#stand-setting").select_option(index=0)
        page.wait_for_selector("#unsaved:visible")
        settled(page)
        heights = plan.draft.job.supports[0].equipment.heights
        assert heights is not None
        assert plan.draft.job.supports[0].height == pytest.approx(heights.settings[0])
        page.locator("#stand-shim").select_option(index=1)
        page.wait_for_function(
            "() => document.querySelector('#row-0 [data-say=height_words]').textContent.includes('on it')"
        )
        settled(page)
        page.locator("#stand-tag").select_option(index=2)
        page.wait_for_function("() => document.getElementById('said').textContent.includes('piece')")
        settled(page)
        assert plan.draft.job.supports[0].tag == text(page, "#stand-tag option:checked")
        assert place(desk, 0) == loadplan.read_job(desk.folder / "front-unit.toml").supports[0].at[:2]
        assert text(page, "#stand-bears").startswith("Under cradle front left: it bears the cradle")


def test_the_name_of_the_point_stands_as_it_is_written(page: Page) -> None:
    page.show(2)
    page.change("thing", what="point", item=page.stand("A")["point"], fields={"name": "Rail B, left"})
    page.show(2)
    assert page.stand("A")["bears"].startswith("Under Rail B, left: ")
