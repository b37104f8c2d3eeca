"""The collected formulae, as they are printed, beside ours, at a spread of values.

Where the collection prints plain arithmetic it is read and worked out as it stands; the others are typed in by hand
from the print. Neither side shares a line with the other.
"""

import math
import re
from collections.abc import Callable, Iterator, Sequence
from typing import Any

from storystick.physics import (
    beam,
    bending,
    continuous,
    geometry,
    glue,
    lags,
    lifting,
    magnets,
    moisture,
    movement,
    nails,
    panels,
    particleboard,
    screws,
    tipping,
    tolerance,
    weight,
)
from storystick.physics.units import KG_M3_PER_LB_FT3, MM_PER_IN, N_PER_LBF

IN_CELSIUS = {  # typed from the Wood Handbook, eq. 4-5
    "W": [349, 1.29, 0.0135], "K": [0.805, 0.000736, -2.73e-6], "K1": [6.27, -0.00938, -0.000303],
    "K2": [1.91, 0.0407, -0.000293],
}  # fmt: skip

type Item = dict[str, Any]
type Pairs = Iterator[tuple[float, float]]
type Worked = Callable[[Item], Pairs]

IN = MM_PER_IN


def printed(text: str, **values: float) -> float:
    """Plain arithmetic worked out as it is printed: what stands right of the sign of equality, up to a comma or so."""
    sum_ = re.split(r"[;,]| lb| \((?:lb|or|exact|L rounded)| ft2| over", text.partition(" = ")[2] or text)[0]
    sum_ = sum_.replace("^", "**").translate({ord("["): "(", ord("]"): ")"})
    names = {**values, "sqrt": math.sqrt, "atan": math.atan, "sin": math.sin}
    return float(eval(sum_, {"__builtins__": {}}, names))


def grid(*ranges: Sequence[float]) -> Iterator[tuple[float, ...]]:
    if not ranges:
        yield ()
        return
    for first in ranges[0]:
        for rest in grid(*ranges[1:]):
            yield (first, *rest)


def sorption(item: Item) -> Pairs:
    """Coefficients from the printed table; the equation typed from the print."""
    fahrenheit = item["id"].endswith("F")
    ours = moisture.equilibrium_mc_percent_f if fahrenheit else moisture.equilibrium_mc_percent
    for t, rh in grid((30, 70, 120) if fahrenheit else (0, 21, 45), (10, 35, 50, 80)):
        w, k, k1, k2 = (sum(c * t**i for i, c in enumerate(item["value"][name])) for name in ("W", "K", "K1", "K2"))
        h = rh / 100
        theirs = 1800 / w * (
            k * h / (1 - k * h) + (k1 * k * h + 2 * k1 * k2 * k**2 * h**2) / (1 + k1 * k * h + k1 * k2 * k**2 * h**2)
        )
        yield ours(t, rh), theirs


def holding(of: Callable[[float, float, float], float], per_inch: bool = False) -> Worked:
    """A load by specific gravity, diameter and depth, in pounds and inches."""

    def worked(item: Item) -> Pairs:
        for g, d, deep in grid((0.35, 0.5, 0.68), (0.1, 0.164, 0.25), (1.0,) if per_inch else (0.75, 1.5)):
            yield of(g, d * IN, deep * IN) / N_PER_LBF, printed(item["value"], G=g, D=d, L=deep)

    return worked


def particleboard_screws(item: Item) -> Pairs:
    constants = [float(k) for k in re.findall(r"(\d+) (?:face|edge)", item["value"])]
    ours = (particleboard.face_failure_withdrawal_n, particleboard.edge_failure_withdrawal_n)
    for k, of in zip(constants, ours, strict=True):
        for g, d, deep in grid((0.6, 0.75), (0.138, 0.19), (0.5, 1.0)):
            yield of(g, d * IN, deep * IN) / N_PER_LBF, printed(item["value"], K=k, D=d, L=deep, G=g)


