"""What the page is told of a job."""

import json
import struct
from typing import Any

import pytest

from storystick.app.page import answers, bench_answers, meshes, whys
from storystick.app.page.forms import form
from storystick.ground.kept import forget
from tests.page.door import SMALL
from tests.told import job, sample


@pytest.fixture(scope="module")
def lathe() -> Any:
    return job(sample("lathe-cabinet"))


def test_everything_told_can_be_sent(lathe: Any):
    bench = (bench_answers.cut(lathe), bench_answers.steps(lathe), bench_answers.bought(lathe))
    for made in (answers.built(lathe), answers.checked(lathe, "numbers"), answers.checked(lathe, "bodies"), *bench):
        assert json.loads(json.dumps(made)) == made


def test_what_two_hands_found_is_told_as_one_would_tell_it(lathe: Any):
    numbers, bodies = answers.checked(lathe, "numbers"), answers.checked(lathe, "bodies")
    told = answers.together(numbers, bodies)
    assert [(f["code"], f["says"]) for f in told["findings"]] == [(f.code, f.says) for f in lathe.findings]
    assert told["weights"] == numbers["weights"]
    for trouble in ({"stopped": True}, {"broken": True, "says": "x"}, {"stuck": True, "findings": []}):
        assert answers.together(numbers, trouble) == trouble
        assert answers.together(trouble, bodies) == trouble


def test_every_part_is_drawn_where_it_lies(lathe: Any):
    told = answers.built(lathe)
    drawn = {one["name"]: one for one in told["picture"]["parts"]}
    assert drawn.keys() == {p.name for p in lathe.build.parts}
    side = lathe.scene.parts["cabinet.left side"]
    pose = drawn["cabinet.left side"]["pose"]
    corner = [pose[9 + i] for i in range(3)]
    assert all(low - 0.01 <= c <= high + 0.01 for c, low, high in zip(corner, *side.bounds, strict=True))


def test_bodies_come_as_bytes_that_close(lathe: Any):
    import numpy as np

    told = answers.built(lathe)
    wanted = sorted({one["body"] for one in told["picture"]["parts"]})
    data = meshes.packed(lathe, wanted)["bytes"]
    (long,) = struct.unpack_from("<I", data)
    heading = json.loads(data[4 : 4 + long])
    assert [one["body"] for one in heading["bodies"]] == wanted
    at = 4 + long
    for one in heading["bodies"]:
        corners = np.frombuffer(data, "<f4", one["corners"] * 3, at).reshape(-1, 3)
        at += corners.nbytes
        triangles = np.frombuffer(data, "<u4", one["triangles"] * 3, at)
        at += triangles.nbytes
        edges = np.frombuffer(data, "<u4", one["edges"] * 2, at)
        at += edges.nbytes
        assert max(triangles.max(), edges.max()) < len(corners)
        assert len(edges) >= 24  # a board has twelve edges at least
    assert at == len(data)


def test_a_body_that_stays_the_same_keeps_its_mark_and_one_that_changes_does_not():
    one, other = (
        answers.built(job(text))["picture"]["parts"] for text in (SMALL, SMALL.replace("high: 30", "high: 31"))
    )
    marks = {p["name"]: p["body"] for p in one}, {p["name"]: p["body"] for p in other}
    assert marks[0]["case one.bottom"] == marks[1]["case one.bottom"]
    assert marks[0]["case one.left side"] != marks[1]["case one.left side"]


def test_drawers_come_out_to_the_front(lathe: Any):
    moves = {m["name"]: m for m in answers.built(lathe)["picture"]["moves"]}
    drawer = moves["cabinet.drawer 1"]
    assert drawer["way"] == pytest.approx([0, -1, 0])
    assert "cabinet.drawer 1.front" in drawer["names"]
    assert moves["belt cover swings"]["kind"] == "swing"
    assert moves["belt cover swings"]["of"] == "site"


def test_the_form_has_every_value_of_the_plan(lathe: Any):
    from tests.page.test_change import paths

    have: set[tuple[str, ...]] = set()

    def walk(node: dict[str, Any]) -> None:
        have.add(tuple(node["path"]))
        for inner in (*node.get("rows", []), *node.get("items", [])):
            walk(inner)

    for section in form(lathe):
        for entry in section["entries"]:
            walk(entry)
    wanted = {
        p
        for p in paths(sample("lathe-cabinet"))
        if p[0] in ("measure", "site", "stock", "build", "loads") and len(p) > 1
    }
    assert wanted <= have


