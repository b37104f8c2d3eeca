"""Every printed number can be asked, and the answer ends at a line of the plan, a reading, a rule or a choice told."""

import re
from collections.abc import Iterator
from pathlib import Path

import pytest

from storystick.app import plain
from storystick.app.bought import ALL, bought, paid
from storystick.app.command import main
from storystick.app.pipeline import Job, Texts
from storystick.app.printed import everything
from storystick.ground.dim import Dim, Leaf, walk
from storystick.ground.length import fine, show
from tests.told import job, sample
from tests.truth.plans import CASE, DRAWER
from tests.truth.test_every_fit import BETWEEN, DOOR, LID, TOP

PLANS = {
    "alcove bookcase": sample("alcove-bookcase"), "drawer tower": sample("drawer-tower"),
    "lathe cabinet": sample("lathe-cabinet"), "case": CASE, "drawer": DRAWER, "doors": DOOR, "lid": LID, "top": TOP,
    "between": BETWEEN,
}  # fmt: skip
MM = re.compile(r"(?<![\d.x#])\d+(?:\.\d+)? mm")
INCH = re.compile(r'(?<![\d./x#-])(?:\d+ \d+/\d+|\d+/\d+|\d+(?:\.\d+)?)"(?: scant| heavy)?')
SAID = re.compile(r"\([^()]*\)")  # in brackets: the same in other units, a source, a size as it is sold


@pytest.fixture(scope="module", params=[*PLANS])
def work(request: pytest.FixtureRequest) -> Job:
    return job(PLANS[request.param])


def told(work: Job) -> Iterator[tuple[str, str]]:
    """Everything that is printed for the bench, each with where it stands."""
    manner = work.build.manner
    for step in work.order.steps:
        settings = (word for one in step.setups for word in (one.says, one.test))
        for text in (step.title, *step.does, step.check, *settings):
            yield f"step {step.number}", text
    letters = {part.name: part.letter for part in work.build.parts}
    for cutting in work.cuttings:
        for tree in cutting.layout.trees:
            for cut in tree.cuts:
                yield f"sheet of {cutting.stock.name}", plain.cut_in_words(cut, tree, letters, manner)
    for channel in work.channels:
        for method in channel.methods:
            yield "fits", " ".join(one.says for one in method.setups)


def test_every_number_in_steps_sheets_and_settings_can_be_asked_as_it_is_printed(work: Job):
    manner = work.build.manner
    known: set[str] = set()
    for dim in everything(work).values():
        if dim.power == 1:
            known |= {show(abs(dim.value), manner), fine(abs(dim.value), manner)}
    unknown: dict[str, str] = {}
    for where, text in told(work):
        for number in (MM if manner.unit == "mm" else INCH).findall(SAID.sub("", text)):
            if number.replace(".0 mm", " mm") not in known:
                unknown.setdefault(number, f"{where}: {text}")
    allowed = [text for text in unknown.values() if "leave" in text or "larger than drawn" in text or "templ" in text]
    assert len(unknown) == len(allowed), unknown


def ends(dim: Dim) -> Iterator[Leaf]:
    yield from (one.node for one in walk(dim) if isinstance(one.node, Leaf))


def test_every_number_ends_at_a_line_a_reading_a_rule_a_setting_or_a_choice(work: Job):
    for name, dim in everything(work).items():
        for leaf in ends(dim):
            told_why = leaf.says or leaf.source or leaf.place.line or leaf.looked_at or leaf.instead_of
            assert told_why or leaf.kind in ("given", "chosen"), (name, leaf)


def test_every_size_on_the_cards_and_in_the_cut_list_is_a_number_that_can_be_asked(work: Job):
    pages = work.pages
    for part in work.build.parts:
        for dim in part.size:
            assert pages[dim.name].value == dim.value
        for cut in part.cuts:
            for dim in (*getattr(cut, "at", ()), *getattr(cut, "size", ())):
                assert not dim.name or pages[dim.name].value == dim.value


def test_every_finding_with_a_number_names_its_line_its_rule_or_its_source(work: Job):
    for one in work.all_findings:
        if one.number is not None:
            assert one.source is not None or one.place.line, one


def test_a_number_is_asked_by_itself_on_the_command_line(tmp_path: object, capsys: pytest.CaptureFixture[str]):
    path = Path(str(tmp_path)) / "case.yaml"
    path.write_text(CASE, "utf-8")
    assert main(["why", str(path), "17.75 mm"]) == 0
    said = capsys.readouterr().out
    assert "printed so" in said
    assert "slip" in said
    assert main(["why", str(path), "ply, sheet 1, cut 1, where it rips"]) == 0 or "cut 1" in capsys.readouterr().err
    assert main(["why", str(path), "1234.56 mm"]) == 2


def test_every_number_of_the_buying_list_is_asked_as_it_is_printed_and_ends_at_a_line_or_a_rule(work: Job):
    currency = work.buying.currency
    for line in work.buying.lines:
        assert paid(work, str(line.count)), line
        for amount in (line.price, line.total):
            if amount is not None:
                assert paid(work, plain.money(amount, currency)), line
    assert ALL in paid(work, plain.money(work.buying.total, currency))
    for dim in bought(work):
        for leaf in ends(dim):
            if leaf.name.endswith((", price", ", need")):
                assert leaf.place.line or leaf.source or leaf.looked_at, leaf.name


def test_a_price_of_the_shop_file_names_its_line_there_and_a_guess_says_that_it_is_one():
    shop = "units: inch\nprices:\n  yellow glue: $11\n"
    work = Job(Texts(sample("lathe-cabinet"), "lathe.yaml", shop, "own.yaml"))
    found = {dim.name: dim for dim in bought(work)}
    glue = next(dim for name, dim in found.items() if name.startswith("yellow glue") and name.endswith("price"))
    assert any("own.yaml, line 3" in leaf.says for leaf in ends(glue))
    screw = next(dim for name, dim in found.items() if name.startswith("#8 wood screw") and name.endswith("price"))
    assert all(leaf.says.startswith("a guess") and leaf.source for leaf in ends(screw))
    ply = found["birch plywood, 18 mm 4 ft x 8 ft, price"]
    assert any("lathe.yaml, line" in leaf.says for leaf in ends(ply))
    assert found[ALL].value == work.buying.total


def test_a_price_is_asked_on_the_command_line(capsys: pytest.CaptureFixture[str], tmp_path: Path):
    path = tmp_path / "case.yaml"
    path.write_text(CASE, "utf-8")
    assert main(["buy", str(path)]) == 0
    said = capsys.readouterr().out
    assert "90.00" in said
    assert main(["why", str(path), "90.00"]) == 0
    assert "the plan says so; case.yaml, line 5" in capsys.readouterr().out
