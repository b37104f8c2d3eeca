"""Every number can be asked why: the tree of what it rests on, down to the lines of the plan and the rules."""

from typing import Any

from storystick.app.pipeline import GAP, Job
from storystick.ground.dim import Dim, Leaf, Named, formula
from storystick.ground.dim import why as because
from storystick.ground.length import fine, show, show_number
from storystick.model.build import Build
from storystick.model.judged import Judged

WORDS = {
    "given": "the plan says so", "reading": "measured", "rule": "a rule", "chosen": "picked", "setting": "a setting",
}  # fmt: skip


def why(job: Job, of: str) -> dict[str, Any]:
    """The whole answer: `of` is page:NAME, part:NAME:0 (length, width, thickness), assembly:NAME:0 or setup:KEY."""
    build = job.build
    dim = _find(job, build, of)
    if dim is None:
        return {"unknown": True, "of": of}
    manner = build.manner

    def said(one: Dim) -> str:
        return show(one.value, manner) if one.power == 1 else show_number(one.value)

    lines = []
    for line in because(dim, said):
        leaf = _leaf(line.dim)
        lines.append(
            {
                "depth": line.depth,
                "name": line.name,
                "value": said(line.dim),
                "exact": fine(line.dim.value, manner) if line.dim.power == 1 else "",
                "formula": line.formula,
                "because": line.because,
                "kind": leaf.kind if leaf else "sum",
                "word": WORDS.get(leaf.kind, "") if leaf else "",
                "line": leaf.place.line if leaf else 0,
                "source": str(leaf.source) if leaf and leaf.source else "",
                "spread": round(leaf.spread.sd, 4) if leaf and leaf.spread else None,
                "ask": f"page:{line.name}" if line.name in build.pages else "",
            }
        )
    return {"of": of, "lines": lines, "formula": formula(dim, said)}


def _leaf(dim: Dim) -> Leaf | None:
    node = dim.node
    while isinstance(node, Named):
        node = node.by.node
    return node if isinstance(node, Leaf) else None


def _gap(one: Judged) -> Dim:
    return Dim(one.gap.value, Named(one.fit.gap_name, GAP, one.gap))


def _find(job: Job, build: Build, of: str) -> Dim | None:
    what, _, rest = of.partition(":")
    if what == "page":
        return build.pages.get(rest) or next((_gap(one) for one in job.judged if one.fit.gap_name == rest), None)
    name, _, axis = rest.rpartition(":")
    if what == "setup":
        return next((s.to for s in job.order.setups if s.key == rest), None)
    if axis not in ("0", "1", "2"):
        return None
    if what == "part" and name in build.parts_by_name:
        return build.parts_by_name[name].size[int(axis)]
    if what == "assembly" and name in build.assemblies_by_name:
        return build.assemblies_by_name[name].size[int(axis)]
    return None