def distances(item: Item) -> Pairs:
    """edge a (b); end c pulled, d pushed (e, f); along g (h), across i (j); rows k, l staggered."""
    n = [float(each) for each in re.findall(r"([\d.]+)D", item["value"])]
    bored, not_bored = screws.least_distances_mm(4.0), screws.least_distances_mm(4.0, bored=False)
    assert len(n) == 12
    for table, (edge, pulled, pushed, along, across) in (
        (bored, (n[0], n[2], n[3], n[6], n[8])), (not_bored, (n[1], n[4], n[5], n[7], n[9])),
    ):  # fmt: skip
        yield table.edge_mm, 4 * edge
        yield table.end_pulled_mm, 4 * pulled
        yield table.end_pushed_mm, 4 * pushed
        yield table.along_mm, 4 * along
        yield table.across_mm, 4 * across
    yield bored.rows_mm, 4 * n[10]
    yield bored.rows_staggered_mm, 4 * n[11]


def withdrawal_lead(item: Item) -> Pairs:
    hard, soft = (float(each) for each in re.findall(r"(0\.\d+) of root", item["value"]))
    for g, share in ((0.6, hard), (0.7, hard), (0.55, soft), (0.5, 0.0), (0.4, 0.0)):
        yield screws.withdrawal_pilot_mm(g, 3.0), 3.0 * share


def lateral_lead(_: Item) -> Pairs:
    for g, share in ((0.6, 1.0), (0.7, 1.0), (0.5, 7 / 8)):
        shank, root = screws.lateral_holes_mm(g, 4.2, 2.9)
        yield shank, 4.2 * share
        yield root, 2.9 * share


def beam_with_shear(_: Item) -> Pairs:
    for w, long, b, h, e in grid((500, 2000), (600, 1200), (200,), (18, 60), (8000,)):
        g = beam.shear_modulus_mpa(e)
        ours = beam.uniform_sag_mm(w, long, e, b * h**3 / 12) + beam.shear_sag_mm(w, long, 1 / 8, g, b, h)
        yield ours, 5 / 384 * w * long**3 / (e * b * h**3 / 12) + 1 / 8 * w * long / (g * 5 / 6 * b * h)


def panel_sag(item: Item) -> Pairs:
    for w, long, b, t in grid((10, 40), (600, 900), (250,), (15, 25)):
        yield (
            beam.uniform_sag_mm(9.81 * w, long, 2500, b * t**3 / 12),
            printed(item["value"], W=w, L=long, E=2500, b=b, t=t),
        )


def panel_stress(item: Item) -> Pairs:
    for w, long, b, t in grid((100, 400), (600, 900), (250,), (15, 25)):
        yield bending.uniform_stress_mpa(w, long, b, t), printed(item["value"], W=w, L=long, b=b, t=t)


def two_spans(item: Item) -> Pairs:
    (divisor,) = re.findall(r"exact divisor ([\d.]+)", item["value"])
    for q, long in grid((0.5, 2.0), (500, 900)):
        yield continuous.two_span_sag_mm(q, long, 8000, 150000), q * long**4 / (float(divisor) * 8000 * 150000)


def lifting_limit(_: Item) -> Pairs:
    for h, v, d, a in grid((25, 40, 60), (30, 75, 140), (25, 70), (0, 45)):
        theirs = 23 * 25 / h * (1 - 0.003 * abs(v - 75)) * (0.82 + 4.5 / d) * (1 - 0.0032 * a)
        yield lifting.weight_limit_kg(h * 10, v * 10, d * 10, a), theirs


def shapes(_: Item) -> Pairs:
    for a in (0.1, 2.0):
        yield tolerance.rectangular_sd_mm(a), a / math.sqrt(3)
        yield tolerance.triangular_sd_mm(a), a / math.sqrt(6)
        yield tolerance.u_shaped_sd_mm(a), a / math.sqrt(2)


def european(item: Item, of: Callable[[float], tuple[float, float]]) -> Pairs:
    """+(a + b t) / -(c + d t)."""
    a, b, c, d = (float(each) for each in re.findall(r"0\.\d+", item["value"]))
    for t in (4, 9, 18, 30):
        least, most = of(t)
        yield most - t, a + b * t
        yield t - least, c + d * t


def axis_field(item: Item) -> Pairs:
    for br, radius, t, z in grid((1.17, 1.42), (6, 12.5), (3, 10), (0.5, 5)):
        yield magnets.axis_field_t(br, 2 * radius, t, z), printed(item["value"], Br=br, R=radius, t=t, z=z)


