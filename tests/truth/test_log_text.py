"""The log as text: one entry a line, what is torn or strange is told and doesn't count."""

from fractions import Fraction

from hypothesis import given
from hypothesis import strategies as st

from storystick.plan.log import ACTS, HEAD, Entry, read_log, written
from tests.truth.plans import WHEN, entry, put, read

WORDS = st.text(st.characters(codec="utf-8", exclude_characters="#=;"), min_size=1, max_size=30).filter(
    lambda text: text.split() and not text.split()[0].startswith("with")
)
MM = st.fractions(min_value=0, max_value=3000, max_denominator=64)


def back(*entries: Entry) -> tuple[Entry, ...]:
    outcome = read_log(HEAD + "".join(written(one) for one in entries))
    assert outcome.findings == ()
    assert outcome.made
    return outcome.made.entries


def test_an_entry_reads_as_a_sentence_of_the_bench():
    line = written(read("birch18.thick", "17.6", "17.7", tool="calliper"))
    assert line == "2026-11-25 14:03  read  birch18.thick  17.6 mm, 17.7 mm  with calliper\n"
    numbers = (("case.bottom.length", Fraction("734.7375")), ("dado depth", Fraction(6)))
    part = entry("cut", "case.bottom", numbers=numbers)
    assert written(part) == "2026-11-25 14:03  cut  case.bottom  length 734.7375 mm; =dado depth 6 mm\n"


def test_fractions_of_an_inch_are_read_in_a_plan_in_inches():
    found = read_log(f"{WHEN}  read  opening  30 1/4, 30 5/16\n", unit="inch").made
    assert found
    assert found.readings["opening"].values == (Fraction("768.35"), Fraction("769.9375"))


@given(WORDS, st.lists(MM, min_size=1, max_size=4), st.sampled_from(["", "calliper", "steel rule"]))
def test_a_reading_comes_back_to_a_millionth_of_a_millimetre(name: str, values: list[Fraction], tool: str):
    (one,) = back(Entry(WHEN, "read", name, tuple(values), tool=tool))
    assert (one.about, one.tool) == (" ".join(name.split()), tool)
    assert all(abs(a - b) <= Fraction(1, 1_000_000) for a, b in zip(one.values, values, strict=True))


@given(WORDS, st.lists(st.tuples(WORDS, MM), min_size=1, max_size=4))
def test_a_part_that_is_cut_comes_back_with_every_number(part: str, numbers: list[tuple[str, Fraction]]):
    part = " ".join(part.split())
    held = tuple((f"{part}.{' '.join(name.split())}", value) for name, value in numbers)
    (one,) = back(Entry(WHEN, "cut", part, numbers=held))
    assert [name for name, _ in one.numbers] == [name for name, _ in held]


@given(st.text(max_size=200))
def test_whatever_stands_in_a_log_it_is_read_without_a_crash(text: str):
    outcome = read_log(text)
    assert outcome.made is not None


@given(st.data())
def test_a_log_cut_off_anywhere_keeps_every_line_that_has_its_end(data: st.DataObject):
    entries = (read("a.thick", "17.6"), put("b.wide", "6.35"), entry("note", "", says="the second sheet is darker"))
    whole = HEAD + "".join(written(one) for one in entries)
    at = data.draw(st.integers(0, len(whole)))
    outcome = read_log(whole[:at])
    assert outcome.made
    ends = [len(HEAD) + len("".join(written(one) for one in entries[: n + 1])) for n in range(3)]
    assert len(outcome.made.entries) == sum(end <= at for end in ends)
    broken = at > len(HEAD) and at not in (len(HEAD), *ends)
    assert [one.code for one in outcome.findings] == (["log-torn"] if broken else [])


def test_a_line_that_makes_no_sense_is_told_with_its_place_and_the_nearest_that_works():
    outcome = read_log(HEAD + f"{WHEN}  raed  a.thick  17.6 mm\n{WHEN}  read  a.thick  17.6 mn\n", "case.log")
    assert outcome.made
    assert outcome.made.entries == ()
    assert [(one.place.line, one.code) for one in outcome.findings] == [(2, "log-line"), (3, "log-line")]
    assert "read" in outcome.findings[0].advice


def test_one_entry_sent_twice_counts_once():
    outcome = read_log(HEAD + 2 * written(Entry(WHEN, "done", "step 3", says="Saw", tag="a1b2c3d4")))
    assert outcome.made
    assert len(outcome.made.entries) == 1
    assert outcome.made.done == ("step 3",)


def test_what_was_read_overrules_what_was_held_and_a_part_cut_anew_is_free():
    first = entry("cut", "case.shelf", numbers=(("case.shelf.length", Fraction(560)),))
    log = read_log("".join(written(one) for one in (first, read("case.shelf.length", "559.2")))).made
    assert log
    assert log.readings["case.shelf.length"].value == Fraction("559.2")
    assert "case.shelf" in log.cut
    log = read_log("".join(written(one) for one in (first, entry("anew", "case.shelf")))).made
    assert log
    assert (dict(log.held), dict(log.cut)) == ({}, {})


def test_every_kind_of_entry_has_its_meaning():
    from storystick.plan.log import MEANS

    assert set(MEANS) == set(ACTS)
