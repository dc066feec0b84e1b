"""The page that is looked at and printed."""

import re
import xml.etree.ElementTree as ET
from dataclasses import replace
from io import BytesIO

import pdfplumber
import pytest
import typst

from batterboard.views import drawing as d
from batterboard.views.drawing.page import parts, text_box
from batterboard.views.drawing.strokes import Words

SVG = "{http://www.w3.org/2000/svg}"
MM = 72 / 25.4


def pdf_page(sheet):
    width, height = sheet.size
    source = f'#set page(width: {width}mm, height: {height}mm, margin: 0mm)\n#image("sheet.svg")'
    files = {"main": source.encode(), "sheet.svg": d.svg(sheet).encode()}
    return pdfplumber.open(BytesIO(typst.compile(files, format="pdf", ignore_system_fonts=True))).pages[0]


def test_a_sheet_has_its_exact_size_in_millimetres(plan_sheet):
    root = ET.fromstring(d.svg(plan_sheet))
    assert (root.get("width"), root.get("height")) == ("279.4mm", "215.9mm")
    assert root.get("viewBox") == "0 0 279.4 215.9"


def test_the_same_sheet_gives_the_same_bytes(sheets):
    for sheet in sheets:
        assert d.svg(sheet) == d.svg(replace(sheet))
        paths = " ".join(each.get("d") for each in ET.fromstring(d.svg(sheet)).iter(SVG + "path"))
        assert not re.search(r"e|nan|inf|\d{5}|\.\d{3}", paths)


def test_texts_are_texts_and_may_hold_anything():
    odd = 'pier <A> & "B" \x00\x1b ½ 門'
    sheet = d.Sheet(name="x", job=odd, job_hash="x", marks=(d.Text((20, 100), odd),))
    texts = [each.text for each in ET.fromstring(d.svg(sheet)).iter(SVG + "text")]
    assert texts.count('pier <A> & "B"    ½ 門') == 2


def test_layers_keep_their_names(section_sheet):
    classes = {each.get("class") for each in ET.fromstring(d.svg(section_sheet)).iter(SVG + "g")}
    assert {"CONCRETE", "BARS", "GROUND", "DIMS", "CHECK", "CUT", "DRILL"} <= classes


def test_a_line_of_100_mm_is_100_mm_in_the_book():
    line = d.View("", d.FULL_SIZE, (50.0, 100.0), (d.Line((0, 0), (0.1, 0), d.CUT),))
    page = pdf_page(d.Sheet(name="x", job="x", job_hash="x", views=(line,)))
    lengths = [abs(each["x1"] - each["x0"]) / MM for each in page.lines + page.curves + page.rects]
    assert any(length == pytest.approx(100, abs=0.001) for length in lengths)


def test_letters_stand_inside_the_room_that_was_reckoned_for_them(sheets):
    for sheet in sheets[:3]:
        rooms = [text_box(m) for part in parts(sheet) for m in part.marks if isinstance(m, Words) and not part.clip]
        boxes = [
            (min(x for x, _ in r), min(y for _, y in r), max(x for x, _ in r), max(y for _, y in r)) for r in rooms
        ]
        page = pdf_page(sheet)
        letters = [c for c in page.chars if c["text"].strip()]
        assert len(letters) == sum(len(w.text.replace(" ", "")) for w in words_of(sheet))
        for letter in letters:
            x, y = (letter["x0"] + letter["x1"]) / 2 / MM, sheet.size[1] - (letter["top"] + letter["bottom"]) / 2 / MM
            assert any(l - 0.1 <= x <= r + 0.1 and b - 0.1 <= y <= t + 0.1 for l, b, r, t in boxes), letter["text"]


def test_the_books_own_face_has_the_advance_that_is_reckoned_with():
    page = pdf_page(d.Sheet(name="x", job="x", job_hash="x", marks=(d.Text((20, 100), "MMMMMMMMMM", 5.0),)))
    letters = [c for c in page.chars if c["text"] == "M"]
    assert {re.sub(r"^.*\+", "", c["fontname"]) for c in page.chars} == {"DejaVuSansMono", "DejaVuSansMono-Bold"}
    pitch = (letters[-1]["x0"] - letters[0]["x0"]) / 9 / MM
    assert pitch == pytest.approx(5.0 * 0.60205 / 0.729, abs=0.002)


def test_a_clipped_view_hides_what_lies_outside():
    view = d.View("", d.Scale(10), (60.0, 60.0), (d.Line((-5, 0), (5, 0), d.CUT),), clip=(-0.1, -0.1, 0.1, 0.1))
    sheet = d.Sheet(name="x", job="x", job_hash="x", views=(view,))
    assert d.outside(sheet) == ()
    assert len(list(ET.fromstring(d.svg(sheet)).iter(SVG + "clipPath"))) == 1


def words_of(sheet):
    return [m for part in parts(sheet) for m in part.marks if isinstance(m, Words)]
