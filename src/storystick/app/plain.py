"""Answers as plain data: what `--json` gives. Lengths both in exact millimetres (`mm`) and as printed."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from typing import Any

from storystick.ground.dim import Because, Dim
from storystick.ground.finding import Finding
from storystick.ground.length import Manner, fine, show
from storystick.model.build import Build
from storystick.model.cutting import Cut, CutTree, Piece, Purpose, Way
from storystick.model.work import Buying, Cutting, WorkOrder


def length(value: Fraction, manner: Manner) -> dict[str, Any]:
    """A length: exact in millimetres as a float, and as printed."""
    return {"mm": round(float(value), 6), "text": show(value, manner)}


def money(value: Fraction, currency: str) -> str:
    """$ 92.00"""
    text = f"{float(value):,.2f}"
    return f"{currency}{text}" if currency in ("$", "£", "€") else f"{text} {currency}".strip()


def finding(one: Finding) -> dict[str, Any]:
    """A finding with everything that it says."""
    return {
        "code": one.code,
        "grade": one.grade.name.lower(),
        "file": one.place.file,
        "line": one.place.line,
        "column": one.place.column,
        "says": one.says,
        "advice": one.advice,
        "source": str(one.source) if one.source else None,
        "number": None if one.number is None else float(one.number),
        "limit": None if one.limit is None else float(one.limit),
        "margin": one.margin,
        "unit": one.unit,
        "about": list(one.about),
    }


def size_up(build: Build) -> dict[str, Any]:
    """How big the piece is, in counts."""
    return {
        "parts": len(build.parts),
        "different": len({p.letter for p in build.parts}),
        "joints": len(build.joints),
        "fasteners": len(build.fasteners),
    }


def because(line: Because, said: Callable[[Dim], str]) -> dict[str, Any]:
    """One line of an answer to why."""
    return {
        "depth": line.depth,
        "name": line.name,
        "value": said(line.dim),
        "mm": round(float(line.dim.value), 6) if line.dim.power == 1 else None,
        "formula": line.formula,
        "because": line.because,
    }


def parts(build: Build, manner: Manner) -> list[dict[str, Any]]:
    """Every different part, with the names of all that are alike."""
    by_letter: dict[str, list[Any]] = {}
    for part in build.parts:
        by_letter.setdefault(part.letter, []).append(part)
    rows = []
    for letter, alike in by_letter.items():
        first = alike[0]
        rows.append(
            {
                "letter": letter,
                "names": [p.name for p in alike],
                "count": len(alike),
                "role": first.role,
                "length": show(first.length.value, manner),
                "width": show(first.width.value, manner),
                "thickness": fine(first.thickness.value, manner),
                "mm": [round(float(d.value), 6) for d in first.size],
                "stock": first.stock.name,
                "cuts": len(first.cuts),
                "fit_to": first.fit_to,
            }
        )
    return rows


def buying(bought: Buying) -> dict[str, Any]:
    """The buying list."""
    return {
        "currency": bought.currency,
        "total": float(bought.total),
        "lines": [
            {
                "what": line.what,
                "size": line.size,
                "need": line.count,
                "have": line.have,
                "unit": line.unit,
                "price": None if line.price is None else float(line.price),
                "total": None if line.total is None else float(line.total),
                "guessed": line.guessed,
                "for": line.used_for,
            }
            for line in bought.lines
        ],
    }


@dataclass(frozen=True, slots=True)
class CutList:
    """One sheet or length with its cuts in words."""

    heading: str
    lines: tuple[str, ...]


def cut_lists(cuttings: Sequence[Cutting], build: Build, manner: Manner) -> Iterator[CutList]:
    """Every sheet's cuts in words, in the order they are made."""
    letters = {p.name: p.letter for p in build.parts}
    for one in cuttings:
        for number, tree in enumerate(one.layout.trees, 1):
            size = (
                f"{show(tree.sheet.long, manner)} x {show(tree.sheet.wide, manner)}"
                if tree.sheet.wide
                else show(tree.sheet.long, manner)
            )
            hand = ", on hand" if tree.sheet.on_hand else ""
            heading = f"{one.stock.name} {number}: {tree.sheet.name} ({size}{hand})"
            yield CutList(
                heading,
                tuple(cut_in_words(cut, tree, letters, manner) for cut in sorted(tree.cuts, key=lambda c: c.number)),
            )


