"""The commands: read, ask, show, answer with the exit status.

0: done and every check holds; 1: done and a check does not hold; 2: the input could not be used. What a command alone
needs is imported inside it, so that `--help` and `check` start fast.
"""

import argparse
import gc
import io
import os
import sys
from functools import lru_cache
from typing import Any

SAFETY = (
    "It prepares and explains; it never replaces a licensed engineer, an electrician or the local codes, which decide. "
    "Trenches, forms under pressure, fresh concrete, lifting, welding and live conductors hurt people."
)


def run() -> None:
    """The command itself: ends the process with its exit status at once.

    All is written by then, and taking a hundred modules apart piece by piece would cost an eighth of a `check`.
    """
    status = main()
    sys.stderr.flush()
    os._exit(status)


def main(arguments: list[str] | None = None) -> int:
    """Run one command and return its exit status."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")  # a small solve is many times slower on two threads than on one
    gc.disable()  # a command ends before there is anything to collect; only the page lives on
    words = sys.argv[1:] if arguments is None else arguments
    asked = _parser(words).parse_args(words)
    _print_anywhere(as_json=getattr(asked, "json", False))
    try:
        status = int(asked.run(asked))
        if sys.stdout is not None:  # it is None where nothing listens
            sys.stdout.flush()
        return status
    except BrokenPipeError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 0
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 130
    except OSError as problem:  # files say for themselves what is wrong with them: this is where the answer goes to
        print(f"the answer cannot be told: {problem.strerror or problem}", file=sys.stderr)
        if sys.stdout is not None:
            os.dup2(os.open(os.devnull, os.O_WRONLY), sys.stdout.fileno())
        return 2
    except Exception as problem:
        if not getattr(problem, "for_the_user", False):
            raise
        print(problem, file=sys.stderr)
        return 2


def _print_anywhere(as_json: bool) -> None:
    """A terminal without the letter for a bar's diameter gets a question mark; a program always gets UTF-8."""
    if isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8" if as_json else None, errors="replace")


Argument = tuple[tuple[str, ...], dict[str, Any]]


def _parser(asked: list[str]) -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="batterboard",
        description="Small concrete foundations for steel that is bolted or welded on: one job file, every number.",
        epilog=SAFETY,
        formatter_class=_lines,
    )
    commands = parser.add_subparsers(prog="batterboard", required=True, metavar="COMMAND", title="commands")

    def command(name: str, run: Any, does: str, *arguments: Argument) -> None:
        made = commands.add_parser(name, help=does, description=does, formatter_class=_lines)
        made.set_defaults(run=run)
        for flags, said in arguments if name in asked else ():  # each costs a start-up some
            made.add_argument(*flags, **said)

    job = _argument("job", metavar="JOB.toml", help="the job file")
    as_json = _argument("--json", action="store_true", help="print it for a program")
    command(
        "new", _new, "Write a commented starting job file.",
        _argument("kind", metavar="KIND", help="gate, sign or machine pad"),
        _argument("file", metavar="FILE", nargs="?", help="where to write it; KIND.toml where left out"),
    )  # fmt: skip
    command(
        "check", _check, "All checks of the job, worst first.", job, as_json,
        _argument("--why", metavar="NAME", help="the working of the checks whose name or element this is"),
    )  # fmt: skip
    command(
        "book", _book, "The job book as PDF: summary, a chapter a phase, the working.", job, as_json,
        _argument("-o", "--output", metavar="FILE", help="where to write it; beside the job file where left out"),
        _argument("--pour", action="store_true", help="only the pour page: one sheet to hang up on the day"),
        _argument("--paper", choices=("letter", "a4"), help="letter for us jobs, a4 for si where left out"),
    )  # fmt: skip
    command(
        "draw", _draw, "The drawings as SVG and DXF, the forms drawn apart in 3D as GLB (glTF 2.0).", job, as_json,
        _argument("-o", "--output", metavar="FOLDER", help="where to write them; JOB-drawings where left out"),
        _argument("--only", choices=("svg", "dxf", "glb"), help="one format"),
    )  # fmt: skip
    command(
        "lists", _lists, "Cut, bar, buy, stake and day lists as CSV and one XLSX, and a calendar file.", job, as_json,
        _argument("-o", "--output", metavar="FOLDER", help="where to write them; JOB-lists where left out"),
    )  # fmt: skip
    command("compare", _compare, "What the found dimensions change.", job, as_json)
    command(
        "open", _open, "A page on this computer that follows the job file as it changes.", job,
        _argument("--port", type=int, default=0, help="a fixed port; a free one where left out"),
        _argument("--no-browser", action="store_true", help="print the address only"),
    )  # fmt: skip
    return parser


