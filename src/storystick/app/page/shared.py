"""The whole plan as one file for any browser: words, pictures, and the drawing that can be turned.

It asks nothing of anybody: what it needs is in it, and its own policy forbids the rest. The plan's text is in it too,
so that whoever gets it can go on from there.
"""

import json
import zlib
from base64 import b64encode
from collections.abc import Iterable, Iterator
from hashlib import sha256
from typing import Any

from markupsafe import Markup

from storystick.app.page import answers, bench_answers, lettering, meshes
from storystick.app.page.drawn import drawn, first_party
from storystick.app.pipeline import Job
from storystick.checks.saying import kg
from storystick.ground.finding import Finding, Grade

type Answer = dict[str, Any]

SCRIPTS = (  # what is imported before what imports it
    "make.js", "turning.js", "glass.js", "standing.js", "letters.js", "hands.js", "board.js", "shared.js",
)  # fmt: skip
STYLES = ("paper.css", "shared.css")
GRADES = {
    Grade.STOP: "Can’t be built like this",
    Grade.CARE: "Look at this before cutting",
    Grade.NOTE: "Worth knowing",
    Grade.FINE: "Looked at and found good",
}


def shared(job: Job) -> str:
    """The file's text. Raises CantGoOn when the plan has mistakes; the same text for the same plan and shop."""
    built = answers.built(job)
    picture = built["picture"]
    script, style = _script(), _style()
    steps = bench_answers.steps(job)["steps"]
    return drawn(
        "shared.html",
        title=job.plan.title or "A plan",
        about=job.plan.about,
        policy=policy(script, style),
        script=Markup(script),  # our own files
        style=Markup(style),
        data=in_script({"picture": picture, "bodies": _bodies(job, picture), "steps": _shown(steps)}),
        plan=in_script({"file": job.texts.plan_file, "text": job.texts.plan}),
        built=built,
        weights=_weights(job),
        bought=bench_answers.bought(job),
        sheets=bench_answers.cut(job)["sheets"],
        steps=steps,
        cautions=job.order.cautions,
        tools=job.order.tools,
        grades=[(grade.name.lower(), says, _of(job.all_findings, grade)) for grade, says in GRADES.items()],
        pictures=dict(_pictures(job)),
    )


def policy(script: str, style: str) -> str:
    """What the file may do: run this script, look like this, show what is in it. Nothing else, and no request."""
    return (
        f"default-src 'none'; script-src '{_print(script)}'; style-src '{_print(style)}'; img-src data:; "
        "font-src data:; base-uri 'none'; form-action 'none'"
    )


def _print(text: str) -> str:
    return "sha256-" + b64encode(sha256(text.encode()).digest()).decode()


def in_script(data: Answer) -> Markup:
    """Data as it can stand in a script element: no sign in it can end the element."""
    text = json.dumps(data, ensure_ascii=False, separators=(",", ":"))
    for sign in "<>&\u2028\u2029":
        text = text.replace(sign, f"\\u{ord(sign):04x}")
    return Markup(text)  # no sign of markup is left


def _script() -> str:
    """The modules one after the other, in one scope: what they import from one another stands above."""
    lines = (line for name in SCRIPTS for line in _text(name).splitlines())
    told = "\n".join(line.removeprefix("export ") for line in lines if not line.startswith("import "))
    return f"\n{told}\n"


def _style() -> str:
    lines = (line for name in STYLES for line in _text(name).splitlines())
    own = (line for line in lines if not line.startswith("@font-face"))
    return "\n".join(("", lettering.carried(), *own, ""))


def _text(name: str) -> str:
    return first_party()[name][1].decode()


def _bodies(job: Job, picture: Answer) -> str:
    marks = dict.fromkeys(one["body"] for group in ("parts", "site", "hardware") for one in picture[group])
    return b64encode(zlib.compress(meshes.packed(job, list(marks))["bytes"], 9)).decode()


def _shown(steps: Iterable[Answer]) -> list[Answer]:
    return [{"shows": one["shows"], "new": one["new"], "parts": one["parts"]} for one in steps]


def _of(found: Iterable[Finding], grade: Grade) -> list[Answer]:
    return [answers.finding(one) for one in found if one.grade is grade]


def _weights(job: Job) -> list[str]:
    own = (one.name for one in job.build.assemblies if not one.inside_of)
    return [f"{name} {kg(job.scene.weight_of(name), job.build.manner)}" for name in own]


def _pictures(job: Job) -> Iterator[tuple[str, str]]:
    """Every drawing that is in it, by its name on paper, as an address that holds all of it."""
    from storystick.paper import drawings

    folder = job.folder
    names = ["piece"]
    names += [f"apart {one.name}" for one in folder.build.assemblies if _has_many(job, one.name)]
    names += [f"sheet {c.stock.name} {i}" for c in folder.cuttings for i in range(1, len(c.layout.trees) + 1)]
    names += [f"step {one.number}" for one in folder.order.steps]
    for number, name in enumerate(names):
        if job.tell is not None:
            job.tell("drawing", number / len(names))
        for found, svg in drawings(folder, only=[name]).items():
            yield found, "data:image/svg+xml;base64," + b64encode(svg.encode()).decode()


def _has_many(job: Job, assembly: str) -> bool:
    return sum(part.assembly == assembly for part in job.build.parts) > 1
