"""What the page is told for the bench: what to buy, how to cut, how to build."""

from dataclasses import replace
from fractions import Fraction
from typing import Any

from storystick.app import plain
from storystick.app.page.answers import finding, rounded
from storystick.app.page.ticks import in_pairs
from storystick.app.pipeline import Job
from storystick.app.ticked import Numbers, Sawn, buy_mark, cut_step, is_made, step_mark
from storystick.ground.length import Manner, fine, show
from storystick.model.cutting import Cut, CutTree, Piece, Purpose
from storystick.model.work import Buy, Setup, Stage, Step

type Answer = dict[str, Any]


def bought(job: Job) -> Answer:
    """The buying list, each line with the key that it is ticked by."""
    buying = job.buying
    return {
        "total": plain.money(buying.total, buying.currency),
        "unpriced": sum(line.price is None for line in buying.lines),
        "lines": [_buy(line, buying.currency) for line in buying.lines],
    }


def _buy(line: Buy, currency: str) -> Answer:
    return {
        "key": buy_mark(line),
        "what": line.what,
        "size": line.size,
        "count": line.count,
        "have": line.have,
        "unit": line.unit,
        "price": "" if line.price is None else plain.money(line.price, currency),
        "total": "" if line.total is None else plain.money(line.total, currency),
        "guessed": line.guessed,
        "for": line.used_for,
        "kind": line.kind,
    }


def cut(job: Job) -> Answer:
    """Every sheet and length, its pieces and its cuts in the order in which they are made."""
    letters = {p.name: p.letter for p in job.build.parts}
    sheets = []
    for cutting in job.cuttings:
        for number, tree in enumerate(cutting.layout.trees, 1):
            sheets.append(_sheet(tree, cutting.stock.name, number, letters, job))
    sheets.sort(key=lambda sheet: sheet["cuts"][0]["number"] if sheet["cuts"] else 0)
    left = [{"stock": c.stock.name, "parts": list(c.layout.unplaced)} for c in job.cuttings if c.layout.unplaced]
    return {"sheets": sheets, "unplaced": left, "findings": [finding(f) for f in job.laid_out.findings]}


def _sheet(tree: CutTree, stock: str, number: int, letters: dict[str, str], job: Job) -> Answer:
    manner = job.build.manner
    sawn = Sawn(tree, f"{stock} {number}")
    marks = sawn.marks()
    pieces = {p.number: p for p in tree.pieces}
    wide = tree.sheet.wide or max((p.wide for p in tree.pieces), default=Fraction(100))
    last = frozenset(n for c in tree.cuts for n in c.frees) - {c.piece for c in tree.cuts}
    return {
        "key": f"{stock} {number}",
        "stock": stock,
        "number": number,
        "name": tree.sheet.name,
        "on_hand": tree.sheet.on_hand,
        "long": rounded(tree.sheet.long),
        "wide": rounded(wide),
        "size": show(tree.sheet.long, manner) + (f" × {show(wide, manner)}" if tree.sheet.wide else ""),
        "pieces": [_piece(p, letters, manner) for p in ([pieces[n] for n in sorted(last)] or tree.blanks)],
        "cuts": [
            {**_ticked(job, marks[c.number], sawn.cuts(job, c)), **_cut(c, tree, last, letters, manner)}
            for c in _ordered(tree)
        ],
    }  # fmt: skip


def _piece(piece: Piece, letters: dict[str, str], manner: Manner) -> Answer:
    return {
        "number": piece.number, "x": rounded(piece.x), "y": rounded(piece.y),
        "long": rounded(piece.long), "wide": rounded(piece.wide),
        "part": piece.blank, "letter": letters.get(piece.blank.split("#")[0], ""), "keep": piece.keep,
        "says": f"{show(piece.long, manner)} × {show(piece.wide, manner)}",
    }  # fmt: skip


def _ordered(tree: CutTree) -> list[Cut]:
    return sorted(tree.cuts, key=lambda c: c.number)


def _ticked(job: Job, mark: str, numbers: Numbers) -> Answer:
    """What a tick of it is sent as, and whether it is made already."""
    return {"key": mark, "cuts": in_pairs(numbers), "made": is_made(job.log, numbers)}


def _cut(one: Cut, tree: CutTree, last: frozenset[int], letters: dict[str, str], manner: Manner) -> Answer:
    pieces = {p.number: p for p in tree.pieces}
    whole = pieces[one.piece]
    return {
        "number": one.number,
        "way": one.way.value,
        "purpose": {Purpose.TRIM: "trim", Purpose.BREAKDOWN: "break down"}.get(one.purpose, ""),
        "setting": "" if one.setting is None else show(one.setting, manner),
        "at": rounded(one.at),
        "from": show(one.at, manner),
        "kerf": rounded(one.kerf),
        "piece": {
            "x": rounded(whole.x), "y": rounded(whole.y), "long": rounded(whole.long), "wide": rounded(whole.wide),
        },
        "frees": [
            {**_piece(pieces[n], letters, manner), "waste": n in last and not pieces[n].blank and not pieces[n].keep}
            for n in one.frees
        ],
        "words": plain.cut_in_words(one, tree, letters, manner).strip(),
    }  # fmt: skip


