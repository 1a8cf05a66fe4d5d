"""What hands do on the page in Chromium: where stands are seen, dragging by mouse and finger, going to a step."""

from collections.abc import Iterator
from contextlib import contextmanager

from playwright.sync_api import BrowserContext, CDPSession, Page

from tests.board.chromium import Served, ready, settled

SMALL, UPRIGHT, WIDE = (360, 740), (820, 1180), (1280, 800)

FREE = """
() => {
  const [width, height] = [innerWidth, innerHeight], targets = [...document.querySelectorAll("#drawing .target")];
  const places = [];
  for (let across = 20; across < width; across += 20) {
    for (let down = 20; down < height; down += 20) {
      const there = document.elementFromPoint(across, down);
      if (!there?.closest("#plan") || there.closest("button")) continue;
      const away = targets.map((each) => {
        const box = each.getBoundingClientRect();
        return Math.hypot(box.left + box.width / 2 - across, box.top + box.height / 2 - down);
      });
      places.push([Math.min(...away), across, down]);
    }
  }
  return places.reduce((best, each) => (each[0] > best[0] ? each : best));
}
"""


@contextmanager
def watched(context: BrowserContext, desk: Served) -> Iterator[Page]:
    """Show a plan. Whatever a test does: nothing is asked elsewhere, and the page never complains of its own doing."""
    asked: list[str] = []
    wrong: list[str] = []
    page = context.new_page()
    page.on("request", lambda request: asked.append(request.url))
    page.on("pageerror", lambda error: wrong.append(str(error)))
    page.on("console", lambda told: wrong.append(told.text) if told.type == "error" else None)
    yield ready(page, desk.plan)
    assert [url for url in asked if not url.startswith((desk.address, "data:", "blob:"))] == []
    assert [text for text in wrong if "409" not in text and "422" not in text] == []


def middle(page: Page, target: str) -> tuple[float, float]:
    """Return where the middle of something is in the window [css px]."""
    box = page.locator(f"#{target}").bounding_box()
    assert box is not None
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def reach(page: Page, target: str) -> tuple[float, float]:
    """Scroll something into the middle of the window, clear of the band, and return where it is [css px]."""
    page.locator(f"#{target}").evaluate("(each) => each.scrollIntoView({block: 'center'})")
    return middle(page, target)


def free(page: Page) -> tuple[float, float]:
    """Return the place of the plan in the window that is farthest from all that can be taken hold of [css px]."""
    reach(page, "plan")
    away, across, down = page.evaluate(FREE)
    assert away > 40
    return across, down


def place(desk: Served, stand: int) -> tuple[float, float]:
    """Return where a stand is in the plan [m]."""
    x, y, _ = desk.desk.plans[0].plan.draft.job.supports[stand].at
    return x, y


def scale(page: Page, desk: Served) -> float:
    """Return how many px of the window a metre is, from two stands that nobody holds, at both sides of the unit."""
    across = middle(page, "target-1")[0] - middle(page, "target-0")[0]
    return across / (place(desk, 0)[1] - place(desk, 1)[1])


def snaps_within(page: Page, desk: Served) -> float:
    """Return how near a point draws a stand in [m]: 30 mm, on a small drawing 16 px."""
    return max(0.03, 16 / scale(page, desk))


def drag(page: Page, target: str, across: float, down: float) -> None:
    """Drag by mouse, so many px; the button is still pressed."""
    x, y = reach(page, target)
    page.mouse.move(x, y)
    page.mouse.down()
    for share in (0.3, 0.6, 1.0):
        page.mouse.move(x + share * across, y + share * down)


def hold(page: Page, stand: int, across: float, down: float) -> None:
    """Drag a stand, and wait until the page says that its numbers follow."""
    drag(page, f"target-{stand}", across, down)
    page.wait_for_function("() => 'pending' in document.body.dataset")


def finger(page: Page, start: tuple[float, float], by: tuple[float, float]) -> CDPSession:
    """Put a finger on the screen and move it; it still lies there."""
    touch = page.context.new_cdp_session(page)
    for step in range(16):
        at = {"x": start[0] + by[0] * step / 15, "y": start[1] + by[1] * step / 15}
        kind = "touchMove" if step else "touchStart"
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": [at]})
        page.evaluate("() => new Promise(requestAnimationFrame)")
    return touch


def lift(touch: CDPSession, kind: str = "touchEnd") -> None:
    """Take the finger away; or have the browser take it, with touchCancel."""
    touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": []})


def to_step(page: Page, number: int) -> None:
    """Go to a step, counted from 0."""
    page.locator(f"#strip [data-step='{number}']").click()
    page.wait_for_function(f"() => document.getElementById('step-number').textContent === '{number + 1}'")
    settled(page)


def pane(page: Page, name: str) -> None:
    """Show one of the panes of the sheet: stands, findings, parts, try, notes."""
    page.locator(f"#tab-{name}").click()
    page.wait_for_selector(f"#pane-{name}:visible")


def text(page: Page, selector: str) -> str:
    """Return what stands there."""
    return page.locator(selector).text_content() or ""
