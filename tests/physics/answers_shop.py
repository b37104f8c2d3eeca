"""What our formulae and tables say to the collected values on fasteners, magnets, statics, machines and errors."""

from collections.abc import Callable
from fractions import Fraction
from itertools import pairwise
from math import atan, cos, degrees, sin
from typing import Any

from storystick.ground.dim import Spread, given, sample
from storystick.physics import (
    geometry,
    glue,
    heights,
    iso,
    lags,
    lifting,
    magnets,
    nails,
    particleboard,
    racking,
    screws,
    tipping,
    tolerance,
)
from storystick.physics.units import MM_PER_FT, MM_PER_IN, MPA_PER_PSI, N_PER_LBF
from storystick.shop import tables
from storystick.shop.tables.rows import Nail, Screw

type Item = dict[str, Any]
type Answer = Callable[[Item], Any]

def pull(item: Item) -> float:
    given = item["inputs"]
    return magnets.pull_on_plate_n(given["Br"], given["D"], given["t"], given["gap_mm"])


def field(item: Item) -> float:
    given = item["inputs"]
    return magnets.axis_field_t(given["Br"], given["D"], given["t"], given["z_mm"])


def screw_allowable(item: Item) -> float:
    given = item["inputs"]
    wide = given["D"] * MM_PER_IN if "D" in given else screws.gauge_diameter_mm(given["N"])
    return screws.allowable_withdrawal_n(given["G"], wide, MM_PER_IN) / N_PER_LBF


def lag_allowable(item: Item) -> float:
    given = item["inputs"]
    return lags.allowable_withdrawal_n(given["G"], given["D"] * MM_PER_IN, MM_PER_IN) / N_PER_LBF


def failure(of: Callable[[float, float, float], float]) -> Answer:
    def answer(item: Item) -> float:
        given = item["inputs"]
        return of(given["G"], given["D"] * MM_PER_IN, given["L"] * MM_PER_IN) / N_PER_LBF

    return answer


def lateral_k(gravity: float, hardwood: bool) -> Answer:
    return lambda _: screws.proportional_lateral_n(gravity, 1, hardwood) / MPA_PER_PSI


def old_lateral(group: str) -> Answer:
    return lambda _: screws.old_allowable_lateral_n(group, 1) / MPA_PER_PSI


def screw(name: str) -> Screw:
    return tables.screws()[name]


def nail_sizes(item: Item) -> list[float]:
    row: Nail = tables.nails()[f"{item['id'].partition('.')[2]} common nail"]
    return [float(row.diameter_mm) / MM_PER_IN, float(row.lengths_mm[0]) / MM_PER_IN]


def brad_wire(name: str) -> Answer:
    return lambda _: float(tables.nails()[name].diameter_mm) / MM_PER_IN


def general_tolerance(item: Item) -> float | None:
    _, letter, span = item["id"].split(".", 2)
    return iso.general_tolerance_mm(float(span.split("-")[1]), letter)


def grade(item: Item) -> float:
    _, name, span = item["id"].split(".")
    width = iso.grade_width_mm(float(span.split("-")[1]), int(name[2:]))
    assert width is not None
    return width * 1000


def heads(item: Item) -> float:
    return float(screw(f"#{item['id'][8:]} wood screw").head_mm) / MM_PER_IN


def production_sizes(item: Item) -> list[float]:
    row = screw(f"#{item['id'][10:]} production screw")
    return [float(row.shank_mm) / MM_PER_IN, float(row.thread_mm) / MM_PER_IN]


def wet_frame(item: Item) -> float:
    return geometry.diagonals_differ_mm(24, 36, degrees(atan(1 / 16 / 24)))


def tip(item: Item) -> float:
    return tipping.tip_force_n(*(item["inputs"][key] for key in ("W", "x", "h")))


def drawers_out(item: Item) -> float:
    given = item["inputs"]
    return tipping.standing_moment_nmm([(given["Wc"], given["xc"]), *((w, -x) for w, x in given["drawers"])])


def end_gauge(_: Item) -> float:
    l_s = 50_000_623.0
    independent = [[float(i == j) for j in range(4)] for i in range(4)]
    return tolerance.combined_sd([1, 1, l_s * 0.1, -l_s * 11.5e-6], [25, 9.7, 5.8e-7, 0.029], independent)


def impedance(_: Item) -> list[float]:
    v, i = 4.999, 19.661e-3
    return [v / i, tolerance.combined_sd([1 / i, -v / i**2], [0.0032, 9.5e-6], [[1, -0.36], [-0.36, 1]])]