def steps(job: Job) -> Answer:
    """The order of work, each step with the key that it is ticked by."""
    order = job.order
    manner = job.build.manner
    letters = {p.name: p.letter for p in job.build.parts}
    return {
        "steps": [_step(one, job, letters, manner) for one in order.steps],
        "tools": list(order.tools),
        "cautions": list(order.cautions),
        "findings": [finding(f) for f in order.findings],
    }


def _step(one: Step, job: Job, letters: dict[str, str], manner: Manner) -> Answer:
    pages = job.build.pages
    return {
        **_ticked(job, step_mark(one), cut_step(job, one)),
        "number": one.number,
        "stage": one.stage.value,
        "title": one.title,
        "does": list(one.does),
        "parts": list(one.parts),
        "letters": sorted({letters[n] for n in one.parts if n in letters}),
        "shows": list(one.shows),
        "new": list(one.new),
        "settings": [_setup(s, manner) for s in one.setups],
        "check": one.check,
        "caution": one.caution,
        "reads": [
            {"name": name, "expected": show(pages[name].value, manner) if name in pages else "", "ask": f"page:{name}"}
            for name in one.reads
        ]
        + _gaps(one, job, manner),
        "hands_on": one.hands_on,
        "waits": one.waits,
        "why_here": one.why_here,
    }


GAPS = 4
"""So many gaps are asked for at a dry fit, the likeliest to be wrong."""
LIKELY = 0.04


def _gaps(one: Step, job: Job, manner: Manner) -> list[Answer]:
    """Gaps to read with the pieces held in, while they still come apart: those that may well be wrong."""
    if one.stage is not Stage.DRY_FIT:
        return []
    mine = [j for j in job.judged if j.trouble >= LIKELY and {j.fit.goes_in, j.fit.into} & {*one.parts}]
    mine.sort(key=lambda j: (-round(j.trouble, 6), j.fit.name))
    return [
        {"name": j.fit.gap_name, "expected": fine(j.gap.value, manner), "ask": f"page:{j.fit.gap_name}"}
        for j in mine[:GAPS]
    ]


def _setup(one: Setup, manner: Manner) -> Answer:
    return {
        "key": one.key, "machine": one.machine, "tool": one.tool, "name": one.name,
        "to": "" if one.to is None else show(one.to.value, manner),
        "ask": "" if one.to is None else f"setup:{one.key}",
        "says": one.says, "test": one.test,
    }  # fmt: skip


def packet(job: Job, paper: str = "", page: str = "") -> Answer:
    """The packet for the bench as a PDF; its labels lead to the page's address, where phones reach it."""
    from storystick.paper import packet as print_packet

    size = paper if paper in ("letter", "a4") else job.plan.paper
    return {"bytes": print_packet(replace(job.folder, page=page), paper=size, tell=job.tell, stop=job.stop)}


def shared(job: Job) -> Answer:
    """The whole plan as one file for any browser."""
    from storystick.app.page.shared import shared as as_one_file

    return {"bytes": as_one_file(job).encode()}


def formats(job: Job) -> Answer:
    """What other programs and machines can have: the word that each format is asked for by, and what it holds."""
    from storystick.exports import shelf

    return {"formats": [{"name": one.name, "suffix": one.suffix, "says": one.says} for one in shelf().values()]}


def exported(job: Job, form: str) -> Answer:
    """The piece in a format: its file, or its files packed into one. Nothing where there is no such format."""
    from storystick.exports import shelf
    from storystick.exports.packed import packed

    wanted = shelf().get(form)
    if wanted is None:
        return {"unknown": True}
    files = []
    for file in wanted.make(job):
        if job.tell is not None:
            job.tell(file.name, 0.0)  # where the work can be stopped
        files.append((file.name, file.content))
    if len(files) == 1:
        return {"bytes": files[0][1], "name": files[0][0]}
    return {"bytes": packed(files), "name": f"{form}.zip"}


def reading(job: Job, name: str, text: str, tool: str = "") -> Answer:
    """A reading of a named number as an entry for the log beside the plan; or why it can't be one."""
    from storystick.app import entries

    try:
        return {"entry": entries.reading(job, name, [text], tool)}
    except entries.Refused as wrong:
        return {"refused": str(wrong)}


def changed(job: Job, before: str) -> Answer:
    """What is not as it was when the log said what it said before: sizes, fits, drawings to print anew."""
    from dataclasses import replace

    from storystick.app.entries import far_off
    from storystick.app.show_fits import change_plain
    from storystick.model.changed import changed as since

    then = Job(replace(job.texts, log=before))
    manner = job.build.manner
    found = since(then.build, job.build, then.judged, job.judged)
    letters = {part.name: part.letter for part in job.build.parts}
    told: Answer = change_plain(found, manner)
    for one in told["sizes"]:
        one["letter"] = letters.get(one["part"], "")
    fresh = [one for one in job.log.entries if one not in set(then.log.entries)]
    return {**told, "slips": [{"number": name, "off": show(abs(off), manner)} for name, off in far_off(then, fresh)]}
