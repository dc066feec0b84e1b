"""The pages keep their word: every command and snippet runs, made pages are as their source is, links lead somewhere.

On a page, in order and in one empty folder:

    ```bash          every line is a batterboard command; `# exit status 1` says how it ends, else 0
    ```output        lines that the block above printed, in this order; `...` stands for anything between
    ```diff FILE     lines of the file that are taken out and put in; only added ones go to its end
    ```python        run, with what the page's earlier ones left behind
    ```sh            does not come back by itself, and is not run
"""

import json
import re
import sys
from pathlib import Path

import pytest

from batterboard.cli import main

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "scripts"))

import job_file  # noqa: E402
import theory  # noqa: E402

DOCS = sorted((ROOT / "docs").rglob("*.md"))
MADE = {**theory.pages(), **job_file.pages()}
WRITTEN = [page for page in DOCS if page not in MADE]
BLOCK = re.compile(r"^```(\w+) ?([^\n]*)\n(.*?)^```$", re.M | re.S)
KINDS = {"bash", "output", "diff", "python", "sh", "text", "toml"}


def named(page: Path) -> str:
    return str(page.relative_to(ROOT))


@pytest.mark.parametrize("page", WRITTEN, ids=named)
def test_every_snippet_of_a_page_runs(page, tmp_path, monkeypatch, capsys):
    monkeypatch.chdir(tmp_path)
    left_behind: dict = {}
    printed = ""
    for kind, more, body in BLOCK.findall(page.read_text("utf-8")):
        assert kind in KINDS, f"a block of {kind} says nothing to the tests"
        if kind == "bash":
            printed = "".join(run(line, capsys) for line in body.splitlines())
        elif kind == "output":
            assert_in_order(body, printed)
        elif kind == "diff":
            change(tmp_path / more, body)
        elif kind == "python":
            exec(compile(body, f"{page.name}", "exec"), left_behind)


def run(line: str, capsys) -> str:
    command, _, comment = line.partition("  # ")
    words = re.findall(r'"[^"]*"|\S+', command)
    assert words[0] == "batterboard", line
    status = int(comment.removeprefix("exit status ")) if comment else 0
    assert main([word.strip('"') for word in words[1:]]) == status, line
    said = capsys.readouterr()
    if "--json" in words:
        json.loads(said.out)
    return said.out + said.err


def assert_in_order(expected: str, printed: str) -> None:
    at = 0
    for line in expected.splitlines():
        if line.strip() == "...":
            continue
        found = printed.find(line.strip(), at)
        assert found >= 0, f"{line!r} was not printed, or not in this order"
        at = found


def change(path: Path, difference: str) -> None:
    text = path.read_text("utf-8")
    lines = difference.splitlines()
    out = [line[1:] for line in lines if line.startswith("-")]
    put = [line[1:] for line in lines if line.startswith("+")]
    if not out:
        text += "\n" + "\n".join(put) + "\n"
    for old, new in zip(out, put, strict=bool(out)):
        assert text.count(f"\n{old}\n") + text.count(f"\n{old} ") == 1, f"{old!r} stands not once in {path.name}"
        text = text.replace(f"\n{old}", f"\n{new}", 1)
    path.write_text(text, "utf-8")


@pytest.mark.parametrize("page", MADE, ids=named)
def test_a_made_page_is_as_its_source_is(page):
    assert page.exists() and page.read_text("utf-8") == MADE[page], (
        "python scripts/theory.py; python scripts/job_file.py"
    )


def test_no_made_page_is_left_over():
    assert [named(page) for page in DOCS if page not in MADE and "<!-- Made by" in page.read_text("utf-8")] == []


@pytest.mark.parametrize("page", [*DOCS, ROOT / "README.md", ROOT / "CONTRIBUTING.md"], ids=named)
def test_links_between_pages_lead_somewhere(page):
    text = re.sub(r"^```.*?^```$", "", page.read_text("utf-8"), flags=re.M | re.S)
    for target in re.findall(r"(?<!!)\[[^\]]*\]\(([^)\s]+)\)", text):
        path, _, anchor = target.partition("#")
        linked = (page.parent / path).resolve() if path else page
        assert linked.exists(), target
        if anchor:
            headings = re.findall(r"^#+ (.*)$", linked.read_text("utf-8"), re.M)
            assert anchor in {heading.lower().replace(" ", "-") for heading in headings}, target


def test_every_command_is_told_of_in_the_pages(capsys):
    with pytest.raises(SystemExit):
        main(["--help"])
    commands = re.findall(r"^    (\w+) ", capsys.readouterr().out, re.M)
    told = "".join(page.read_text("utf-8") for page in WRITTEN)
    assert commands and all(f"batterboard {command}" in told for command in commands)
