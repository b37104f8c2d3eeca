"""What parts are made from, as the plan names it and as it was measured."""

from dataclasses import dataclass
from fractions import Fraction
from typing import Literal

from storystick.ground.dim import Dim
from storystick.ground.finding import NOWHERE, Place

type Form = Literal["sheet", "board", "strip", "bar", "band"]


@dataclass(frozen=True, slots=True)
class SoldAs:
    """A size it can be bought or found in: long x wide [mm] (wide None: by length or random width), price for one."""

    long: Fraction
    wide: Fraction | None
    price: Fraction | None = None
    copies: int | None = None  # None: as many as wanted
    on_hand: bool = False
    called: str = ""  # as the plan writes it: "4 ft x 8 ft"
    thick: Fraction | None = None  # its own thickness, where one was given: a rough board is planed down
    unseen: bool = False  # stands for boards that nobody has seen yet, bought by volume in random widths


@dataclass(frozen=True, slots=True)
class ByVolume:
    """Wood sold by volume: in board feet or cubic metres, at a price for one, with a share added for waste.

    price  for one unit; None: not known
    waste  share of the wood that is bought beyond what the parts measure, as the plan says; None: as is usual
    least  narrowest width that such boards come in [mm]; None: as is usual
    """

    unit: Literal["board foot", "m3"]
    price: Fraction | None = None
    waste: Fraction | None = None
    least: Fraction | None = None


@dataclass(frozen=True, slots=True, eq=False)
class Stock:
    """One kind of material of a plan.

    form      sheet (plywood...), board (solid wood), strip (edging by length), bar (steel, track), band (edge band)
    material  name of a row in the shop's tables of woods and panels ("birch plywood"); "" when unknown
    thickness as measured, with its spread; `nominal` as sold
    width     of strips and bars
    grain     True when the face has a direction that parts must follow
    density   [kg/m3]; stiffness E along the grain [N/mm2], low and usual; strength MOR [N/mm2]; 0 when unknown
    """

    name: str
    form: Form
    material: str
    thickness: Dim
    nominal: Dim
    sizes: tuple[SoldAs, ...] = ()
    width: Dim | None = None
    grain: bool = True
    density: float = 0.0
    stiffness: tuple[float, float] = (0.0, 0.0)
    strength: float = 0.0
    solid: bool = False  # solid wood: moves with the seasons
    measured: bool = False  # True when readings of the real thing were given
    scatter: float = 0.0  # how its thickness differs from place to place: standard deviation of the readings [mm]
    currency: str = ""
    place: Place = NOWHERE
    same_sheet: tuple[str, ...] = ()  # names or roles of parts that have to be of one thickness
    by_volume: ByVolume | None = None  # boards that are sold by the board foot or the cubic metre
    ripped_from: str = ""  # strips that come off boards of this stock of the plan
