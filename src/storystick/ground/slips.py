"""What a line that isn't YAML most likely means, in plain words."""

import re
from typing import Any

from storystick.ground.finding import Finding, Grade, Place


def explain(error: Any, lines: list[str], file: str, path: tuple[str, ...] = ()) -> Finding:
    """A finding for the first thing that could not be read.

    error  a yaml.MarkedYAMLError, from the C parser or the pure one (their words differ a little)
    lines  the lines of the file
    """
    mark, context = error.problem_mark or error.context_mark, error.context_mark or error.problem_mark
    slip = _Slip(f"{error.context or ''} {error.problem or ''}".lower(), lines, mark, context)
    unknown = (
        mark,
        "This line can't be read.",
        "Look at its blanks, brackets, quotes and colons, and the line before.",
    )
    where, says, advice = next(filter(None, (look(slip) for look in _LOOKS)), None) or unknown
    line, column = min(where.line + 1, len(lines)), where.column + 1
    if where.line + 1 > len(lines) or (where.line and not lines[where.line].strip() and where is mark):
        line = max((n for n, text in enumerate(lines[: where.line + 1], 1) if text.strip()), default=1)
        column = len(lines[line - 1].rstrip()) + 1
    return Finding("yaml", Grade.STOP, Place(file, line, column, line, column + 1, path), says, advice)


class _Slip:
    """An error with what the lines around it look like."""

    def __init__(self, words: str, lines: list[str], mark: Any, context: Any) -> None:
        self.words, self.lines, self.mark, self.context = words, lines, mark, context
        self.line = lines[mark.line] if mark.line < len(lines) else ""
        self.first = lines[context.line] if context.line < len(lines) else ""


type Told = tuple[Any, str, str] | None


def _open_quote(slip: _Slip) -> Told:
    if "quoted scalar" not in slip.words or not re.search("end of stream|document", slip.words):
        return None
    text = slip.first[slip.context.column :].strip()
    advice = f"Write {text}{text[:1]}, or leave the quote mark out at the front."
    return slip.context, f"The quote mark {text[:1]} opens here and is never closed.", advice


def _escape(slip: _Slip) -> Told:
    if "escape" not in slip.words:
        return None
    return slip.mark, "A backslash in double quotes has a meaning of its own.", "Use single quotes around the text."


def _tab(slip: _Slip) -> Told:
    if "cannot start any token" not in slip.words or slip.line[slip.mark.column : slip.mark.column + 1] != "\t":
        return None
    return slip.mark, "There is a tab before the text.", "Set lines in with blanks, two to a level."


def _odd_start(slip: _Slip) -> Told:
    if "cannot start any token" not in slip.words:
        return None
    text = slip.line[slip.mark.column :].strip()
    return slip.mark, f"A value can't begin with {text[:1]!r}.", f"Put quotes around it: '{text}'."


def _two_colons(slip: _Slip) -> Told:
    if "mapping values are not allowed" not in slip.words:
        return None
    before = slip.line[: slip.mark.column]
    if re.search(r":\s", before):
        name, _, text = slip.line.strip().partition(":")
        advice = f"Put quotes around the text: {name}: '{text.strip()}'."
        return slip.mark, "There is a second colon on this line.", advice
    above = next((n for n in range(slip.mark.line - 1, -1, -1) if slip.lines[n].split("#")[0].strip()), None)
    glued = re.match(r"\s*(?:- )?([\w .-]+?):(\S.*)", slip.lines[above]) if above is not None else None
    if glued:
        says = f"Line {above + 1 if above is not None else 0} has no blank after its colon."
        return slip.mark, says, f"Write {glued[1]}: {glued[2]}"
    return (slip.mark, "This line stands further right than the one it goes on from, which already has a value.",
            "Begin it in the same column as the line above, or take the value away from that one.")  # fmt: skip


def _no_colon(slip: _Slip) -> Told:
    if "could not find expected ':'" not in slip.words:
        return None
    text = slip.first.strip()
    glued = re.match(r"([\w .-]+?):(\S.*)", text)
    if glued:
        return slip.context, f"{text!r} has no blank after its colon.", f"Write {glued[1]}: {glued[2]}"
    return slip.context, f"{text!r} has no colon and value.", f"Write {text}: and a value, or set it in under its name."


def _after_quote(slip: _Slip) -> Told:
    if "expected key" not in slip.words and "<block end>" not in slip.words:
        return None
    quoted = re.search(r"(?:^|:|-)\s*((['\"]).*?\2)\s*\S", slip.line[: slip.mark.column + 1])
    if quoted:
        text = slip.line[quoted.start(1) :].strip()
        other = '"' if quoted[2] == "'" else "'"
        return (slip.mark, f"There is more after the closing {quoted[2]}.",
                f"Put quotes of the other kind around the whole: {other}{text}{other}.")  # fmt: skip
    here = len(slip.line) - len(slip.line.lstrip())
    says = f"This line begins in column {here + 1}, which fits no line above it."
    return slip.mark, says, "Begin it in the same column as the lines it belongs with."


def _mixed_list(slip: _Slip) -> Told:
    if "'-' indicator" not in slip.words and "block collection" not in slip.words:
        return None
    return (slip.mark, f"A list begins in line {slip.context.line + 1}; this line goes on without a dash.",
            "Begin it with '- ', or set it in further.")  # fmt: skip


def _dash(slip: _Slip) -> Told:
    if "sequence entries are not allowed" not in slip.words:
        return None
    return slip.mark, "A list with dashes can't begin behind a colon.", "Begin it on the next line, or write [a, b]."


def _open_bracket(slip: _Slip) -> Told:
    for kind, closing, opening in (("flow sequence", "]", "["), ("flow mapping", "}", "{")):
        if kind in slip.words:
            says = f"The {opening} in line {slip.context.line + 1} is not closed, or a comma is missing before this."
            return slip.mark, says, f"Close it with {closing}, or put a comma between the two values."
    return None


def _nothing_there(slip: _Slip) -> Told:
    if "node content" not in slip.words:
        return None
    sign = slip.line[slip.mark.column : slip.mark.column + 1]
    says = f"There should be a value here, not {sign!r}."
    return slip.mark, says, "Fill it in, take the sign out, or put it in quotes."


def _anchor(slip: _Slip) -> Told:
    if "anchor" not in slip.words and "alias" not in slip.words:
        return None
    text = slip.first[slip.context.column :].strip()
    return slip.context, f"A value can't begin with {text[:1]!r}.", f"Put quotes around it: '{text}'."


def _too_deep(slip: _Slip) -> Told:
    if "nesting" not in slip.words and "level" not in slip.words:
        return None
    return slip.mark, "This is nested far too deep.", "Is a bracket missing further up?"


def _left_over(slip: _Slip) -> Told:
    if "document start" in slip.words:
        return (slip.mark, "This goes on after the plan has ended: it stands further left than the first line, "
                "or a bracket too many was closed.", "Begin all main lines in the first column.")  # fmt: skip
    if "directive" in slip.words or "incompatible" in slip.words:
        return slip.mark, "A line that begins with % has a meaning of its own.", "Take it out."
    return None


def _block_text(slip: _Slip) -> Told:
    if "block scalar" not in slip.words:
        return None
    return slip.mark, "Behind | or > nothing else can stand.", "Begin the text on the next line, set in by two blanks."


_LOOKS = (_open_quote, _escape, _tab, _odd_start, _two_colons, _no_colon, _mixed_list, _after_quote, _dash,
          _too_deep, _open_bracket, _nothing_there, _anchor, _left_over, _block_text)  # fmt: skip
