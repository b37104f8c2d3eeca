"""The nearest thing that works."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.ground.finding import Grade, Place
from storystick.ground.misread import Misread, nearest, one_of


@pytest.mark.parametrize(
    ("word", "choices", "meant"),
    [
        ("dodo", ("dado", "groove", "rabbet"), "dado"),
        ("rabet", ("dado", "groove", "rabbet"), "rabbet"),
        ("GROVE", ("dado", "groove", "rabbet"), "groove"),
        ("bed heigth", ("bed height", "bench height"), "bed height"),
        ("overhng", ("overhang", "over"), "overhang"),
        ("birch", ("birch18", "walnut"), "birch18"),
        ("mn", ("mm", "in"), "mm"),
        ("xylophone", ("dado", "groove"), ""),
        ("", ("dado",), ""),
        ("dado", (), ""),
    ],
)
def test_the_nearest_word_is_the_one_that_was_meant(word, choices, meant):
    assert nearest(word, choices) == meant


@given(st.lists(st.text(min_size=1, max_size=12), min_size=1))
def test_a_word_that_is_there_is_its_own_nearest(words):
    found = nearest(words[0], words)
    assert " ".join(found.casefold().split()) == " ".join(words[0].casefold().split())


@given(st.text(max_size=20), st.lists(st.text(max_size=12)))
def test_the_nearest_is_always_one_of_the_choices_or_none(word, choices):
    assert nearest(word, choices) in {*choices, ""}


def test_choices_are_said_as_people_say_them():
    assert one_of(["oak"]) == "oak"
    assert one_of(["oak", "ash"]) == "oak or ash"
    assert one_of(["oak", "ash", "walnut"]) == "oak, ash or walnut"


def test_a_misread_value_is_told_with_its_place_and_what_would_work():
    finding = Misread("23,5", "a length", "23.5").finding(Place("plan.yaml", 4, 7))
    assert finding.grade == Grade.STOP
    assert finding.place.line == 4
    assert finding.says == "'23,5' is not a length."
    assert finding.advice == "Write 23.5."
