"""The commands on the front page are run: what it promises is what happens."""

import re
import shlex

import pytest

from storystick.app.command import main
from tests.told import SAMPLES

README = (SAMPLES.parent / "README.md").read_text("utf-8")


def shown() -> list[tuple[str, list[str]]]:
    """Each command of the page with the lines shown under it."""
    blocks = [block.splitlines() for block in re.findall(r"(?:^    .*\n)+", README, re.MULTILINE)]
    return [
        (first.removeprefix("    $ ./storystick "), [line.strip() for line in rest if line.strip() != "..."])
        for first, *rest in blocks
        if first.startswith("    $ ./storystick ")
    ]


@pytest.mark.parametrize(("command", "lines"), shown(), ids=lambda value: value if isinstance(value, str) else "")
def test_a_command_of_the_front_page_gives_what_is_shown(
    capsys: pytest.CaptureFixture[str], command: str, lines: list[str]
) -> None:
    words = shlex.split(command)
    words = [str(SAMPLES.parent / word) if word.startswith("samples/") else word for word in words]
    assert main(words) == 0
    out = capsys.readouterr().out
    for line in lines:
        assert line in out


def test_every_verb_of_the_front_page_is_one() -> None:
    from storystick.app.verbs import VERBS

    named = set(re.findall(r"`\./storystick ([a-z]+)", README))
    assert named <= set(VERBS)
    assert len(named) >= 8
