"""Makes the pictures of the README from the main sample:  python -m tools.pictures  (with src on the path)."""

from collections.abc import Mapping
from pathlib import Path

from storystick.app.pipeline import Job, Texts
from storystick.paper import drawings

ROOT = Path(__file__).parents[1]
SAMPLE = ROOT / "samples" / "lathe-cabinet.yaml"
FOLDER = ROOT / "docs" / "pictures"
WANTED = {"piece": "piece", "sheet": "sheet birch18 1", "card": "card A face", "joint": "joint dado"}
"""File name of each picture, and which of the packet's drawings it is."""
GROUND = '<rect width="100%" height="100%" fill="#ffffff"/>'


def pictures() -> Mapping[str, str]:
    """The SVG of each picture by its file's name, on white ground so that it can be read on a dark page too."""
    job = Job(Texts(SAMPLE.read_text("utf-8"), SAMPLE.name))
    made = drawings(job.folder, only=tuple(WANTED.values()))
    return {f"{name}.svg": grounded(made[which]) for name, which in WANTED.items()}


def grounded(svg: str) -> str:
    """A drawing with white paper under it."""
    head, end, rest = svg.partition("</title>")
    return f"{head}{end}{GROUND}{rest}\n"


if __name__ == "__main__":
    FOLDER.mkdir(exist_ok=True)
    for name, svg in pictures().items():
        (FOLDER / name).write_text(svg, "utf-8")
