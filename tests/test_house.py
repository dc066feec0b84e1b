"""Does the house stand as it says: what start-up imports, what the README promises, what a set-up installs?"""

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
README = (ROOT / "README.md").read_text("utf-8")
CONTRIBUTING = (ROOT / "CONTRIBUTING.md").read_text("utf-8")
GATE = ROOT / "examples" / "orchard-gate" / "job.toml"

cli = pytest.mark.skipif(not (ROOT / "src/batterboard/cli.py").exists(), reason="there are no commands yet")


def child(code: str) -> str:
    """The last line that a fresh interpreter prints when it runs this."""
    ran = subprocess.run(
        [sys.executable, "-c", code],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src")},
        cwd=ROOT,
        capture_output=True,
        text=True,
        encoding="utf-8",
        timeout=120,
    )
    assert ran.returncode == 0, ran.stderr
    return ran.stdout.splitlines()[-1]


def imported_by(*arguments: str) -> set[str]:
    """The packages in memory after a command."""
    return set(
        child(
            "import sys\n"
            "from batterboard.cli import main\n"
            f"try: status = main({list(arguments)!r})\n"
            "except SystemExit as stop: status = stop.code\n"
            "assert status in (0, 1, None), status\n"
            "print()\n"
            "print(*{name.partition('.')[0] for name in sys.modules})"
        ).split()
    )


@cli
def test_help_imports_no_arrays():
    assert not imported_by("--help") & {"numpy", "scipy", "ezdxf", "typst", "uvicorn", "starlette", "highspy"}


@cli
def test_check_imports_nothing_that_only_other_commands_need():
    assert not imported_by("check", str(GATE)) & {
        "scipy",
        "ezdxf",
        "typst",
        "uvicorn",
        "starlette",
        "highspy",
        "xlsxwriter",
        "icalendar",
        "manifold3d",
    }


@cli
def test_no_room_below_the_views_imports_a_heavy_library_before_it_is_asked():
    present = child(
        "import sys\n"
        "from importlib import import_module\n"
        "from pathlib import Path\n"
        "rooms = 'phases work job log standards methods working quantity'.split()\n"
        "for room in rooms:\n"
        "    for file in sorted(Path('src/batterboard', room).rglob('*.py')):\n"
        "        import_module('.'.join(file.relative_to('src').with_suffix('').parts).removesuffix('.__init__'))\n"
        "print(*{name.partition('.')[0] for name in sys.modules})"
    )
    assert not set(present.split()) & {"scipy", "ezdxf", "typst", "uvicorn", "starlette", "highspy", "xlsxwriter"}


@cli
def test_the_public_face_gives_its_three_names_and_no_other():
    assert child("import batterboard as b; print(*(getattr(b, name).__name__ for name in b.__all__))").split() == [
        "Plan",
        "compare",
        "read_job",
    ]
    assert child("import batterboard; print(hasattr(batterboard, 'build'))") == "False"


def blocks() -> list[str]:
    return re.findall(r"^```\w*\n(.*?)^```", README, re.MULTILINE | re.DOTALL)


def test_the_readme_begins_with_the_job_in_one_paragraph_and_two_commands():
    title, paragraph, *_ = README.split("\n\n")
    assert title == "# Batterboard" and not paragraph.startswith(("#", "`", "!", "-"))
    assert [block.splitlines()[0] for block in blocks()[:2]] == [
        "python3 go.py book examples/orchard-gate/job.toml",
        "python3 go.py test",
    ]


@cli
def test_the_readme_lists_exactly_the_commands_there_are():
    help_text = subprocess.run(
        [sys.executable, "-m", "batterboard", "--help"],
        env={**os.environ, "PYTHONPATH": str(ROOT / "src"), "COLUMNS": "100"},
        capture_output=True,
        text=True,
        check=True,
    ).stdout
    there = re.findall(r"^    ([a-z]+) ", help_text, re.MULTILINE)
    assert there and re.findall(r"^\| `batterboard ([a-z]+)", README, re.MULTILINE) == there


@pytest.mark.parametrize("page", ["README.md", "CONTRIBUTING.md", "CHANGELOG.md", "docs/README.md"])
def test_every_link_of_a_page_leads_somewhere(page):
    links = re.findall(r"\]\(([^)#:]+)\)", (ROOT / page).read_text("utf-8"))
    assert [link for link in links if not (ROOT / page).parent.joinpath(link).exists()] == []


def test_the_constraints_name_versions_and_markers_only_and_every_dependency():
    lines = (ROOT / "constraints.txt").read_text("utf-8").splitlines()
    assert [line for line in lines if not re.fullmatch(r"[a-z0-9-]+==[0-9a-z.]+( ; [\w\s<>!='.]+)?", line)] == []
    project = tomllib.loads((ROOT / "pyproject.toml").read_text("utf-8"))["project"]
    wanted = [*project["dependencies"], *(one for extra in project["optional-dependencies"].values() for one in extra)]
    names = {re.match(r"[\w-]+", one)[0] for one in wanted}
    assert names <= {line.partition("==")[0] for line in lines}


def test_an_old_python_is_refused_in_a_sentence():
    ran = subprocess.run(
        [
            sys.executable,
            "-c",
            "import runpy, sys; sys.version_info = (3, 10, 4); sys.argv = ['go.py', 'test']\n"
            "runpy.run_path('go.py', run_name='__main__')",
        ],
        cwd=ROOT,
        capture_output=True,
        text=True,
    )
    assert (ran.returncode, ran.stdout) == (2, "")
    assert ran.stderr.startswith("Batterboard needs Python 3.11 or later, not 3.10.")


@cli
def test_the_python_of_the_readme_runs():
    assert child(blocks()[2]).strip()


def test_the_formula_of_the_contributing_page_computes():
    names: dict[str, object] = {}
    exec(re.search(r"^```python\n(.*?)^```", CONTRIBUTING, re.MULTILINE | re.DOTALL)[1], names)
    assert names["peak_soil_pressure"](60e3, 12e3, 1.219, 1.372) == pytest.approx(67.25e3, rel=1e-3)
