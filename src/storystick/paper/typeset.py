"""Typesetting: data and a template in, a PDF out. Imports nothing of ours, which keeps a press light."""

from typing import Literal

ACCESSIBLE: Literal["ua-1"] = "ua-1"  # PDF/UA-1, ISO 14289-1: tagged, titled, every picture told in words


class Refusal(Exception):
    """Typesetting could not be done: what was said about it, and any hints."""

    def __init__(self, says: str, hints: tuple[str, ...] = ()) -> None:
        super().__init__(says)
        self.says, self.hints = says, hints


def typeset(template: str, packet: str, fonts: str, family: str) -> bytes:
    """The PDF of a packet (JSON) by a template, with the typefaces of a folder. Raises Refusal."""
    import typst

    typeface = typst.Fonts(include_system_fonts=False, font_paths=[fonts])
    if family not in typeface.families():
        raise Refusal(f"the typeface {family} is not in {fonts}")
    try:
        pdf = typst.compile(
            template.encode(),
            font_paths=typeface,
            ignore_system_fonts=True,
            sys_inputs={"packet": packet},
            format="pdf",
            pdf_standards=[ACCESSIBLE],
            timestamp=0,
        )
    except typst.TypstError as refused:
        raise Refusal("the press refused a page", (refused.diagnostic, *refused.hints)) from refused
    if not isinstance(pdf, bytes):
        raise Refusal("the press gave no single file")
    return pdf
