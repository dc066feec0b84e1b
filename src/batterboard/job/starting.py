"""With what does he begin? A commented job of each kind, to be changed where his differs.

The texts stand beside this room as job files, read as they are by the same reader as any other.
"""

from batterboard.job.errors import JobError, Mark, Problem, nearest, shown

KINDS = ("gate", "sign", "machine pad")


def starting_file(kind: str) -> str:
    """The text of a starting job. Raises JobError where there is none of that kind."""
    plain = " ".join(kind.replace("-", " ").replace("_", " ").lower().split())
    if plain not in KINDS:
        raise JobError([Problem(Mark("new"), "", f"there is no starting job for {shown(kind)}", nearest(plain, KINDS))])
    from pathlib import Path  # only a new file pays for it

    return (Path(__file__).parent / "starting_files" / f"{plain.replace(' ', '-')}.toml").read_text("utf-8")
