"""Writes docs/checks.md from the shelf of checks:  python -m tools.checks_page  (with src on the path)."""

from collections.abc import Iterator
from pathlib import Path

from storystick.checks import shelf
from storystick.model.check import Check

PAGE = Path(__file__).parents[1] / "docs" / "checks.md"
HEAD = """# What is checked

Every check asks one question of the whole piece, and answers with the number it found, the limit it holds it against
and the margin between. What is good is told too. A finding says what would mend it; following the advice clears it.

- **stop**: it can't be built as it stands
- **care**: look at it before cutting
- **note**: worth knowing
- **fine**: looked at and found good

A plan may accept a finding knowingly, with its reason: it then stands in the packet as a note.

    accept:
      too-heavy: the neighbour helps to carry it in

A source in brackets says how sure it is: published, quoted from memory, or common practice without a printed source.

## The checks
"""


def page() -> str:
    """The whole page."""
    return HEAD + "".join(f"\n{line}\n" for check in shelf().values() for line in entry(check))


def entry(check: Check) -> Iterator[str]:
    """One check: its code, what it asks, who says so."""
    yield f"### {check.code}"
    yield check.asks
    yield f"Source: {check.source}."


if __name__ == "__main__":
    PAGE.write_text(page(), "utf-8")