def image_force(_: Item) -> Pairs:
    """The field of the magnet summed over the plate in rings; the field off the axis from loops of current."""
    br, radius, t, gap = 1.2, 10.0, 5.0, 1.0
    yield magnets.pull_on_plate_n(br, 2 * radius, t, gap), _summed_over_the_plate(br, radius, t, gap)


def _summed_over_the_plate(br: float, radius: float, thick: float, gap: float) -> float:
    """Both faces as sheets of charge; the plate doubles the field straight onto it."""
    mu0, rings, slices, across = 4e-7 * math.pi, 90, 40, 48
    total = 0.0
    for i in range(rings):
        rho = (i + 0.5) / rings * 4 * radius
        b = 0.0
        for z, sign in ((gap, 1), (gap + thick, -1)):
            for j in range(slices):
                s = (j + 0.5) / slices * radius
                for k in range(across):
                    a = (k + 0.5) / across * math.pi
                    far = rho**2 + s**2 - 2 * rho * s * math.cos(a) + z**2
                    b += sign * z * s / far**1.5 * (radius / slices) * (math.pi / across) * 2
        b *= br / (4 * math.pi)
        total += (2 * b) ** 2 / (2 * mu0) * 2 * math.pi * rho * (4 * radius / rings) * 1e-6
    return total


def drawer_volume(_: Item) -> Pairs:
    for w, d, h in grid((20, 30), (16,), (4, 7.125)):
        yield tipping.drawer_volume_mm3(w * IN, d * IN, h * IN) / IN**3, (h - 1 / 8) * w * d


def stacks(of: Callable[[Sequence[float], Sequence[float]], float], squares: bool) -> Worked:
    def worked(_: Item) -> Pairs:
        for limits, counts in (([0.1, 0.2, 0.5], [1, -1, 2]), ([1.0, 0.4], [3, -0.5])):
            parts = [c * t for c, t in zip(counts, limits, strict=True)]
            theirs = math.sqrt(sum(p * p for p in parts)) if squares else sum(abs(p) for p in parts)
            yield of(limits, counts), theirs

    return worked


def correlated(_: Item) -> Pairs:
    c, u, r = [1, -2, 0.5], [0.1, 0.2, 0.3], [[1, 0.5, 0], [0.5, 1, -0.3], [0, -0.3, 1]]
    square = sum(c[i] * c[j] * u[i] * u[j] * r[i][j] for i in range(3) for j in range(3))
    yield tolerance.combined_sd(c, u, r), math.sqrt(square)


def capability(_: Item) -> Pairs:
    for m, s in grid((14, 16), (1.0, 2.0)):
        cp, cpk = tolerance.capability(m, s, 8, 20)
        yield cp, (20 - 8) / (6 * s)
        yield cpk, min(20 - m, m - 8) / (3 * s)


def tape(item: Item, tape_class: int) -> Pairs:
    for metres in (1, 3, 5, 10):
        yield tolerance.tape_limit_mm(1000 * metres, tape_class), printed(item["value"], L=metres)


def change(of: Callable[[float, float, float, float], float], name: str, by: Sequence[float]) -> Worked:
    def worked(_: Item) -> Pairs:
        for wide, b, start, end in grid((100, 400), by, (6, 9), (8, 12)):
            theirs = wide * b * (end - start)
            if name == "S":
                theirs = wide * (end - start) / (30 * 100 / b - 30 + start)
            yield of(wide, b, start, end), theirs

    return worked


def one(ours: Callable[..., float], *ranges: Sequence[float], names: str) -> Worked:
    """Ours beside what is printed, with letters for its numbers."""

    def worked(item: Item) -> Pairs:
        for values in grid(*ranges):
            yield ours(*values), printed(item["value"], **dict(zip(names.split(), values, strict=True)))

    return worked


