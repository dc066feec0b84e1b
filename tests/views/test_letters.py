"""Letters that no page can show are refused by name, before an empty box stands where a name should."""

from pathlib import Path

import pytest

from batterboard.job import JobError, read_text
from batterboard.plan import Plan
from batterboard.views import book, drawings
from batterboard.views.letters import readable

PAD = (Path(__file__).parents[2] / "examples" / "pump-pad" / "job.toml").read_text("utf-8")


def job(old: str, new: str):
    assert old in PAD
    return read_text(PAD.replace(old, new), "pump.toml")


@pytest.mark.parametrize("show", [book.pdf, drawings.files])
def test_a_letter_that_no_face_holds_is_named_with_its_place(show):
    made = Plan(job('name = "Irrigation pump pad"', 'name = "Pump 門"'))
    with pytest.raises(JobError) as caught:
        show(made)
    (problem,) = caught.value.problems
    assert str(problem).startswith("pump.toml:") and '"門" (U+9580)' in str(problem) and "job.name" in str(problem)


@pytest.mark.parametrize("name", ["Kółko pływacke", "Насос у стены", "Αντλία", "Größe ø 5 °C × ½", "משאבה", "ტუმბო"])
def test_the_letters_of_the_faces_are_shown(name):
    readable(job('name = "Irrigation pump pad"', f'name = "{name}"'))


def test_comments_of_the_file_may_be_in_any_letters():
    readable(job("[job]", "# 門\n[job]"))
