"""Every mend that is offered is made by one tap, clears what it was offered for, and is taken back by another."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from tests.page.door import SMALL, Browser, let_in, plans_in
from tests.told import SAMPLES

LATHE = (SAMPLES / "lathe-cabinet.yaml").read_text("utf-8")
BROKEN = {
    "a stock misspelt": SMALL.replace("stock: ply,", "stock: plyy,"),
    "a line misspelt": SMALL.replace("deep: 12", "deeep: 12"),
    "a name misspelt": SMALL.replace("opening - 1/2", "openning - 1/2"),
    "a bay misspelt": SMALL.replace("fixed shelf", "fixd shelf"),
    "a line of a reading misspelt": SMALL.replace("takes: smallest", "taks: smallest"),
    "a choice misspelt": SMALL.replace("takes: smallest", "takes: smalest"),
    "a section misspelt": SMALL.replace("measure:", "mesure:"),
    "units misspelt": SMALL.replace("units: inch", "units: inchs"),
    "a dado too deep": SMALL.replace("bays:", "joint: {dado: {depth: 3/4}}, bays:").replace("17.6 mm", "19 mm"),
    "a stock misspelt in a large plan": LATHE.replace("stock: birch18", "stock: birchh18", 1),
    "a body misspelt in a large plan": LATHE.replace("under bed + 2", "under bd + 2", 1),
    "a shelf that sags": SMALL.replace("opening - 1/2", "48") + "  case one.shelf 1: 300 lb\n",
}  # fmt: skip
MENDED = {name for name in BROKEN if name != "a shelf that sags"}  # a stiffer shelf is a choice, not a slip
PLANS = {**{one.stem: one.read_text("utf-8") for one in sorted(SAMPLES.glob("*.yaml"))}, **BROKEN}


@pytest.fixture(scope="module")
def door(tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Browser, Path]]:
    plans = plans_in(tmp_path_factory.mktemp("mends"))
    client = let_in(plans)
    yield client, plans
    client.close()


def found_in(client: Browser, api: str) -> list[dict[str, Any]]:
    mended = client.get(f"{api}/answer/mended").json()["mended"]
    return list(mended.get("mistakes") or mended["findings"])


@pytest.mark.parametrize("name", PLANS)
def test_a_mend_is_one_tap_and_its_undoing_another(door: tuple[Browser, Path], name: str):
    client, plans = door
    file = f"{name.replace(' ', '-')}.yaml"
    (plans / file).write_text(PLANS[name], "utf-8")
    api = f"/api/{file}"
    client.get(api)
    found = found_in(client, api)
    assert [one["says"] for one in found if one["grade"] in ("stop", "care")] or name not in BROKEN
    offered = [one for one in found if one.get("mend")]
    assert offered or name not in MENDED, [one["says"] for one in found if one["grade"] != "fine"]
    for one in offered:
        version = client.get(api).json()["version"]
        data = {"do": "mend", "at": one["mend"]["at"], "value": one["mend"]["text"], "version": version}
        mended = client.post(f"{api}/edit", json=data)
        assert mended.status_code == 200, mended.text
        after = found_in(client, api)
        assert (one["code"], one["says"]) not in {(other["code"], other["says"]) for other in after}
        undone = client.post(f"{api}/edit", json={"do": "undo", "version": mended.json()["version"]}).json()
        assert undone["text"] == PLANS[name]
        assert undone["version"] == version
