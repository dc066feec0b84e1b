"""The book is looked at by people; here it is held to what a machine can see."""

import io
import re
from dataclasses import replace
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules

import pdfplumber
import pytest
import typst

from batterboard import standards
from batterboard.job import read_job, read_text
from batterboard.plan import Plan
from batterboard.views import book, cautions, drawings
from batterboard.views import drawing as d
from batterboard.views.book import maths
from batterboard.views.book.chapters import content
from batterboard.working import Formula

EXAMPLES = Path(__file__).parents[2] / "examples"
JOBS = {
    "gate": "orchard-gate/job.toml",
    "as built": "orchard-gate/as-built.toml",
    "scoreboard": "scoreboard/job.toml",
    "pump": "pump-pad/job.toml",
}
BOOKS = [("gate", "a4"), ("as built", "letter"), ("scoreboard", "letter"), ("pump", "a4")]
BUNDLED = {"LibertinusSerif", "NewCMMath", "DejaVuSansMono"}
SMALLEST, TABLES, HEADING = 8.5, 9.5, 13.0  # of footers and marks, of tables, of headings from here on [pt]


class Pages:
    """A book, read back page by page. Two of its drawings are enough here: they have their own tests."""

    def __init__(self, plan, paper=None):
        every = drawings.sheets

        def two(*asked):
            sheets = every(*asked)
            labels = ("Stake labels", "Form labels")  # they are only read
            measured = [sheet for sheet in sheets if not sheet.name.startswith(labels)]
            full = [sheet for sheet in measured if sheet.views and sheet.views[0].scale == d.FULL_SIZE]
            return (*sheets[:1], *full[:1])

        with pytest.MonkeyPatch.context() as patched:
            patched.setattr(drawings, "sheets", two)
            self.plan, self.bytes = plan, book.pdf(plan, paper)
        self.pages = pdfplumber.open(io.BytesIO(self.bytes)).pages
        self.texts = [page.extract_text() or "" for page in self.pages]

    @property
    def drawn(self):
        """Numbers of the pages that are drawings."""
        return [i for i, text in enumerate(self.texts) if "replaces nothing" in text]

    @property
    def written(self):
        """Pages in the letters of the book; that of the pour hangs on a wall and is larger."""
        other = {*self.drawn, *(i for i, text in enumerate(self.texts) if text.startswith("POUR"))}
        return [page for i, page in enumerate(self.pages) if i not in other]

    def first(self, words):
        return next(i for i, text in enumerate(self.texts) if words in text)


@pytest.fixture(scope="module")
def books():
    made = {}

    def read(name, paper):
        if (name, paper) not in made:
            made[name, paper] = Pages(Plan(read_job(EXAMPLES / JOBS[name])), paper)
        return made[name, paper]

    return read


@pytest.mark.parametrize("name, paper", BOOKS)
def test_the_first_page_is_the_whole_summary(books, name, paper):
    read = books(name, paper)
    first, second = read.texts[:2]
    assert "What to build" in first and "What was assumed" in first and "CAUTION" in first
    assert cautions.ALWAYS[0][:30] in first
    assert second.splitlines()[1].startswith("All checks")


@pytest.mark.parametrize("name, paper", BOOKS)
def test_every_page_carries_job_hash_and_number(books, name, paper):
    read = books(name, paper)
    for number, text in enumerate(read.texts, 1):
        assert f"page {number} of {len(read.pages)}" in text
        assert read.plan.job.digest in text


@pytest.mark.parametrize("name, paper", BOOKS)
def test_every_phase_has_its_chapter_in_the_order_of_the_trade(books, name, paper):
    read = books(name, paper)
    starts = [read.first(question) for _, question in cautions.QUESTIONS.values()]
    assert starts == sorted(starts) and len(set(starts)) == len(starts)
    assert read.first("Each check at its governing case") > starts[-1]


@pytest.mark.parametrize("name, paper", BOOKS)
def test_nothing_is_clipped_and_nothing_too_small_to_read(books, name, paper):
    read = books(name, paper)
    working = read.first("Each check at its governing case")
    for page in read.written:
        for char in page.chars:
            assert char["x0"] >= 5 and char["x1"] <= page.width - 5, (page.page_number, char["text"])
            assert char["top"] >= 5 and char["bottom"] <= page.height - 2, (page.page_number, char["text"])
    for page in read.written:
        for char in page.chars:
            if char["text"].strip() and page.page_number <= working:
                assert char["size"] >= SMALLEST, (page.page_number, char["text"])
                if 60 < char["top"] < page.height - 60 and not marked(page, char):
                    assert char["size"] >= TABLES or "Mono" in char["fontname"], (page.page_number, char["text"])


def marked(page, char):
    """Whether a letter belongs to one of the small marks ok, FAIL, OUT."""
    return char["size"] == pytest.approx(8.6) and char["text"] in "okFAILOUT"


