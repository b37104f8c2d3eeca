"""JSON: the whole project as one document, by the names that docs/project-json.md explains.

Every length is an object with `mm` (the exact value as a decimal), `text` (as a rule shows it) and `name` (what to ask
why; null where it has none). The names of keys are stable: what is added later has new names, and `version` goes up
only when a name changes its meaning.
"""

import json
from collections.abc import Iterator, Mapping
from fractions import Fraction
from typing import TYPE_CHECKING, Any

from storystick.exports.export import Export, File, Piece
from storystick.exports.naming import plain
from storystick.exports.project_parts import assemblies, parts, stock
from storystick.exports.project_words import Words
from storystick.exports.sheets import LAYER
from storystick.model.build import Build, Load, Opening, SiteBody, Slider
from storystick.model.cutting import Cut, CutTree
from storystick.model.cutting import Piece as Rectangle
from storystick.model.joining import Fastener, Fit, Item, Joined
from storystick.model.work import Buy, Cutting, Step

if TYPE_CHECKING:
    from storystick.ground.finding import Finding

FORMAT, VERSION = "storystick project", 1
type Json = dict[str, Any]


def make(piece: Piece) -> Iterator[File]:
    """One file."""
    text = json.dumps(document(piece), ensure_ascii=False, indent=1) + "\n"
    yield File(f"{plain(piece.build.title)}.json", text.encode())


def document(piece: Piece) -> Json:
    """Plain dicts and lists, in a fixed order."""
    build = piece.build
    words = Words(build)
    letters = {part.name: part.letter for part in build.parts}
    return {
        "format": FORMAT,
        "version": VERSION,
        "title": build.title,
        "about": build.about,
        "units": build.manner.unit,
        "currency": piece.buying.currency,
        "stock": [stock(one, words) for one in build.stock],
        "assemblies": list(assemblies(piece, words)),
        "parts": list(parts(piece, words)),
        "joints": [_joint(one) for one in build.joints],
        "fasteners": [_fastener(one, words) for one in build.fasteners],
        "hardware": [_item(one) for one in build.items],
        "fits": [_fit(one, words) for one in build.fits],
        "openings": [_opening(one, words) for one in build.openings],
        "sliders": [_slider(one, words) for one in build.sliders],
        "site": [_site(one, words) for one in build.site],
        "loads": [_load(one) for one in build.loads],
        "buying": [_buy(one) for one in piece.buying.lines],
        "sheets": [sheet for one in piece.cuttings for sheet in _sheets(one, words, letters)],
        "steps": [_step(one, words) for one in piece.order.steps],
        "findings": [_finding(one) for one in piece.all_findings],
        "numbers": _numbers(build, words),
    }


def _joint(one: Joined) -> Json:
    return {"name": one.name, "kind": one.kind, "called": one.called, "host": one.host, "guest": one.guest,
            "glued": one.glued, "holds": list(one.holds)}  # fmt: skip


def _fastener(one: Fastener, words: Words) -> Json:
    return {
        "name": one.name, "kind": one.kind, "called": one.called, "diameter": words.length(one.diameter),
        "length": words.length(one.length), "through": one.through, "into": one.into, "grain": one.grain,
        "joint": one.joint, "assembly": one.assembly, "at": words.spot(one.at), "way": [plainly(v) for v in one.way],
    }  # fmt: skip


def _item(one: Item) -> Json:
    return {"name": one.name, "kind": one.kind, "size": one.said, "count": one.count, "unit": one.unit,
            "assembly": one.assembly, "on": list(one.on), "carries": one.carries,
            "kilograms": plainly(one.kilograms)}  # fmt: skip


def _fit(one: Fit, words: Words) -> Json:
    return {"name": one.name, "gap": words.length(one.gap), "least": words.length(one.least),
            "most": words.length(one.most), "manner": one.for_good, "goes_in": one.goes_in, "into": one.into,
            "cut": one.cut}  # fmt: skip


def _opening(one: Opening, words: Words) -> Json:
    return {"name": one.name, "holds": one.holds, "assembly": one.assembly, "at": words.spot(one.at),
            "size": words.whd(one.size)}  # fmt: skip


