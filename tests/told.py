"""The one helper of tests that are plans: a text in, the build and what was found out."""

from pathlib import Path

from storystick.app.pipeline import Job, Texts
from storystick.ground.dim import Dim
from storystick.ground.finding import Finding, Grade
from storystick.model.build import Build

SAMPLES = Path(__file__).parents[1] / "samples"
STOCK = "stock: {ply: {sheet: birch plywood, readings: [18 mm], sizes: {2440 x 1220: 90}}}"


def job(text: str, shop: str | None = None) -> Job:
    """The whole job of a plan's text."""
    return Job(Texts(text, "plan.yaml", shop, "shop.yaml" if shop else ""))


def sample(name: str) -> str:
    """The text of one of the samples."""
    return (SAMPLES / f"{name}.yaml").read_text("utf-8")


def built(text: str) -> Build:
    """The build of a plan that has no mistakes."""
    return job(text).build


def told(text: str) -> tuple[Finding, ...]:
    """What is found wrong with a plan while it is read and resolved."""
    return tuple(f for f in job(text).resolved.findings if f.grade is Grade.STOP)


def mm(dim: Dim) -> float:
    """A length in millimetres."""
    return float(dim.value)


def sizes(build: Build, name: str) -> tuple[float, float, float]:
    """Length, width and thickness of a part [mm]."""
    one, two, three = build.part(name).size
    return mm(one), mm(two), mm(three)