def bits(gauge: int) -> Answer:
    def answer(_: Item) -> list[float]:
        row = screw(f"#{gauge} wood screw")
        return [float(each) / MM_PER_IN for each in (row.clearance_bit_mm, row.pilot_hard_mm, row.pilot_soft_mm)]

    return answer


def pocket(item: Item) -> float:
    row = tables.pocket_lengths()[item["id"].partition(".")[2].replace("_", "/") + " in stock"]
    return float(row.screw_mm) / MM_PER_IN


def within(value: float, item: Item) -> list[float]:
    """The printed limits where a value of ours is between them."""
    low, high = item["value"]
    return [low, high] if low - 1e-9 <= value <= high + 1e-9 else [value, value]


def clamp_pressures(item: Item) -> list[list[float]]:
    """The printed limits where our pressures for soft and hard wood are between them."""
    row = tables.glues()["white glue"]
    ours = (row.pressure_soft_mpa / MPA_PER_PSI, row.pressure_hard_mpa / MPA_PER_PSI)
    return [within(each, {"value": limits}) for each, limits in zip(ours, item["value"], strict=True)]


def lengths_of_slides() -> str:
    inches = [float(each) / MM_PER_IN for each in tables.slides()[SLIDE].lengths_mm]
    (step,) = {round(b - a) for a, b in pairwise(inches)}
    return f"{inches[0]:.0f} to {inches[-1]:.0f} in by {step} in"


def cup(item: Item) -> list[Any]:
    """Bore; the printed depths where ours is between them; edge to bore."""
    row = tables.hinges()["overlay cup hinge"]
    assert None not in (row.bore_mm, row.bore_deep_mm, row.edge_least_mm, row.edge_most_mm)
    bore, deep, least, most = (
        float(each or 0) for each in (row.bore_mm, row.bore_deep_mm, row.edge_least_mm, row.edge_most_mm)
    )
    return [bore, within(deep, {"value": item["value"][1]}), [least, most]]


def impedance_parts(_: Item) -> dict[str, list[float]]:
    """R = V/I cos f, X = V/I sin f, Z = V/I, by correlated readings."""
    v, i, f = 4.999, 19.661e-3, 1.04446
    u, r = [0.0032, 9.5e-6, 0.00075], [[1, -0.36, 0.86], [-0.36, 1, -0.65], [0.86, -0.65, 1]]
    z = v / i
    slopes = {
        "R": (z * cos(f), [cos(f) / i, -z / i * cos(f), -z * sin(f)]),
        "X": (z * sin(f), [sin(f) / i, -z / i * sin(f), z * cos(f)]),
        "Z": (z, [1 / i, -z / i, 0]),
    }
    return {name: [value, tolerance.combined_sd(c, u, r)] for name, (value, c) in slopes.items()}


def four_rectangular() -> float:
    """Half of what holds 95 % of the sum of four evenly spread errors, each of standard deviation 1, drawn."""
    leaves = [given(f"x{n}", Fraction(0), f"x{n}", spread=Spread(1.0, "rectangular")) for n in range(4)]
    drawn = sorted(abs(each) for each in sample({"sum": sum(leaves[1:], leaves[0])}, 200_000, 1)["sum"])
    return float(drawn[int(0.95 * len(drawn))])


STEEL = tables.magnet_grades
SLIDE = "full extension side slide"
SHELF_PIN = "5 mm shelf pin"


