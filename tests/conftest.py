"""What every test may ask for: the data folder beside the checkout, and a browser."""

from pathlib import Path

import pytest
from hypothesis import settings

from tools import programs

ROOT = Path(__file__).parents[1]

# The same examples at every run and on every machine, and no clock.
settings.register_profile("house", derandomize=True, deadline=None, database=None)
settings.load_profile("house")


def pytest_runtest_setup(item: pytest.Item) -> None:
    """A test marked `browser` gets one, or is skipped with the reason; where CI is set, it fails instead."""
    if item.get_closest_marker("browser"):
        programs.need(programs.CHROMIUM, stop=pytest.fail if programs.in_ci() else pytest.skip)


@pytest.fixture(scope="session")
def chromium() -> Path:
    """The browser's program; mark the test `browser` to be sure of it."""
    return programs.need(programs.CHROMIUM, stop=pytest.skip)


@pytest.fixture(scope="session")
def pdftoppm() -> Path:
    """The program that turns a page of a PDF into a picture."""
    return programs.need(programs.PDFTOPPM, stop=pytest.skip)


@pytest.fixture(scope="session")
def shared() -> Path:
    """Published values and instances: a folder beside the checkout, no part of it."""
    folder = ROOT.parent / "shared"
    if not folder.is_dir():
        pytest.skip(f"no folder {folder.name} beside the checkout, so its published values are not compared")
    return folder
