"""Answers that are kept by what was asked."""

from collections.abc import Callable

from storystick.ground.kept import Kept, This, forget


def counted(found: list[int], answer: int) -> Callable[[], int]:
    def reckon() -> int:
        found.append(answer)
        return answer

    return reckon


def test_what_was_asked_before_is_not_reckoned_again():
    shelf, reckoned = Kept[int](3), list[int]()
    assert [shelf.of(("shelf", 2), counted(reckoned, 7)) for _ in range(3)] == [7, 7, 7]
    assert reckoned == [7]


def test_an_answer_of_nothing_is_kept_as_well():
    shelf, reckoned = Kept[int | None](3), list[int]()
    for _ in range(2):
        assert shelf.of("a", lambda: reckoned.append(1)) is None  # type: ignore[func-returns-value]
    assert reckoned == [1]


def test_the_answers_asked_for_last_are_kept_and_no_more():
    shelf, reckoned = Kept[int](2), list[int]()
    for asked in (1, 2, 1, 3, 1, 2):
        assert shelf.of(asked, counted(reckoned, asked)) == asked
    assert reckoned == [1, 2, 3, 2]


def test_forgetting_drops_every_answer():
    shelf, reckoned = Kept[int](2), list[int]()
    shelf.of(1, counted(reckoned, 1))
    forget()
    shelf.of(1, counted(reckoned, 1))
    assert reckoned == [1, 1]


def test_two_things_that_are_alike_are_asked_for_apart():
    one, other = [1], [1]
    assert This(one) == This(one)
    assert hash(This(one)) == hash(This(one))
    assert This(one) != This(other)
    assert This(one) != one