def test_a_choice_offers_the_words_that_the_plan_understands():
    told = form(job(SMALL))
    case = next(s for s in told if s["section"] == "build")["entries"][0]["rows"][0]
    rows = {row["label"]: row for row in case["rows"]}
    assert rows["stock"]["input"]["options"] == ["ply"]
    assert "run past" in {one["name"] for one in case["may"]}
    assert rows["wide"]["comes"]["text"] == '23 1/2"'


CHANGES = {
    "a size of what is built": ("deep: 16", "deep: 17"),
    "a reading that sums rest on": ("31 3/16", "31 1/8"),
    "a line more": ("loads:", "# no more than this\nloads:"),
    "other units": ("units: inch", "units: mm"),
    "one more stock": ("stock:\n", "stock:\n  ash: {solid: ash, sold as: 20 mm, sizes: {2 m x 100 mm: 9}}\n"),
    "a mistake": ("deep: 16", "deep: wide"),
}


def entries(told: list[dict[str, Any]]) -> list[dict[str, Any]]:
    return [entry for section in told for entry in section["entries"]]


@pytest.mark.parametrize("change", CHANGES)
def test_entries_that_have_not_changed_are_told_by_their_marks_and_are_what_they_were(change: str):
    was, now = sample("lathe-cabinet"), sample("lathe-cabinet").replace(*CHANGES[change])
    assert was != now
    seen = {entry["mark"]: entry for entry in entries(form(job(was)))}
    told = entries(form(job(now), seen))
    whole = [seen.get(one["mark"], one) for one in told]
    forget()
    anew = entries(form(job(now)))
    assert [{**one, "mark": ""} for one in whole] == [{**one, "mark": ""} for one in anew]
    assert all(set(one) == {"mark"} for one in told if one["mark"] in seen)


def test_a_size_that_is_changed_leaves_what_stands_around_and_the_stock_untold():
    was = form(job(sample("lathe-cabinet")))
    now = form(job(sample("lathe-cabinet").replace("deep: 16", "deep: 17")), [one["mark"] for one in entries(was)])
    whole = {section["section"] for section in now if any("kind" in one for one in section["entries"])}
    assert whole == {"build"}


def test_every_number_of_the_parts_can_be_asked_why(lathe: Any):
    for part in answers.built(lathe)["parts"]:
        for size in part["size"]:
            answer = whys.why(lathe, size["ask"])
            assert answer["lines"][0]["value"] == size["text"]


@pytest.mark.parametrize(
    "of", ["", "page:", "page:nothing", "part:x:9", "part::0", "setup:none", "assembly:cabinet:3", "x" * 300]
)
def test_asking_for_what_is_not_there_is_answered_plainly(lathe: Any, of: str):
    assert whys.why(lathe, of).get("unknown")


def test_a_plan_full_of_mistakes_is_told_and_still_has_its_form():
    told = answers.built(job(sample("mistakes")))
    assert not told["sound"]
    assert len([f for f in told["findings"] if f["grade"] == "stop"]) > 10
    assert told["form"]


@pytest.mark.parametrize(
    "text", ["", "][", "title: x", "units: inch\nbuild: 7", "units: mm\nbuild:\n  a: {case: {wide: 1}}"]
)
def test_a_plan_that_is_hardly_one_is_told_too(text: str):
    made = job(text)
    told = answers.built(made)
    assert not told["sound"] or told["counts"]["parts"] == 0


def test_steps_and_cuts_keep_their_keys_when_the_plan_is_read_again(lathe: Any):
    again = job(sample("lathe-cabinet"))
    keys = [[one["key"] for one in bench_answers.steps(j)["steps"]] for j in (lathe, again)]
    assert keys[0] == keys[1]
    assert len(set(keys[0])) == len(keys[0])
    cuts = [c["key"] for s in bench_answers.cut(lathe)["sheets"] for c in s["cuts"]]
    assert len(set(cuts)) == len(cuts)