def cut_in_words(cut: Cut, tree: CutTree, letters: dict[str, str], manner: Manner) -> str:
    """`12 rip at 15 1/4": A cabinet.left side`; a trim says only what is left."""
    pieces = {p.number: p for p in tree.pieces}
    freed = [pieces[n] for n in cut.frees]
    if cut.purpose is Purpose.TRIM:
        left = max(freed, key=lambda p: p.area, default=None)
        rest = f", leaves {_freed(left, letters, manner)}" if left else ""
        return f"{cut.number:>3} trim an edge: {cut.way.value}{rest}"
    setting = f" at {show(cut.setting, manner)}" if cut.setting is not None else ""
    if cut.setting is None:
        near = pieces[cut.piece]
        start = near.y if cut.way is Way.RIP else near.x
        setting = f" on a line {show(cut.at - start, manner)} from the piece's near edge"
    rough = "rough " if cut.purpose is Purpose.BREAKDOWN else ""
    return f"{cut.number:>3} {rough}{cut.way.value}{setting}: " + "; ".join(
        _freed(piece, letters, manner) for piece in freed
    )


def _freed(piece: Piece, letters: dict[str, str], manner: Manner) -> str:
    if piece.blank:
        return f"{letters.get(piece.blank, '')} {piece.blank}".strip()
    size = f"{show(piece.long, manner)} x {show(piece.wide, manner)}"
    return f"keep {size}" if piece.keep else f"piece {size}"


def cutting(one: Cutting, build: Build, manner: Manner) -> dict[str, Any]:
    """One stock's layout with every cut."""
    letters = {p.name: p.letter for p in build.parts}
    return {
        "stock": one.stock.name,
        "cost": float(one.layout.cost),
        "least": None if one.least is None else float(one.least),
        "unplaced": list(one.layout.unplaced),
        "sheets": [
            {
                "name": tree.sheet.name,
                "long": length(tree.sheet.long, manner),
                "wide": length(tree.sheet.wide, manner),
                "on_hand": tree.sheet.on_hand,
                "pieces": [
                    {
                        "part": p.blank, "letter": letters.get(p.blank, ""), "x": float(p.x), "y": float(p.y),
                        "long": float(p.long), "wide": float(p.wide), "turned": p.turned,
                    }
                    for p in tree.blanks
                ],
                "cuts": [
                    {
                        "number": c.number, "way": c.way.value, "for": c.purpose.value, "at": float(c.at),
                        "setting": None if c.setting is None else length(c.setting, manner),
                        "words": cut_in_words(c, tree, letters, manner),
                    }
                    for c in sorted(tree.cuts, key=lambda c: c.number)
                ],
                "leftovers": [{"long": length(p.long, manner), "wide": length(p.wide, manner)} for p in tree.leftovers],
            }
            for tree in one.layout.trees
        ],
    }  # fmt: skip


def steps(order: WorkOrder, manner: Manner) -> list[dict[str, Any]]:
    """The order of work."""
    return [
        {
            "number": s.number,
            "stage": s.stage.value,
            "title": s.title,
            "does": list(s.does),
            "parts": list(s.parts),
            "settings": [
                {
                    "machine": u.machine, "tool": u.tool, "name": u.name, "says": u.says, "test": u.test,
                    "to": None if u.to is None else length(u.to.value, manner),
                }
                for u in s.setups
            ],
            "check": s.check,
            "caution": s.caution,
            "reads": list(s.reads),
            "hands_on": s.hands_on,
            "setting_up": s.set_up,
            "waits": s.waits,
            "day": s.day,
            "after": list(s.after),
            "why_here": s.why_here,
        }
        for s in order.steps
    ]  # fmt: skip
