"""The codes on printed labels, read by another's reader from the page as it is printed and as a camera sees it."""

from dataclasses import replace
from functools import cache
from typing import Any

import pytest
from PIL.Image import Image, Resampling

from storystick.paper import packet
from storystick.paper.drawing.label import LabelSheet
from storystick.paper.folder import Folder
from storystick.paper.pages.labels import code_of
from tests.paper import by_hand
from tests.paper.readback import opened
from tests.told import job, sample

zxingcpp: Any = pytest.importorskip("zxingcpp", reason="no zxing-cpp here, so codes are read by our own rules alone")
BOUGHT = LabelSheet(3, 10, 66.7, 25.4, 4.8, 12.7, 69.9, 25.4)  # three by ten on letter paper
SMALL = LabelSheet(5, 13, 38.1, 19.0, 4.7, 10.7, 40.6, 19.9)  # five by thirteen on A4
ADDRESS = "http://192.168.100.100:4863"


@cache
def folder_of(name: str) -> Folder:
    return job(sample(name)).first_folder


def pages_of(folder: Folder, paper: str, dots: int) -> list[Image]:
    """Pages of labels as images, so many dots to the inch."""
    with opened(packet(folder, paper=paper, pages=["labels"])) as book:
        return [page.to_image(resolution=dots).original.convert("L") for page in book.pages]


def read(image: Image) -> list[str]:
    return [one.text for one in zxingcpp.read_barcodes(image, formats=zxingcpp.BarcodeFormat.QRCode)]


@pytest.mark.parametrize("sheet", [None, BOUGHT])
@pytest.mark.parametrize("sample_name", ["lathe-cabinet", "alcove-bookcase"])
def test_every_label_has_its_own_code_and_it_is_read_as_meant(sample_name: str, sheet: LabelSheet | None) -> None:
    folder = replace(folder_of(sample_name), page=ADDRESS, label_sheet=sheet)
    found = [text for image in pages_of(folder, "letter", 300) for text in read(image)]
    assert sorted(found) == sorted(code_of(folder, part.name) for part in folder.build.parts)


def test_small_labels_have_codes_that_can_be_read_or_none() -> None:
    folder = replace(by_hand.folder(), page=ADDRESS, plan_file="a plan.yaml", label_sheet=SMALL)
    found = [text for image in pages_of(folder, "a4", 600) for text in read(image)]
    assert sorted(found) == sorted(code_of(folder, part.name) for part in folder.build.parts)


@pytest.mark.parametrize("turned", [7, 90, 200])
def test_a_label_held_askew_before_a_camera_is_read(turned: int) -> None:
    folder = replace(by_hand.folder(), page=ADDRESS)
    (image,) = pages_of(folder, "letter", 300)
    seen = image.rotate(turned, Resampling.BILINEAR, expand=True, fillcolor=255)
    seen = seen.resize((int(seen.width * 0.6), int(seen.height * 0.6)), Resampling.BILINEAR)  # 180 dots to the inch
    assert sorted(read(seen)) == sorted(code_of(folder, part.name) for part in folder.build.parts)
