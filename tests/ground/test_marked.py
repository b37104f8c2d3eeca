"""Plan text to nodes: every value with its place, every broken line in plain words, no file too hostile."""

import pytest
import yaml
from hypothesis import example, given
from hypothesis import strategies as st

from storystick.ground import events
from storystick.ground.finding import Grade
from storystick.ground.marked import Mapping, Scalar, Sequence, column_of, read_marked, said, scalars

PLAN = """\
title: Grinder stand   # a comment
site:
  stand: {frame: [26, 20, 30], tube: 40 mm}
build:
  top:
    - wide: 23 5/8"
      high: '5'' 3'
"""


def made(text):
    outcome = read_marked(text, "plan.yaml")
    assert outcome.made is not None, [f.says for f in outcome.findings]
    assert not outcome.findings
    return outcome.made


def told(text):
    return read_marked(text, "plan.yaml").findings


def test_every_value_keeps_its_text_and_its_place():
    spots = {(s.text, s.place.line, s.place.column, s.place.end_column) for s in scalars(made(PLAN))}
    assert ("Grinder stand", 1, 8, 21) in spots
    assert ("40 mm", 3, 38, 43) in spots
    assert ('23 5/8"', 6, 13, 20) in spots
    assert ("5' 3", 7, 13, 20) in spots


def test_every_value_knows_the_names_that_lead_to_it():
    paths = {s.text: s.place.path for s in scalars(made(PLAN))}
    assert paths["20"] == ("site", "stand", "frame", "2")
    assert paths['23 5/8"'] == ("build", "top", "1", "wide")


def test_what_looks_like_yes_or_a_number_stays_text():
    node = made("a: yes\nb: 010\nc: 1e3\nd: 12:30\ne: null\nf: 2026-11-25\n")
    assert [s.text for s in scalars(node)] == ["yes", "010", "1e3", "12:30", "null", "2026-11-25"]


def test_quotes_are_remembered_and_not_part_of_the_value():
    node = made("a: \"#8 x 1\"\nb: '3'\nc: 3\n")
    assert [(s.text, s.quoted) for s in scalars(node)] == [("#8 x 1", True), ("3", True), ("3", False)]


def test_names_are_found_whatever_their_capitals_and_blanks():
    node = made("Bed  Height: 3\n")
    assert isinstance(node, Mapping)
    assert "bed height" in node
    assert node.get("BED HEIGHT") == node.entries[0][1]


def test_a_place_within_a_value_is_where_the_letter_stands():
    node = made("a: opening - gap\nb: 'opening - gap'\n")
    plain, quoted = scalars(node)
    assert column_of(plain, 10).column == 14
    assert column_of(quoted, 10).column == 15


def test_an_empty_file_is_an_empty_group():
    assert made("") == made("# only a comment\n")
    assert isinstance(made(""), Mapping)


def test_a_mark_of_byte_order_is_passed_over():
    assert [s.text for s in scalars(made("\ufeffa: 1\n"))] == ["1"]


def test_a_value_can_be_used_twice_with_a_star():
    node = made("a: &thick 18 mm\nb: *thick\n")
    assert [s.text for s in scalars(node)] == ["18 mm", "18 mm"]


def test_a_node_is_described_in_a_few_words():
    assert said(Scalar("24")) == "24"
    assert said(Sequence((Scalar("1"), Scalar("2")))) == "a list of 2"
    assert said(made("a: 1\nb: 2\n")) == "a group with a, b"


BROKEN = [
    # what was written, the line that is blamed, a word of the explanation, what the advice shows
    ('wide: "23 5/8\nhigh: 3\n', 1, "never closed", "leave the quote mark out"),
    ("note: see: this\n", 1, "second colon", "note: 'see: this'"),
    ("size: [1, 2\nhigh: 3\n", 2, "not closed", "]"),
    ("size: {a: 1\n", 1, "not closed", "}"),
    ("high: '5' 3\n", 1, "more after the closing", '"'),
    ("\thigh: 3\n", 1, "tab", "blanks"),
    ("a:\n\t- 1\n", 2, "tab", "blanks"),
    ("by: @me\n", 1, "can't begin with '@'", "'@me'"),
    ("wide: %x\n", 1, "can't begin with '%'", "'%x'"),
    ("wide: `x`\n", 1, "can't begin with '`'", "'`x`'"),
    ("wide:24\nhigh: 3\n", 2, "no blank after its colon", "wide: 24"),
    ("high: 3\nwide\ndeep: 2\n", 2, "no colon", "wide:"),
    ("high: 3\nwide:24\ndeep: 2\n", 2, "no blank after its colon", "wide: 24"),
    ("high: 3\n  wide: 2\n", 2, "further right", "same column"),
    ("- 1\nwide: 2\n", 2, "list begins in line 1", "- "),
    ("a:\n    b: 1\n  c: 2\n", 3, "fits no line above", "same column"),
    ("rows: - open\n", 1, "list with dashes", "next line"),
    ("rows: [1,,2]\n", 1, "should be a value", "out"),
    ("rows: ]\n", 1, "should be a value", "quotes"),
    ('a: "\\q"\n', 1, "backslash", "single quotes"),
    (" a: 1\nb: 2\n", 2, "after the plan has ended", "first column"),
    ("a: 1\n---\nb: 2\n", 2, "second document", "one to a file"),
    ("a: &\n", 1, "can't begin with '&'", "quotes"),
    ("a: 1\nb: \x07\n", 2, "can't be printed", "anew"),
    ("%YAML 9.9\n---\na: 1\n", 1, "%", "out"),
]


