"""Records that are made by the thousand are made quickly, and are as frozen as any other."""

from dataclasses import FrozenInstanceError, dataclass, field, fields, replace

import pytest

from storystick.ground.dim import Dim, given
from storystick.ground.records import quickly_made


@quickly_made
@dataclass(frozen=True, slots=True)
class Quick:
    name: str
    long: int = 3


def test_a_record_is_made_from_its_fields_by_place_or_by_name_with_its_usual_values():
    assert (Quick("a").name, Quick("a").long, Quick("a", 4).long, Quick(long=5, name="b").long) == ("a", 3, 4, 5)
    assert Quick("a", 3) == Quick("a") != Quick("b")
    assert hash(Quick("a", 3)) == hash(Quick("a"))
    assert repr(replace(Quick("a"), long=9)) == "Quick(name='a', long=9)"
    assert [one.name for one in fields(Quick)] == ["name", "long"]


def test_what_it_lacks_or_does_not_know_is_refused():
    with pytest.raises(TypeError, match="name"):
        Quick()  # type: ignore[call-arg]
    with pytest.raises(TypeError, match="wide"):
        Quick("a", wide=4)  # type: ignore[call-arg]


def test_nothing_of_it_can_be_changed():
    one: Dim = given("wide", 600, "line 3")
    for record, word in ((Quick("a"), "long"), (one, "value"), (one.node, "name")):
        with pytest.raises(FrozenInstanceError):
            setattr(record, word, 1)


def test_only_a_frozen_dataclass_with_slots_that_is_made_from_its_fields_alone_can_be_made_quickly():
    @dataclass(slots=True)
    class Open:
        name: str

    @dataclass(frozen=True)
    class Roomy:
        name: str

    @dataclass(frozen=True, slots=True)
    class Filled:
        names: list[str] = field(default_factory=list)

    @dataclass(frozen=True, slots=True)
    class Worked:
        name: str

        def __post_init__(self) -> None:
            raise AssertionError

    for record in (Open, Roomy, Filled, Worked):
        with pytest.raises(TypeError, match=record.__name__):
            quickly_made(record)
