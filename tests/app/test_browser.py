"""The page in a real browser, at a desk's width and at a phone's."""

import re
from collections.abc import Iterator

import pytest

from batterboard.job import starting_file
from batterboard.views.cautions import PHASES

playwright = pytest.importorskip("playwright.sync_api")
SOON = 2000  # [ms] from saving the file to seeing it on the page
FLAGS = ["--no-sandbox", "--disable-background-networking", "--disable-component-update", "--no-first-run"]


@pytest.fixture(scope="module")
def browser(chromium) -> Iterator:
    with playwright.sync_playwright() as player:
        started = player.chromium.launch(executable_path=chromium, args=FLAGS)
        yield started
        started.close()


@pytest.fixture(params=[(1280, 900), (390, 844)], ids=["desk", "phone"])
def page(browser, address, request) -> Iterator:
    """The page, opened; whatever the browser complains of, or asks of the net, fails the test."""
    width, height = request.param
    context = browser.new_context(viewport={"width": width, "height": height}, has_touch=width < 800)
    opened = context.new_page()
    complaints: list[str] = []
    opened.on("console", lambda message: complaints.append(message.text) if message.type == "error" else None)
    opened.on("pageerror", lambda error: complaints.append(str(error)))
    opened.on("request", lambda r: None if r.url.startswith((address, "data:")) else complaints.append(r.url))
    opened.goto(address)
    opened.wait_for_selector(".check", timeout=10_000)
    yield opened
    context.close()
    assert complaints == []


def test_checks_drawings_steps_and_cautions_stand_on_the_page(page, follower):
    plan = follower.sight.plan
    assert page.text_content("#name") == plan.job.job.name
    assert plan.job.digest in page.text_content("#job")
    assert page.locator(".check").count() == len(plan.checks)
    assert page.locator(".check .title").first.text_content() == plan.checks[0].title
    assert page.locator("#sheet svg text").count() > 10
    assert page.locator(".step").count() == len(PHASES)
    assert page.locator("#assumed dt").count() > 5
    assert "licensed engineer" in page.text_content("#mind")


def test_verdicts_are_words(page, follower):
    said = page.locator(".verdict > span").all_text_contents()
    assert len(said) == len(follower.sight.plan.checks)
    assert all(re.search("holds|does not hold|outside the limits", text) for text in said)


def test_one_tap_opens_the_working(page, follower):
    check = next(c for c in follower.sight.plan.checks if len(c.steps) > 1)
    row = page.locator(".check", has=page.locator(".title", has_text=re.compile(f"^{re.escape(check.title)}$"))).first
    row.evaluate("row => row.closest('.rest')?.setAttribute('open', '')")
    row.locator("summary").click()
    row.locator(".formula").nth(len(check.steps) - 1).wait_for(timeout=SOON)
    assert row.locator(".formula").count() == len(check.steps)
    assert check.steps[0].formula.name in row.locator(".formula").first.inner_text()
    assert str(check.clause) in row.locator(".inside").inner_text()


def test_the_page_follows_the_file_through_change_error_and_mending(page, job, follower):
    good = starting_file("sign")
    before = page.text_content("#job code:last-child")

    job.write_text(changed := good.replace('speed = "', 'speed = "1', 1))  # 115 mph becomes 1115 mph
    assert changed != good
    page.wait_for_selector(".check.fails, .check.outside", timeout=SOON)
    assert page.text_content("#job code:last-child") != before
    assert page.locator(".was").count()

    job.write_text(changed.replace('units = "us"', 'units = "uss"'))
    page.wait_for_selector("#problems li", timeout=SOON)
    line = next(i for i, text in enumerate(good.splitlines(), 1) if text.startswith('units = "us"'))
    assert f"sign.toml:{line}:" in page.text_content("#problems .place")
    assert page.locator(".check.fails, .check.outside").count(), "the last good plan stays"
    assert page.is_visible("#kept")

    job.unlink()
    page.wait_for_selector("#problems li:has-text('no such file')", timeout=SOON)

    job.write_text(good)
    page.wait_for_selector("#problems", state="hidden", timeout=SOON)
    page.wait_for_function("was => document.querySelector('#job code:last-child').textContent === was", arg=before)


def test_what_was_opened_stays_open_when_the_file_changes(page, job, follower):
    page.locator(".check summary").nth(1).click()
    opened = page.locator(".check[open]").get_attribute("data-key")
    page.locator("#on").click()
    chosen = page.input_value("#which")
    number = follower.sight.id
    job.write_text(job.read_text() + "\n# changed\n")
    page.wait_for_function(
        "was => !document.querySelector('#job').textContent.includes(was)", arg=follower.sight.page["hash"]
    )
    assert follower.sight.id != number
    assert page.locator(".check[open]").get_attribute("data-key") == opened
    assert page.input_value("#which") == chosen


def test_a_sheet_is_shown_large_and_closed_again(page):
    page.locator("#sheet").click()
    assert page.locator("#large svg").is_visible()
    page.locator("#close").click()
    assert not page.locator("#large svg").is_visible()


def test_nothing_is_wider_than_the_screen_and_targets_are_big(page):
    assert page.evaluate("document.documentElement.scrollWidth <= innerWidth")
    for target in ("nav a", ".check summary", ".sheets > *", "#sheet"):
        for box in page.locator(target).all():
            if box.is_visible():
                assert box.bounding_box()["height"] >= 44


def test_words_from_the_file_are_never_markup(page, job):
    name = "<img src=x onerror=alert(1)><b>bold</b>"
    job.write_text(re.sub('^name = ".*"$', f'name = "{name}"', job.read_text(), count=1, flags=re.M))
    page.wait_for_function("said => document.querySelector('#name').textContent === said", arg=name, timeout=SOON)
    assert page.locator("b:has-text('bold'), img").count() == 0


def test_the_page_says_when_nobody_follows_any_more(browser, address, served):
    page = browser.new_page()
    page.goto(address)
    page.wait_for_selector(".check")
    served.should_exit = True
    page.wait_for_selector("#live.lost", timeout=5000)
    page.close()