def _slider(one: Slider, words: Words) -> Json:
    return {"name": one.name, "assembly": one.assembly, "opening": one.opening, "travel": words.length(one.travel),
            "side_gap": words.length(one.side_gap), "runs_on": one.runs_on}  # fmt: skip


def _site(one: SiteBody, words: Words) -> Json:
    return {"name": one.name, "at": words.spot(one.at), "size": words.whd(one.size),
            "keep_clear": words.maybe(one.keep), "stays_free": one.stays_free}  # fmt: skip


def _load(one: Load) -> Json:
    return {"on": one.on, "kilograms": plainly(one.kilograms), "how": one.how, "lasting": one.lasting}


def _buy(one: Buy) -> Json:
    return {"kind": one.kind, "what": one.what, "size": one.size, "used_for": one.used_for, "need": one.count,
            "have": one.have, "unit": one.unit, "price": maybe(one.price), "total": maybe(one.total),
            "guessed": one.guessed}  # fmt: skip


def _sheets(one: Cutting, words: Words, letters: Mapping[str, str]) -> Iterator[Json]:
    for number, tree in enumerate(one.layout.trees, 1):
        yield {
            "stock": one.stock.name, "number": number, "called": tree.sheet.name, "long": words.plain(tree.sheet.long),
            "wide": words.plain(tree.sheet.wide), "on_hand": tree.sheet.on_hand, "kerf": words.plain(one.kerf),
            "pieces": [_piece(piece, words, letters) for piece in tree.pieces],
            "cuts": list(_cuts(tree, words)),
        }  # fmt: skip


def _piece(one: Rectangle, words: Words, letters: Mapping[str, str]) -> Json:
    part = one.blank.partition(LAYER)[0]
    return {"number": one.number, "part": part, "letter": letters.get(part, ""), "x": words.plain(one.x),
            "y": words.plain(one.y), "long": words.plain(one.long), "wide": words.plain(one.wide),
            "turned": one.turned, "keep": one.keep}  # fmt: skip


def _cuts(tree: CutTree, words: Words) -> Iterator[Json]:
    for cut in sorted(tree.cuts, key=lambda one: one.number):
        yield _cut(cut, words)


def _cut(one: Cut, words: Words) -> Json:
    return {"number": one.number, "piece": one.piece, "way": one.way.value, "for": one.purpose.value,
            "at": words.plain(one.at), "set_to": None if one.setting is None else words.plain(one.setting),
            "frees": list(one.frees)}  # fmt: skip


def _step(one: Step, words: Words) -> Json:
    return {
        "number": one.number, "stage": one.stage.value, "title": one.title, "does": list(one.does),
        "parts": list(one.parts), "new": list(one.new),
        "settings": [
            {"machine": s.machine, "tool": s.tool, "name": s.name, "to": words.maybe(s.to), "says": s.says,
             "test": s.test}
            for s in one.setups
        ],
        "check": one.check, "caution": one.caution, "reads": list(one.reads), "after": list(one.after),
        "why_here": one.why_here, "hands_on_minutes": one.hands_on, "waits_minutes": one.waits,
    }  # fmt: skip


def _finding(one: "Finding") -> Json:
    return {
        "code": one.code, "grade": one.grade.name.lower(), "file": one.place.file, "line": one.place.line,
        "says": one.says, "advice": one.advice, "source": str(one.source) if one.source else None,
        "number": maybe(one.number), "limit": maybe(one.limit), "unit": one.unit, "about": list(one.about),
    }  # fmt: skip


def _numbers(build: Build, words: Words) -> dict[str, Json]:
    return {name: words.page(dim) for name, dim in build.pages.items()}


def plainly(value: Fraction | float) -> float:
    """A number to nine decimals, never a minus before nothing."""
    return round(float(value), 9) + 0.0


def maybe(value: Fraction | float | None) -> float | None:
    """A number, or null."""
    return None if value is None else plainly(value)


EXPORT = Export("json", ".json", "the whole project as one document, every number with its reason", make)