@pytest.mark.parametrize("name, paper", BOOKS)
def test_no_two_words_lie_on_each_other(books, name, paper):
    read = books(name, paper)
    working = read.first("Each check at its governing case")
    for page in read.written:
        if page.page_number > working:
            break
        words = sorted(page.extract_words(), key=lambda word: word["top"])
        for i, a in enumerate(words):
            for b in words[i + 1 :]:
                if b["top"] > a["bottom"]:
                    break
                wide = min(a["x1"], b["x1"]) - max(a["x0"], b["x0"])
                high = min(a["bottom"], b["bottom"]) - max(a["top"], b["top"])
                assert wide < 0.6 or high < 0.4 * (a["bottom"] - a["top"]), (page.page_number, a["text"], b["text"])


@pytest.mark.parametrize("name, paper", BOOKS)
def test_no_heading_stands_alone_at_the_foot_of_a_page(books, name, paper):
    for page in books(name, paper).written:
        inside = [c for c in page.chars if 60 < c["top"] < page.height - 55]
        last = max(c["top"] for c in inside)
        assert not any(c["size"] >= HEADING and c["top"] > last - 4 for c in inside), page.page_number


@pytest.mark.parametrize("name, paper", BOOKS)
def test_only_bundled_typefaces_are_used(books, name, paper):
    read = books(name, paper)
    used = {char["fontname"].partition("+")[2].partition("-")[0] for page in read.pages for char in page.chars}
    assert used <= BUNDLED, "a missing typeface is replaced without a word"


@pytest.mark.parametrize("name, paper", BOOKS[:3])  # the pump's plate is larger than anybody prints
def test_templates_are_printed_at_full_size(books, name, paper):
    read = books(name, paper)
    side = 432.0 if read.plan.job.job.units == "us" else 150 / 25.4 * 72
    full = [page for page, text in zip(read.pages, read.texts) if "full size 1:1" in text]
    assert full
    for page in full:
        squares = [c["pts"] for c in page.curves if len(c["pts"]) == 3 and red(c["stroking_color"])]
        (right, corner, top) = max(squares, key=lambda pts: abs(pts[0][0] - pts[1][0]))
        assert abs(right[0] - corner[0]) == pytest.approx(side, abs=0.01)
        assert abs(top[1] - corner[1]) == pytest.approx(side, abs=0.01)


def red(colour):
    return colour is not None and len(colour) == 3 and colour[0] > 0.5 and colour[1] < 0.3


def test_the_paper_asked_for_is_the_paper_of_every_page(books):
    for name, paper, size in (("as built", "letter", (612, 792)), ("gate", "a4", (595.28, 841.89))):
        for page in books(name, paper).pages:
            assert sorted((page.width, page.height)) == pytest.approx(size, abs=0.1)


@pytest.mark.parametrize("name", JOBS)
def test_every_drawing_stands_once_in_a_chapter(name):
    plan = Plan(read_job(EXAMPLES / JOBS[name]))
    sheets = drawings.sheets(plan)
    data = content(plan, sheets)
    placed = [i for chapter in data["chapters"] for i in chapter["sheets"]]
    assert sorted(placed) == list(range(len(sheets)))


def test_the_same_plan_gives_the_same_bytes():
    one, other = (book.pdf(Plan(read_job(EXAMPLES / JOBS["scoreboard"]))) for _ in range(2))
    assert one == other


def test_what_does_not_hold_stands_on_the_first_page_in_words(books):
    read = books("as built", "letter")
    failing = [c for c in read.plan.checks if not c.holds]
    assert failing
    flat = read.texts[0].replace("\n", " ")
    for c in failing[:6]:
        assert c.title in flat
    assert flat.count("does not hold") >= min(len(failing), 6) and "FAIL" in flat


def test_what_was_found_is_filled_in_and_the_rest_left_to_fill(books):
    planned, found = books("gate", "a4"), books("as built", "letter")
    assert "FOUND FOUND FOUND\nAHEAD LEFT PROUD" in planned.texts[planned.first("Bolts as cast")]
    assert '4 9/16"' not in planned.texts[planned.first("Bolts as cast")].replace("\u2011", "-")
    assert '4 9/16"' in found.texts[found.first("Bolts as cast")].replace("\u2011", "-")


def test_text_of_the_job_file_is_never_read_as_markup():
    odd = '#panic("no") *bold* $x^2$ <label> @ref \\ `raw` = heading'
    job = read_job(EXAMPLES / JOBS["scoreboard"])
    job = replace(job, job=replace(job.job, name=odd, note="- a list? #let x = 1", replaces="*old*"))
    read = Pages(Plan(job))
    assert odd in read.texts[0].replace("\n", " ")
    assert "- a list? #let x = 1" in read.texts[0] and "replaces *old*" in read.texts[1]


