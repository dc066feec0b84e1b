"""Make the pictures of the README from the example gate; with --check, say whether they still show what it makes.

python scripts/readme_pictures.py [--check]
"""

import io
import sys
from pathlib import Path

HERE = Path(__file__).resolve().parent.parent
sys.path.insert(0, str(HERE / "src"))

PICTURES = HERE / "docs" / "pictures"
JOB = HERE / "examples" / "orchard-gate" / "job.toml"
DRAWING = "Section"  # the first sheet whose name begins so
NEARLY = 1.0  # grey levels of 255, on the mean: rounding may differ from one processor to another


def made() -> dict[str, bytes]:
    """Both pictures as PNG, by file name."""
    from batterboard.job import read_job
    from batterboard.plan import Plan
    from batterboard.views import book, drawing, drawings

    plan = Plan(read_job(JOB))
    sheet = next(s for s in drawings.sheets(plan) if s.name.startswith(DRAWING))
    return {
        "book-page.png": book.pictures(plan, dots_per_inch=80)[0],
        "drawing.png": _drawn(drawing.svg(sheet), sheet.size),
    }


def _drawn(svg: str, size: tuple[float, float]) -> bytes:
    import typst

    page = f'#set page(width: {size[0]}mm, height: {size[1]}mm, margin: 0mm)\n#image("sheet.svg", width: 100%)'
    room: dict[str, str | bytes] = {"main.typ": page.encode(), "sheet.svg": svg.encode()}
    return bytes(typst.compile(room, ignore_system_fonts=True, format="png", ppi=80))  # type: ignore[arg-type]


def differs(one: bytes, other: bytes) -> bool:
    """Whether two PNGs show something else."""
    from PIL import Image, ImageChops, ImageStat

    a, b = (Image.open(io.BytesIO(data)).convert("L") for data in (one, other))
    return a.size != b.size or ImageStat.Stat(ImageChops.difference(a, b)).mean[0] > NEARLY


def main() -> int:
    stale = []
    for name, data in made().items():
        path = PICTURES / name
        if "--check" not in sys.argv:
            PICTURES.mkdir(parents=True, exist_ok=True)
            path.write_bytes(data)
            print(path.relative_to(HERE))
        elif not path.exists() or differs(path.read_bytes(), data):
            stale.append(name)
    if stale:
        print(f"not what the example makes any more: {', '.join(stale)}; run python scripts/readme_pictures.py")
    return 1 if stale else 0


if __name__ == "__main__":
    raise SystemExit(main())