@pytest.mark.parametrize(("text", "line", "says", "advice"), BROKEN)
def test_a_broken_line_is_explained_in_plain_words(text, line, says, advice):
    (finding,) = told(text)
    assert finding.place.line == line
    assert says in finding.says
    assert advice in finding.advice


@pytest.mark.parametrize(("text", "line", "says", "advice"), BROKEN)
def test_the_slower_parser_explains_it_in_the_same_words(text, line, says, advice, monkeypatch):
    monkeypatch.setattr(events, "_events", lambda text: iter(yaml.parse(text, Loader=yaml.SafeLoader)))
    findings = told(text)
    assert len(findings) == 1
    assert findings[0].place.line == line
    assert says in findings[0].says


TOGETHER = """\
a: *y
b: !foo 1
A: 2
<<: {c: 1}
screw: #8 x 1-1/4
size: {wide:24, high: 23,5}
"""


def test_everything_but_a_broken_line_is_told_at_once():
    findings = told(TOGETHER)
    assert [f.place.line for f in findings] == [1, 2, 3, 4, 5, 6, 6]
    assert all(f.grade == Grade.STOP for f in findings)


def test_a_screw_size_lost_in_a_comment_is_noticed():
    (finding,) = told("screw: #8 x 1-1/4\n")
    assert "comment" in finding.says
    assert '"#8 x 1-1/4"' in finding.advice


def test_half_a_value_lost_in_a_comment_is_noticed():
    (finding,) = told("screw: 4 #8 screws\n")
    assert finding.grade == Grade.CARE
    assert "only '4' is left" in finding.says


def test_an_honest_comment_is_left_alone():
    assert not told("screw: 4  # of them\nsite:  # what is there\n  wall: 3\n")


def test_a_decimal_comma_in_braces_is_noticed():
    (finding,) = told("size: {wide: 23,5, high: 3}\n")
    assert "23.5" in finding.advice


def test_a_name_given_twice_is_told_with_both_lines():
    (finding,) = told("wide: 1\nhigh: 2\nWide: 3\n")
    assert finding.place.line == 3
    assert "line 1" in finding.says


def laughs(levels):
    lines = ["a0: &a0 [x,x,x,x,x,x,x,x,x]"]
    lines += [f"a{n}: &a{n} [{','.join([f'*a{n - 1}'] * 9)}]" for n in range(1, levels)]
    return "\n".join(lines)


def snake(levels):
    return "\n".join(["a0: &a0 [x]"] + [f"a{n}: &a{n} [*a{n - 1}]" for n in range(1, levels)])


HOSTILE = {
    "a star that multiplies": laughs(12),
    "a star inside itself": "a: &a [*a]",
    "a chain of stars": snake(60),
    "brackets without end": "[" * 100_000,
    "braces without end": "{a: " * 50_000,
    "brackets just too deep": "a: " + "[" * 25 + "]" * 25,
    "dashes without end": "- " * 20_000,
    "questions without end": "? " * 5_000,
    "a value of two megabytes": "a: " + "x" * 2_000_000,
    "too many values": "a: [" + "1," * 120_000 + "]",
    "bytes of nothing": "\x00" * 100,
    "half a letter": "a: \ud800",
    "a tag that makes something": "!!python/object/apply:os.system ['echo']",
    "names without end": "\n".join(f"? [{n}]\n: {n}" for n in range(2_000)),
    "quotes without end": "a: " + "'" * 99_999,
    "stars without meaning": "\n".join(f"a{n}: *b{n}" for n in range(5_000)),
    "directives": "%TAG ! tag:x,2000:\n---\n!x a",
    "a long name": "x" * 5_000 + ": 1",
    "one name over and over": "a: 1\n" * 30_000,
}


