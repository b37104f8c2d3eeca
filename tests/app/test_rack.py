"""The rack: what is put on it is there, two who write at once lose nothing, and a plan cuts from it first."""

import sqlite3
from concurrent.futures import ThreadPoolExecutor
from contextlib import closing
from fractions import Fraction
from pathlib import Path

import pytest

from storystick.app import rack
from storystick.app.command import main
from storystick.shop.shop import OnHand
from tests.told import SAMPLES

OFFCUT = OnHand("offcut", "birch plywood", Fraction(762), Fraction(1524, 5), Fraction(18))


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("STORYSTICK_DATA", str(tmp_path / "data"))
    return rack.rack_file()


def test_a_rack_that_was_never_used_is_empty_and_makes_no_file(file: Path) -> None:
    assert rack.on_rack(file) == ()
    assert not file.exists()


def test_what_is_put_on_the_rack_is_there_to_the_last_fraction(file: Path) -> None:
    rack.put(file, [OFFCUT])
    assert [kept.thing for kept in rack.on_rack(file)] == [OFFCUT]


def test_two_of_a_kind_are_one_row_counted_twice(file: Path) -> None:
    assert len(set(rack.put(file, [OFFCUT, OFFCUT]))) == 1
    assert [kept.thing.count for kept in rack.on_rack(file)] == [2]


def test_no_more_is_taken_than_is_there(file: Path) -> None:
    (number,) = rack.put(file, [OFFCUT])
    assert rack.take(file, number, 2) is None
    assert rack.take(file, number + 1) is None
    assert rack.take(file, number) is not None
    assert rack.on_rack(file) == ()


def test_no_number_is_given_twice_so_nobody_takes_another_piece_by_it(file: Path) -> None:
    (first,) = rack.put(file, [OFFCUT])
    assert rack.take(file, first) is not None
    (second,) = rack.put(file, [OnHand("offcut", "birch plywood", Fraction(500), Fraction(300))])
    assert second > first
    assert rack.take(file, first) is None
    assert not rack.settle(file, [(first, 1)], [OFFCUT])
    assert [one.number for one in rack.on_rack(file)] == [second]


def test_a_job_that_cannot_take_all_it_used_changes_nothing(file: Path) -> None:
    (number,) = rack.put(file, [OFFCUT])
    before = rack.on_rack(file)
    assert not rack.settle(file, [(number, 1), (number, 1)], [OFFCUT])
    assert rack.on_rack(file) == before


def test_four_who_write_at_once_lose_nothing(file: Path) -> None:
    with ThreadPoolExecutor(4) as hands:
        list(hands.map(lambda _: rack.put(file, [OFFCUT]), range(80)))
    assert [kept.thing.count for kept in rack.on_rack(file)] == [80]


def test_four_who_take_at_once_get_each_piece_once(file: Path) -> None:
    (number,) = rack.put(file, [OFFCUT] * 10)[:1]
    with ThreadPoolExecutor(4) as hands:
        got = list(hands.map(lambda _: rack.take(file, number, 1), range(25)))
    assert sum(one is not None for one in got) == 10
    assert rack.on_rack(file) == ()


def test_a_file_that_is_no_rack_is_told_and_left_as_it_is(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file.parent.mkdir(parents=True)
    file.write_bytes(b"a shopping list " * 100)
    assert main(["rack"]) == 2
    assert "rack" in capsys.readouterr().err
    assert file.read_bytes() == b"a shopping list " * 100


def test_the_rack_is_added_to_listed_and_taken_from_by_word(file: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rack", "add", "birch plywood", "30", "12 1/2", "--thick", "23/32"]) == 0
    assert 'birch plywood' in capsys.readouterr().out
    assert main(["rack", "take", "1"]) == 0
    assert "empty" in capsys.readouterr().out


@pytest.mark.parametrize(
    "words", [["add"], ["add", "plywood"], ["add", "plywood", "-3", "4"], ["take", "x"], ["take", "7"]]
)
def test_a_word_the_rack_can_not_take_is_told(file: Path, capsys: pytest.CaptureFixture[str], words: list[str]) -> None:
    assert main(["rack", *words]) == 2
    assert "storystick:" in capsys.readouterr().err


def test_what_is_sawn_puts_its_leftovers_on_the_rack_and_the_next_plan_cuts_from_it(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    plan = str(SAMPLES / "drawer-tower.yaml")
    assert main(["sawn", plan]) == 0
    assert rack.on_rack(file)
    capsys.readouterr()
    assert main(["sheets", plan, "--rack"]) == 0
    assert "on the rack" in capsys.readouterr().out


def test_a_spoilt_corner_is_kept_on_the_rack_and_comes_off_with_its_piece(
    file: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["rack", "add", "birch plywood", "40", "30", "--spoilt", "12 x 10 at far right"]) == 0
    assert "far right" in capsys.readouterr().out
    (kept,) = rack.on_rack(file)
    (spot,) = kept.thing.spoilt
    assert (spot.long, spot.wide, spot.corner) == (Fraction("304.8"), 254, "far right")
    assert main(["rack", "add", "birch plywood", "40", "30"]) == 0  # a whole one of that size is another thing
    assert [one.thing.count for one in rack.on_rack(file)] == [1, 1]
    taken = rack.take(file, kept.number)
    assert taken is not None
    assert taken.thing == kept.thing


@pytest.mark.parametrize("words", ["12 x 10", "12 at far right", "12 x 10 at the top"])
def test_a_spoilt_place_that_is_not_a_place_is_told(
    file: Path, capsys: pytest.CaptureFixture[str], words: str
) -> None:
    assert main(["rack", "add", "birch plywood", "40", "30", "--spoilt", words]) == 2
    assert "storystick:" in capsys.readouterr().err


def test_a_rack_from_before_spoilt_corners_is_read_and_written_on(file: Path) -> None:
    file.parent.mkdir(parents=True, exist_ok=True)
    with closing(sqlite3.connect(file)) as store:
        store.execute(rack.TABLE.replace(",\n    spoilt text not null default ''", ""))
        store.execute("insert into pieces (form, material, long, wide, thickness, count, says)"
                      " values ('offcut', 'birch plywood', '762', '304', null, 2, '')")  # fmt: skip
        store.commit()
    assert [one.thing.count for one in rack.on_rack(file)] == [2]
    rack.put(file, [OFFCUT])
    assert len(rack.on_rack(file)) == 2
