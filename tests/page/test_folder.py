"""The plans' folder: nothing outside it is read or written, and nobody writes over what he has not seen."""

from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from storystick.app.page.folder import Folder, Gone, Moved, Taken, file_name, is_plan_name
from tests.page.door import let_in, plans_in

OUTSIDE = [
    "../secret.yaml", "..", "/etc/passwd", "a/b.yaml", "a\\b.yaml", ".hidden.yaml", "small.yaml\0", "small.yaml/", "",
    ".yaml", "shop.yaml", "SHOP.yaml", "small.txt", "small.yaml.log", "a..yaml", "x" * 300 + ".yaml",
]  # fmt: skip


@pytest.mark.parametrize("name", OUTSIDE)
def test_a_name_that_leads_elsewhere_is_no_plan(tmp_path: Path, name: str):
    (tmp_path / "secret.yaml").write_text("title: secret", "utf-8")
    folder = Folder(plans_in(tmp_path))
    with pytest.raises(Gone):
        folder.read(name)
    with pytest.raises(Gone):
        folder.begin(name, "x")


@pytest.mark.parametrize(
    "name",
    ["..%2fsecret.yaml", "%2e%2e%2fsecret.yaml", "..%5csecret.yaml", "%2fetc%2fpasswd", "..", "....//secret.yaml"],
)
@pytest.mark.parametrize("path", ["/api/{}", "/api/{}/plan", "/api/{}/log", "/plan/{}", "/api/{}/packet.pdf"])
def test_no_address_leads_out_of_the_folder(tmp_path: Path, name: str, path: str):
    (tmp_path / "secret.yaml").write_text("title: a secret thing", "utf-8")
    answer = let_in(plans_in(tmp_path)).get(path.format(name))
    assert answer.status_code in (404, 405)
    assert "a secret thing" not in answer.text


def test_a_link_out_of_the_folder_is_not_followed(tmp_path: Path):
    (tmp_path / "secret.yaml").write_text("title: secret", "utf-8")
    plans = plans_in(tmp_path)
    (plans / "way-out.yaml").symlink_to(tmp_path / "secret.yaml")
    folder = Folder(plans)
    assert "way-out.yaml" not in folder.names()
    with pytest.raises(Gone):
        folder.read("way-out.yaml")


def test_two_who_write_do_not_write_over_one_another(tmp_path: Path):
    folder = Folder(plans_in(tmp_path))
    seen = folder.read("small.yaml")
    mine = folder.write("small.yaml", seen.text + "# mine\n", seen.version)
    with pytest.raises(Moved) as moved:
        folder.write("small.yaml", seen.text + "# yours\n", seen.version)
    assert moved.value.now == mine
    assert folder.read("small.yaml").text.endswith("# mine\n")


def test_writing_the_same_twice_is_no_quarrel(tmp_path: Path):
    folder = Folder(plans_in(tmp_path))
    seen = folder.read("small.yaml")
    once = folder.write("small.yaml", seen.text + "# more\n", seen.version)
    assert folder.write("small.yaml", seen.text + "# more\n", seen.version) == once


def test_a_new_plan_never_takes_an_old_ones_place(tmp_path: Path):
    folder = Folder(plans_in(tmp_path))
    with pytest.raises(Taken):
        folder.begin("small.yaml", "x")
    assert folder.free_name("small.yaml") == "small-2.yaml"
    assert folder.free_name("other.yaml") == "other.yaml"


@given(st.text(max_size=90))
def test_every_title_gives_a_name_that_can_be_used(title: str):
    name = file_name(title)
    assert is_plan_name(name) or name == "shop.yaml"
    assert "/" not in name


@given(st.text(max_size=40))
def test_no_name_that_is_taken_for_a_plan_has_a_way_in_it(name: str):
    if is_plan_name(name):
        assert not set(name) & set('/\\\0:*?"<>|\n')
        assert name == Path(name).name
