"""Two boards in one place."""

from dataclasses import replace

import pytest

from storystick.ground.finding import Grade
from tests.checks.by_hand import board, carcass, lengths, piece, told, troubles


def test_boards_that_touch_and_boards_in_their_troughs_do_not_collide():
    (found,) = told("parts-collide", carcass())
    assert found.grade == Grade.FINE


def test_a_shelf_that_is_too_long_runs_into_the_side():
    # 3 mm too long: 3 x 400 x 18 mm of wood is in one place, but for the trough's slip.
    whole = carcass()
    shelf = board("case.shelf", (12, 0, 300), (579, 400, 18))
    build = replace(whole, parts=tuple(shelf if p.name == "case.shelf" else p for p in whole.parts))
    (found,) = troubles("parts-collide", build)
    assert (found.grade, found.about) == (Grade.STOP, ("case.right side", "case.shelf"))
    assert found.number == pytest.approx(3)
    assert "21.6 cm3" in found.says


def test_a_board_moved_as_advised_is_free():
    parts = board("case.a", (0, 0, 0), (300, 300, 18)), board("case.b", (290, 0, 0), (300, 300, 18))
    (found,) = troubles("parts-collide", piece(*parts))
    (by,) = lengths(found.advice)
    moved = board("case.b", (290 + by, 0, 0), (300, 300, 18))
    assert not troubles("parts-collide", piece(parts[0], moved))