def test_a_long_name_stays_on_the_page():
    job = read_job(EXAMPLES / JOBS["scoreboard"])
    job = replace(job, job=replace(job.job, name="A very long name of a job beside the field " * 5))
    read = Pages(Plan(job))
    for page in read.written:
        assert all(char["x1"] <= page.width - 5 for char in page.chars if char["text"].strip() and visible(page, char))


def visible(page, char):
    """Not in the running lines, which cut what is too long."""
    return 60 < char["top"] < page.height - 55


def test_a_crowded_job_still_has_its_summary_on_one_page(monkeypatch):
    text = (EXAMPLES / JOBS["as built"]).read_text("utf-8")
    place = 'place = [ { along = "lane", ahead = "%d ft" }, { from = "lane", left = "6 ft" }, { turn = "gate" } ]'
    twins = "".join(
        f'[piers.extra-pier-{i}]\nlike = "west"\nalong = "{20 + i} in"\n{place % (30 + 6 * i)}\n' for i in range(1, 15)
    )
    job = read_text(text.replace("[beams.tie]", twins + "[beams.tie]", 1))
    job = replace(
        job, job=replace(job.job, name="Long name of a job " * 8, note="A long note. " * 90, replaces="0badcafe")
    )
    monkeypatch.setattr(drawings, "sheets", lambda *asked: ())
    first, second = pdfplumber.open(io.BytesIO(book.pdf(Plan(job))), pages=[1, 2]).pages
    text = first.extract_text()
    assert "What to build" in text and "CAUTION" in text and "more: see the drawings" in text
    assert "All checks" in second.extract_text()


def test_a_job_without_wind_pour_day_or_steel_still_makes_a_book():
    plain = """
[job]
name = "Step"
[levels.sill]
z = "10 ft"
[lines.wall]
from = ["0 ft", "0 ft"]
to = ["20 ft", "0 ft"]
[mixes.any]
strength = "3000 psi"
[ground]
grade = { level = "sill", down = "4 in" }
[pads.step]
along = "4 ft"
across = "3 ft"
thick = "8 in"
top = { level = "sill", down = "0 in" }
place = [ { along = "wall", ahead = "3 ft" }, { from = "wall", left = "2 ft" }, { turn = "wall" } ]
mix = "any"
"""
    read = Pages(Plan(read_text(plain)))
    assert "No wind was given" in " ".join(read.texts)


# ---- mathematics ----


def shelf():
    rooms = [import_module(f"batterboard.standards.{room.name}") for room in iter_modules(standards.__path__)]
    found = {thing for room in rooms for thing in vars(room).values() if isinstance(thing, Formula)}
    return sorted(found, key=lambda thing: (thing.function.__module__, thing.name))


def test_every_formula_of_the_shelf_can_be_set():
    texts = []
    for formula in shelf():
        units = {name for name, thing in formula.function.__globals__.items() if hasattr(thing, "dimension")}
        setter = maths.Maths({}, units, dict.fromkeys(formula.calls, 1))
        figures = maths.Maths(
            dict.fromkeys(formula.tree.definition.args.args and formula.arguments, "-1.5e-08"), units, {}
        )
        for name, expression in formula.tree.lines:
            where = getattr(getattr(expression, "func", None), "id", "") == "where"
            if where:
                sides = [setter.choice(setter, figures, expression, holds)[0] for holds in (True, False)]
            else:
                sides = [setter.visit(expression), figures.visit(expression) if not formula.calls else ""]
            texts += [f"{maths.symbol(name)} = {side}" for side in sides if side]
    assert len(texts) > 200
    lines = "\n".join(f"${text}$\n" for text in texts)
    assert typst.compile({"main.typ": lines.encode()}, ignore_system_fonts=True).startswith(b"%PDF")


@pytest.mark.parametrize(
    "name, shown",
    [
        ("f_c", "f_(c)"),
        ("phi", "phi"),
        ("q_full", 'q_("full")'),
        ("E_psi", 'E_("psi")'),
        ("psi", "psi"),
        ("l_1", "l_(1)"),
        ("drop", '"drop"'),
        ("d2", "d_(2)"),
    ],
)
def test_names_keep_the_letters_of_the_standard(name, shown):
    assert maths.symbol(name) == shown


def test_figures_and_units_are_set_so_that_they_can_be_read():
    assert maths.quantity("1.234e-06 in4") == '1.234 dot.op 10^(-6) thin "in⁴"'
    assert maths.quantity("0.48") == "0.48"
    assert maths.raised("lb/ft2") == "lb/ft²"
    assert maths.raised("2x4 and F1554-36") == "2x4 and F1554-36"


def test_the_working_names_formulas_with_their_source(books):
    read = books("gate", "a4")
    working = "\n".join(read.texts[read.first("Each check at its governing case") :])
    for c in read.plan.checks:
        assert re.sub(r"\s", "", str(c.clause)) in re.sub(r"\s", "", working)
        for step in c.steps:
            assert step.formula.name.replace("_", " ") in working.replace("\n", " ")
