"""Writes docs/theory from the formulas' own sources: one page a room, so that there is no second copy to drift.

python scripts/theory.py            writes the pages
python scripts/theory.py --check    says which are not as the formulas are; exit status 1 where one is not
"""

import importlib
import inspect
import pkgutil
import sys
from collections.abc import Iterator
from pathlib import Path
from types import ModuleType
from typing import get_type_hints

ROOT = Path(__file__).parent.parent
sys.path.insert(0, str(ROOT / "src"))

from batterboard.quantity import Unit, dimension_of  # noqa: E402
from batterboard.working import Formula  # noqa: E402
from batterboard.working.page import Setter  # noqa: E402

FOLDER = ROOT / "docs" / "theory"
ROOMS = ("batterboard.standards", "batterboard.phases")
MADE = "<!-- Made by scripts/theory.py from the formulas themselves: change them, not this page. -->"


class Theory(Setter):
    """Both sides of a choice, since no number has chosen yet."""

    def call(self, name: str, arguments: list[str]) -> str:
        if name == "where":
            condition, yes, no = arguments
            return f"{yes} where {condition}, else {no}"
        return super().call(name, arguments)


def pages() -> dict[Path, str]:
    """Every page with its text."""
    rooms = {name: (room, formulas) for name, room in _rooms() if (formulas := _formulas(room))}
    made = {FOLDER / f"{name}.md": _page(name, room, formulas) for name, (room, formulas) in rooms.items()}
    lines = [
        f"- [{name}]({name}.md): {_first_line(room.__doc__)} {len(formulas)} formula{'s' if len(formulas) > 1 else ''}."
        for name, (room, formulas) in rooms.items()
    ]
    made[FOLDER / "README.md"] = "\n".join(
        [
            MADE,
            "",
            "# Theory",
            "",
            "Every formula of the house, room by room, as the code has it: the same lines that the book prints with",
            "your numbers in them. Behind each source stands how it was got: read in a document, remembered and not",
            "seen, derived, or common practice. Outside its limits a formula gives no number.",
            "",
            *lines,
            "",
        ]
    )
    return made


def _rooms() -> Iterator[tuple[str, ModuleType]]:
    for root in ROOMS:
        package = importlib.import_module(root)
        for found in pkgutil.walk_packages(package.__path__, f"{root}."):
            yield (
                found.name.removeprefix("batterboard.").removeprefix("standards."),
                importlib.import_module(found.name),
            )


def _formulas(room: ModuleType) -> list[Formula]:
    """In the order they are written."""
    own = {f for f in vars(room).values() if isinstance(f, Formula) and f.function.__module__ == room.__name__}
    return sorted(own, key=lambda f: f.function.__code__.co_firstlineno)


def _page(name: str, room: ModuleType, formulas: list[Formula]) -> str:
    parts = [MADE, "", f"# {name}", "", _first_line(room.__doc__), ""]
    for formula in formulas:
        parts += _section(formula)
    return "\n".join(parts)


def _section(formula: Formula) -> list[str]:
    hints = get_type_hints(formula.function, include_extras=True)
    measured = ", ".join(f"`{name}` {dimension_of(hints[name]).name}" for name in formula.arguments)
    more = inspect.cleandoc(formula.function.__doc__ or "").partition("\n")[2].strip()
    units = {name for name, thing in formula.function.__globals__.items() if isinstance(thing, Unit)}
    setter = Theory({}, units, {})
    assert formula.tree is not None
    lines = [f"{name} = {setter.visit(expression)}" for name, expression in formula.tree.lines]
    limits = [f"Limits: {'; '.join(f'`{limit}`' for limit in formula.limits)}", ""] if formula.limits else []
    return [
        f"## {formula.name}",
        "",
        f"{formula.says}.",
        "",
        *(["```text", more, "```", ""] if more else []),
        "```text",
        *lines,
        "```",
        "",
        f"In: {measured}. Out: {dimension_of(hints['return']).name}." if measured else "",
        "",
        *limits,
        f"Source: {formula.source} ({formula.source.remark}).",
        "",
    ]


def _first_line(text: str | None) -> str:
    return (text or "").strip().partition("\n")[0]


def write(made: dict[Path, str], folder: Path, check: bool) -> int:
    """Write the pages, or say which differ from the disk; a page that nothing makes any more goes."""
    stale = [path for path, text in made.items() if not path.exists() or path.read_text("utf-8") != text]
    idle = [path for path in folder.glob("*.md") if path not in made and MADE in path.read_text("utf-8")]
    if check:
        for path in (*stale, *idle):
            print(f"{path.relative_to(ROOT)}: not as its source is")
        return int(bool(stale or idle))
    for path in stale:
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(made[path], "utf-8")
    for path in idle:
        path.unlink()
    return 0


if __name__ == "__main__":
    sys.exit(write(pages(), FOLDER, "--check" in sys.argv[1:]))