def _argument(*flags: str, **said: Any) -> Argument:
    return flags, said


def _lines(prog: str) -> argparse.HelpFormatter:
    """Help as wide as the terminal; argparse asks its width at a price, for every argument that is named."""
    return argparse.HelpFormatter(prog, width=_wide())


@lru_cache
def _wide() -> int:
    try:
        return os.get_terminal_size().columns - 2
    except (AttributeError, OSError, ValueError):  # nothing that has a width listens
        return 118


def _new(asked: argparse.Namespace) -> int:
    from pathlib import Path

    from batterboard.job import starting_file
    from batterboard.views.files import write_new

    path = Path(asked.file or f"{asked.kind.replace(' ', '-')}.toml")
    write_new(path, starting_file(asked.kind))
    print(f"{path} written. Change what differs, then: batterboard check {path}")
    return 0


def _plan(asked: argparse.Namespace) -> Any:
    from batterboard.job import read_job
    from batterboard.plan import Plan

    return Plan(read_job(asked.job))


def _packed(plan: Any, as_json: bool, *searches: str) -> None:
    """The long searches, before anything is drawn or written: Ctrl-C ends them all with the best so far."""
    from batterboard.views import searching

    searching.packed(plan, searches or searching.ALL, quiet=as_json)


def _status(plan: Any) -> int:
    return 0 if all(c.holds for c in plan.checks) else 1


def _check(asked: argparse.Namespace) -> int:
    from batterboard.views import answers

    plan = _plan(asked)
    print(answers.checks_json(plan, asked.why) if asked.json else answers.checks_text(plan, asked.why))
    return _status(plan)


def _book(asked: argparse.Namespace) -> int:
    from pathlib import Path

    from batterboard.views import book, files

    plan = _plan(asked)
    path = Path(asked.output or Path(asked.job).with_suffix(".pour.pdf" if asked.pour else ".pdf"))
    files.keep(Path(asked.job), path)
    if not asked.pour:
        _packed(plan, asked.json)
    files.write_whole(path, (book.pour_pdf if asked.pour else book.pdf)(plan, asked.paper))
    files.report({"book": [path]}, asked.json)
    return _status(plan)


def _draw(asked: argparse.Namespace) -> int:
    from pathlib import Path

    from batterboard.views import drawings, files

    plan = _plan(asked)
    folder = Path(asked.output or Path(asked.job).with_suffix("").as_posix() + "-drawings")
    if asked.only != "glb":
        _packed(plan, asked.json, "sheets")
    files.report({"drawings": files.write_all(folder, drawings.files(plan, asked.only))}, asked.json)
    return _status(plan)


def _lists(asked: argparse.Namespace) -> int:
    from pathlib import Path

    from batterboard.views import files, lists

    plan = _plan(asked)
    folder = Path(asked.output or Path(asked.job).with_suffix("").as_posix() + "-lists")
    _packed(plan, asked.json)
    files.report({"lists": files.write_all(folder, lists.files(plan))}, asked.json)
    return _status(plan)


def _compare(asked: argparse.Namespace) -> int:
    from batterboard.job import read_job
    from batterboard.study.compare import compare
    from batterboard.views import answers

    result = compare(read_job(asked.job))
    print(answers.compare_json(result) if asked.json else answers.compare_text(result))
    return 0 if all(c.holds for c in result.found.checks) else 1


def _open(asked: argparse.Namespace) -> int:
    from pathlib import Path

    from batterboard.app.serve import serve

    gc.enable()
    return serve(Path(asked.job), port=asked.port, browser=not asked.no_browser)