ANSWERS: dict[str, Answer] = {
    # fasteners and glue
    "scr.D": lambda i: screws.gauge_diameter_mm(i["inputs"]["N"]) / MM_PER_IN,
    "scr.head": lambda i: [heads(i), i["value"][1]],  # our table holds the greatest
    "scr.modern": production_sizes,
    "scr.thread": lambda _: round(screws.thread_mm(1), 3),
    "scr.two3": lambda _: round(1 - 1 / screws.wanted_length_mm(1), 3),
    "scr.bits6": bits(6),
    "scr.bits10": bits(10),
    "scr.bits12": bits(12),
    "scr.W.ratio": lambda _: screws.failure_withdrawal_n(0.5, 4, 9) / screws.allowable_withdrawal_n(0.5, 4, 9),
    "scr.W.ex": screw_allowable,
    "scr.W.G": screw_allowable,
    "scr.U.": failure(screws.failure_withdrawal_n),
    "scr.pb.face": failure(particleboard.face_failure_withdrawal_n),
    "scr.lat.CI": old_lateral("I"),
    "scr.lat.CII": old_lateral("II"),
    "scr.lat.CIV": old_lateral("IV"),
    "scr.lat.ex": lambda _: screws.old_allowable_lateral_n("II", 0.19 * MM_PER_IN) / N_PER_LBF,
    "scr.lat.K.hardwood_G_.33-.47": lateral_k(0.40, True),
    "scr.lat.K.hardwood_G_.48-.56": lateral_k(0.52, True),
    "scr.lat.K.softwood_G_.29-.42": lateral_k(0.35, False),
    "scr.lat.K.softwood_G_.48-.52": lateral_k(0.50, False),
    "lag.W.": lag_allowable,
    "lag.end": lambda _: lags.END_GRAIN_SHARE,
    "nail.G": failure(nails.failure_withdrawal_n),
    **{f"nail.{penny}d": nail_sizes for penny in (3, 6, 8, 16)},
    "nail.penny": lambda _: 1 / nails.largest_penny(MM_PER_IN),
    "brad.23": brad_wire("23 gauge pin"),
    "brad.16": brad_wire("16 gauge finish nail"),
    "brad.15": brad_wire("15 gauge finish nail"),
    "pocket.": pocket,
    "glue.6mil": lambda _: glue.cover_m2_per_litre(6 * 0.0254) * 3.785411784 / 0.09290304,
    "glue.force": lambda _: glue.clamp_force_n(914.4, 19.05, 150 * MPA_PER_PSI) / N_PER_LBF,
    "glue.caps": lambda _: [
        round(tables.clamps()[name].force_n / N_PER_LBF)
        for name in ("spring clamp", "parallel clamp", "pipe clamp", "i-beam clamp")
    ],
    "glue.fan": lambda _: 1000 / glue.clamps_for_spread(1000, 1),
    "scr.pen": lambda _: (
        f"{screws.FULL_PENETRATION_DIAMETERS:g}D full; {screws.LEAST_PENETRATION_DIAMETERS:g}D least"
    ),
    "scr.tol": lambda _: [screws.SHANK_OVER_IN, -screws.SHANK_UNDER_IN],
    "scr.tpi2": lambda _: MM_PER_IN / screws.pitch_mm(2),
    "scr.tpi5": lambda _: MM_PER_IN / screws.pitch_mm(5),
    "scr.tpi6": lambda _: MM_PER_IN / screws.pitch_mm(6),
    "glue.press": lambda i: clamp_pressures(i),
    # magnets
    "mag.shear": lambda _: list(magnets.SIDEWAYS_SHARE),
    "mag.design": lambda _: list(magnets.DESIGN_SHARE),
    "mag.fe1": lambda _: magnets.pull_on_plate_n(1.26, 50.8, 16.51, 0.127),
    "mag.fe3": lambda _: magnets.pull_on_plate_n(1.26, 50.8, 19.05, 0.127, 12.7),
    "mag.d25.": pull,
    "mag.D": pull,
    "mag.B.": field,
    "mag.Br.N35": lambda _: [STEEL()["n35"].remanence_low_t, STEEL()["n35"].remanence_high_t],
    "mag.Br.N52": lambda _: [STEEL()["n52"].remanence_low_t, STEEL()["n52"].remanence_high_t],
    "mag.temp": lambda _: STEEL()["n42"].hottest_c,
    "o.magpylib.fe1": lambda _: [magnets.pull_on_plate_n(1.26, 50.8, 16.51, 0.127)] * 2,
    "o.magpylib.axis": lambda _: magnets.axis_field_t(1.3, 25.4, 3.175, 5),
    # standing, rolling, lifting
    "tip.1": tip,
    "tip.3": tip,
    "tip.d1": drawers_out,
    "tip.a1": lambda _: tipping.tip_angle_deg(10, 25),
    "tip.margin": lambda _: tipping.MARGIN,
    "caster.three": lambda _: 1 / tipping.castor_load_n(1),
    "caster.ex": lambda _: tipping.castor_load_n(510),
    "csu.vol.ex": lambda _: tipping.drawer_volume_mm3(30 * 25.4, 16 * 25.4, 7.125 * 25.4) / MM_PER_FT**3,
    "csu.fill": lambda _: tipping.drawer_fill_kg(MM_PER_FT**3) / 0.45359237,
    "csu.h": lambda _: tipping.COUNTED_HIGH_MM / MM_PER_IN,
    "csu.m": lambda _: tipping.COUNTED_N / N_PER_LBF,
    "csu.strap": lambda _: tipping.STRAP_N / N_PER_LBF,
    "rack.fed": lambda i: [racking.RACK_TEST_N / N_PER_LBF, i["value"][1]],  # its hours are no number of ours
    "niosh.ex1": lambda _: lifting.weight_limit_kg(400, 400, 500, grip=0.9),
    "niosh.LC": lambda _: [lifting.LOAD_CONSTANT_KG, round(lifting.LOAD_CONSTANT_KG / 0.45359237)],
    "sheet.half": lambda _: lifting.lifting_index(42.5, 23),
    "h.precise": lambda i: {
        "rel_cm": [each / 10 for each in heights.surface_height_mm(0, "precise")], "range_cm": i["value"]["range_cm"],
    },  # the range for most people is no number of ours
    "h.light": lambda i: {
        "rel_cm": [each / 10 for each in heights.surface_height_mm(0, "light")], "range_cm": i["value"]["range_cm"],
    },
    # machines, hardware, ISO
    "iso2768.": general_tolerance,
    "iso286.": grade,
    "geo.diag.ex": wet_frame,
    "geo.five.ex": lambda _: 24 * geometry.five_cut_error(0.412, 0.396, 15),
    "geo.bush.ex": lambda _: geometry.bushing_offset_mm(5 / 8, 1 / 4),
    "kerf.ex": lambda _: geometry.strips_across(48, 11.875, 0.125),
    "kerf.ex3": lambda _: geometry.strips_across(1250, 300, 3.2, 10),
    "kerf.thin": lambda i: within(float(tables.saws()["site saw"].kerf_mm) / MM_PER_IN, i),
    "slide.len": lambda _: lengths_of_slides(),
    "cup": lambda i: cup(i),
    "kerf.full": lambda _: float(tables.saws()["table saw"].kerf_mm) / MM_PER_IN,
    "slide.thk": lambda _: float(tables.slides()[SLIDE].thick_mm),
    "slide.space": lambda _: [
        float(tables.slides()[SLIDE].side_least_mm - tables.slides()[SLIDE].thick_mm),
        float(tables.slides()[SLIDE].side_most_mm - tables.slides()[SLIDE].thick_mm),
    ],
    "pin": lambda _: [
        float(getattr(tables.shelf_pins()[SHELF_PIN], each)) for each in ("hole_mm", "spacing_mm", "setback_mm")
    ],
    "pin.us": lambda _: float(tables.shelf_pins()["1/4 inch shelf pin"].hole_mm) / MM_PER_IN,
    "blade.10.depth": lambda _: [
        float(tables.saws()["table saw"].deep_mm or 0) / MM_PER_IN,
        float(tables.saws()["table saw"].deep_tilted_mm or 0) / MM_PER_IN,
    ],
    "dado.set": lambda _: [
        float(tables.saws()["table saw"].dado_least_mm or 0) / MM_PER_IN,
        float(tables.saws()["table saw"].dado_most_mm or 0) / MM_PER_IN,
    ],
    "bit.ply": lambda _: [float(each) / MM_PER_IN for each in tables.router_bits()["plywood bit"].diameters_mm],
    "bit.straight": lambda _: [float(each) / MM_PER_IN for each in tables.router_bits()["straight bit"].diameters_mm],
    "caliper": lambda _: [float(tables.instruments()["calliper"].reads_to_mm), tables.instruments()["calliper"].sd_mm],
    "tape.3m": lambda _: tolerance.tape_limit_mm(3000),
    # tolerances
    "t.ten": lambda _: [tolerance.worst_case_mm([0.1] * 10), tolerance.root_sum_square_mm([0.1] * 10)],
    "gum.h1.u": end_gauge,
    "o.gtc.h1": end_gauge,
    "gum.h1.y": lambda i: i["inputs"]["l_s"][0] + i["inputs"]["d"][0],
    "gum.h2": impedance_parts,
    "o.gtc.h2": lambda i: impedance_parts(i)["R"],
    "jcgm101.rect": lambda _: four_rectangular(),
    "o.unc.h2": impedance,
    "jcgm101.norm": lambda _: [tolerance.root_sum_square_mm([1] * 4), 1.959964 * 2],
    "corr.caliper": lambda _: [
        tolerance.combined_sd([1, 1], [0.05, 0.05], [[1, r], [r, 1]]) for r in (1, 0)
    ],
    "case.open": lambda _: [600 - 2 * 17.8, tolerance.root_sum_square_mm([0.5, 0.1, 0.1])],
    "case.dado": lambda _: tolerance.chance_panel_over_dado(17.6, 18.4, 18.2, 0.05),
    "case.drawers": lambda _: [
        stack([0.2] * 5 + [0.05], [1.0] * 5 + [4.0])
        for stack in (tolerance.worst_case_mm, tolerance.root_sum_square_mm)
    ],
}  # fmt: skip