@pytest.mark.parametrize("text", HOSTILE.values(), ids=HOSTILE.keys())
def test_a_hostile_file_is_refused_with_a_line(text):
    findings = read_marked(text, "plan.yaml").findings
    assert 1 <= len(findings) <= 201
    assert all(f.place.line >= 1 for f in findings)


def test_a_file_of_forty_five_thousand_names_is_read():
    text = "".join(f"name {n}: {n}\n" for n in range(45_000))
    outcome = read_marked(text)
    assert isinstance(outcome.made, Mapping)
    assert outcome.made.get("name 44999") == outcome.made.entries[-1][1]


@given(st.text(max_size=200))
def test_no_text_whatever_breaks_the_reading(text):
    outcome = read_marked(text, "plan.yaml")
    assert outcome.made is not None or outcome.findings
    assert all(f.place.line >= 1 for f in outcome.findings)


@given(st.text("ab1:-[]{}#&*!|>'\"%@`?, \n\t", max_size=80))
def test_no_scribble_of_signs_breaks_the_reading(text):
    outcome = read_marked(text, "plan.yaml")
    assert outcome.made is not None or outcome.findings
    assert all(f.place.line >= 1 and f.says for f in outcome.findings)


SECTIONS = PLAN + """\
about: >
  A stand,
  as it was.

measure:
  - {long: 3, readings: [1, 2]}   # twice

loads: 'nothing
  much'
"""
SLIPS = (
    *("", "\n", " ", "  ", "\t", "'", '"', "{", "}", "[", "]", "#", "# 1\n", ": ", "&a ", "*a", "|\n", ">\n", "a: 3\n"),
    *("- ", "...\n", "---\n", "%", "\r\n", "\r", "\x85", "? ", "!x ", "build:\n"),
)
SPOTS = st.tuples(st.integers(0, len(SECTIONS)), st.integers(0, 3), st.sampled_from(SLIPS))


@given(st.lists(SPOTS, max_size=3))
@example([])
@example([(0, 0, "a: 'b\n"), (26, 0, "'")])
def test_a_text_read_by_its_sections_is_what_it_is_as_a_whole(slips):
    text = SECTIONS
    for at, long, slip in slips:
        text = text[:at] + slip + text[at + long :]
    whole, root = events.read_whole(text, "plan.yaml"), events.by_sections(text, "plan.yaml")
    assert root is not None or slips
    if root is not None:
        assert (whole.root, whole.findings) == (root, ())


def test_sections_that_have_not_changed_are_not_read_again():
    was, now = (events.by_sections(text, "plan.yaml") for text in (SECTIONS, SECTIONS.replace("23 5/8", "24 5/8")))
    assert was is not None
    assert now is not None
    assert [name for name in ("site", "build", "measure", "loads") if was.get(name) is not now.get(name)] == ["build"]


def test_a_text_of_too_many_values_is_refused_though_no_section_has_too_many():
    text = "".join(f"word {n}:\n" + "  - [1, 2, 3]\n" * 1000 for n in range(26))
    assert events.by_sections(text, "plan.yaml") is None
    assert told(text)


def the_same(mine, loaded):
    """Is a node what the YAML library makes of the text, every scalar as text?"""
    if isinstance(mine, Mapping):
        return isinstance(loaded, dict) and [k.text for k, _ in mine] == list(loaded) and all(
            the_same(v, loaded[k.text]) for k, v in mine)  # fmt: skip
    if isinstance(mine, Sequence):
        return isinstance(loaded, list) and len(mine) == len(loaded) and all(map(the_same, mine.items, loaded))
    return mine.text == loaded


WORDS = st.text("abc 12/:#'\"-[]{},\n½", max_size=12)
NAMES = st.text("abc", min_size=1, max_size=3)
TREES = st.recursive(WORDS, lambda inner: st.lists(inner, max_size=3) | st.dictionaries(NAMES, inner, max_size=3))


@given(st.dictionaries(st.sampled_from(["one", "two", "three"]), TREES, min_size=1))
def test_whatever_was_written_out_is_read_back_as_it_was(tree):
    text = yaml.safe_dump(tree, allow_unicode=True, default_style=None)
    node = read_marked(text).made
    assert node is not None
    assert the_same(node, yaml.load(text, Loader=yaml.BaseLoader))
