"""The text's letters as a page carries them along: only those that are read here, packed after W3C's WOFF 1.0."""

from base64 import b64encode
from functools import cache
from importlib.resources import files
from io import BytesIO

WEIGHTS = {400: "SourceSansPro-Regular.ttf", 600: "SourceSansPro-Semibold.ttf"}
FAMILY = "Source Sans"
LETTERS = (
    *range(0x20, 0x7F), *range(0xA0, 0x180),  # Latin letters of every European tongue
    *range(0x2010, 0x2028), 0x2030, 0x2032, 0x2033, 0x2039, 0x203A, 0x2044,  # dashes, quotation marks, feet and inches
    0x20AC, 0x2122, *range(0x2150, 0x2160), *range(0x2190, 0x2194), 0x2212, 0x221A, 0x2248, 0x2260, 0x2264, 0x2265,
)  # fmt: skip
FEATURES = ["kern", "mark", "mkmk", "tnum", "lnum"]


@cache
def whole(file: str) -> bytes:
    """A font of the package that comes with it, as it is."""
    return files("font_source_sans_pro").joinpath("files", file).read_bytes()


@cache
def carried() -> str:
    """Style that brings both weights with it, in data addresses; the same bytes each time."""
    return "\n".join(
        f'@font-face {{ font-family: "{FAMILY}"; font-weight: {weight}; font-display: swap; '
        f"src: url(data:font/woff;base64,{b64encode(_lessened(whole(file))).decode()}); }}"
        for weight, file in WEIGHTS.items()
    )


def _lessened(font: bytes) -> bytes:
    """A font with the letters above and no others."""
    from fontTools.subset import Options, Subsetter
    from fontTools.ttLib import TTFont

    read = TTFont(BytesIO(font), recalcTimestamp=False)
    wanted = Options(layout_features=FEATURES, notdef_outline=True, hinting=False, recalc_timestamp=False)
    less = Subsetter(wanted)
    less.populate(unicodes=LETTERS)
    less.subset(read)
    read.flavor = "woff"
    out = BytesIO()
    read.save(out)
    return out.getvalue()
