"""The shop's own times: read in any usual notation, by the table's names; what is wrong is told where it stands."""

from fractions import Fraction

import pytest

from storystick.ground.misread import Misread
from storystick.shop.own_times import read_minutes
from storystick.shop.read import default_shop, read_shop
from storystick.shop.shop import OwnTime


@pytest.mark.parametrize(
    ("text", "minutes"),
    [
        ("4", 4),
        ("4 min", 4),
        ("1 h 30 min", 90),
        ("1 1/2 h", 90),
        ("20 s", Fraction(1, 3)),
        ("2.5 minutes", Fraction(5, 2)),
    ],
)
def test_a_time_is_read_as_it_is_said(text: str, minutes: Fraction):
    assert read_minutes(text) == minutes


@pytest.mark.parametrize("text", ["", "soon", "4 mm", "3 min 4", "-3 min", "9999 h", "1/0 h"])
def test_what_is_no_time_is_told(text: str):
    with pytest.raises(Misread):
        read_minutes(text)


def test_times_are_kept_by_the_tables_own_names():
    shop = read_shop("units: inch\ntimes:\n  Glue-up: {set up: 5 min, wait: 1 h}\n  screw: 20 s\n").made
    assert shop is not None
    assert shop.times["glue-up"] == OwnTime(Fraction(5), None, Fraction(60))
    assert shop.times["drive screw"] == OwnTime(each=Fraction(1, 3))


def test_a_kind_of_work_that_is_not_known_is_told_with_the_nearest():
    read = read_shop("units: inch\ntimes:\n  dri fit: 4 min\n  crosscut: 5 apples\n", "shop.yaml")
    told = [(one.place.line, one.says) for one in read.findings if "usual" not in one.says]
    assert any(line == 3 and "dry fit" in says + str(read.findings) for line, says in told)
    assert any(line == 4 for line, _ in told)


def test_a_shop_without_times_has_none_of_its_own():
    assert not default_shop("inch").times