FORMULAS: dict[str, Worked] = {
    "emc.eq": lambda item: sorption({**item, "value": IN_CELSIUS}),
    "emc.coefF": sorption,
    "emc.coefC": sorption,
    "mov.eq132": change(movement.width_change_mm, "C", (0.0018, 0.0035)),
    "mov.eq133": change(movement.width_change_from_shrinkage_mm, "S", (4.0, 9.0)),
    "wood.weight": one(
        lambda g, m: weight.wood_density_kg_m3(g, m) / KG_M3_PER_LB_FT3, (0.4, 0.7), (0, 8, 12), names="G M"
    ),
    "en315.sanded": lambda item: european(item, panels.en315_sanded_mm),
    "en315.unsanded": lambda item: european(item, panels.en315_unsanded_mm),
    "b.gen": beam_with_shear,
    "b.mdf": panel_sag,
    "b.stress": panel_stress,
    "b.two": two_spans,
    "scr.gauge": one(lambda n: screws.gauge_diameter_mm(n) / IN, (2, 6, 8, 14), names="N"),
    "scr.gauge.uk": one(lambda n: screws.british_gauge_diameter_mm(n) / IN, (2, 6, 8, 14), names="N"),
    "scr.clear.trade": one(lambda n: screws.clearance_bit_mm(n) / IN * 64, (4, 6, 8, 12), names="N"),
    "scr.pilot.nds": withdrawal_lead,
    "scr.pilot.lat": lateral_lead,
    "scr.W.nds": holding(screws.allowable_withdrawal_n, per_inch=True),
    "scr.W.ult": holding(screws.failure_withdrawal_n),
    "scr.W.pb": particleboard_screws,
    "scr.dist": distances,
    "lag.W": holding(lags.allowable_withdrawal_n, per_inch=True),
    "lag.ult": holding(lags.failure_withdrawal_n),
    "lag.lat": one(
        lambda k, d: lags.proportional_lateral_n(k, d * IN) / N_PER_LBF, (2000, 2640), (0.25, 0.375), names="K D"
    ),
    "nail.ult": holding(nails.failure_withdrawal_n),
    "glue.cover": one(
        lambda m: glue.cover_m2_per_litre(m * 0.0254) * 3.785411784 / 0.09290304, (3, 6, 10), names="m"
    ),
    "mag.axis": axis_field,
    "mag.force": image_force,
    "csu.vol": drawer_volume,
    "tip.force": one(tipping.tip_force_n, (120, 260), (9, 14), (34, 40), names="W x h"),
    "tip.angle": one(lambda x, z: math.radians(tipping.tip_angle_deg(x, z)), (10, 4), (25, 60), names="x z"),
    "tape.classI": lambda item: tape(item, 1),
    "tape.classII": lambda item: tape(item, 2),
    "geo.five": one(lambda a, b, _: geometry.five_cut_error(a, b, 15) * 15, (0.41,), (0.39,), (15,), names="A B L"),
    "geo.bush": lambda _: ((geometry.bushing_offset_mm(b, d), (b - d) / 2) for b, d in grid((16, 30), (6, 12))),
    "geo.diag": lambda _: (
        (
            geometry.diagonals_differ_mm(a, b, e),
            2 * a * b * math.sin(math.radians(e)) / math.hypot(a, b),
        )
        for a, b, e in grid((600, 900), (400,), (0.1, 0.3))
    ),
    "kerf.fit": lambda _: (
        (float(n * w + (n - 1) * k <= 1220 < (n + 1) * w + n * k), 1.0)
        for w, k in grid((95, 300, 401), (2.2, 3.2))
        for n in (geometry.strips_across(1220, w, k),)
    ),
    "t.wc": stacks(tolerance.worst_case_mm, squares=False),
    "t.rss": stacks(tolerance.root_sum_square_mm, squares=True),
    "t.gum": correlated,
    "t.rect": shapes,
    "t.res": lambda _: ((tolerance.resolution_sd_mm(d), d / (2 * math.sqrt(3))) for d in (0.5, 1.0)),
    "t.cp": capability,
    "tip.drawer": lambda _: (
        (tipping.standing_moment_nmm(ws), sum(w * x for w, x in ws))
        for ws in ([(70, 9.5), (18, -6)], [(30, 8), (20, -9), (20, -9)])
    ),
    "niosh.eq": lifting_limit,
}  # fmt: skip
