"""The tables of the trade: each row sourced, each size possible, each name free of doubt."""

from collections import Counter
from dataclasses import fields
from fractions import Fraction
from importlib.resources import files
from typing import Any

import pytest

from storystick.ground.finding import Broken
from storystick.ground.source import HOW_SAID
from storystick.physics.creep import CREEP_RULES
from storystick.physics.movement import coefficient_from_shrinkage
from storystick.physics.units import MPA_PER_PSI
from storystick.shop import tables
from storystick.shop.tables.reading import rows_of
from storystick.shop.tables.rows import Castor, Dowel, Row, Screw

ROWS = [(name, row) for name, kind in tables.TABLES.items() for row in tables.table(name, kind).values()]
NAMED = [f"{name}: {row.name}" for name, row in ROWS]


def inch(text: str) -> Fraction:
    return Fraction(text) * Fraction(254, 10)


@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=NAMED)
def test_a_row_says_where_it_comes_from_and_how(row: Row):
    assert len(row.source) > 3
    assert row.how in HOW_SAID
    assert str(row.comes_from)
    known = {each.name for each in fields(row)}
    assert set(row.seen) <= known
    # Who has seen everything says read; practice never hides behind a document it has not got.
    if row.source == "common practice, no source":
        assert row.how == "practice"
        assert not row.seen


@pytest.mark.parametrize("row", [row for _, row in ROWS], ids=NAMED)
def test_a_row_holds_sizes_that_can_be(row: Row):
    for name, number in numbers(row):
        assert number >= 0, name
        if name not in MAY_BE_NOTHING:
            assert number > 0, name
        if name.endswith("_mm"):
            assert number < 31_000, name


MAY_BE_NOTHING = {
    "below_mm", "offset_mm", "clamp_min", "setup_min", "each_min", "wait_min", "sd_per_m_mm", "lasting_share",
    "thick_mm",  # a wooden runner stands in a groove
}  # fmt: skip


def numbers(record: Any) -> list[tuple[str, float | Fraction]]:
    found: list[tuple[str, float | Fraction]] = []
    for each in fields(record):
        value = getattr(record, each.name)
        for one in value if isinstance(value, tuple) else (value,):
            if isinstance(one, (int, float, Fraction)) and not isinstance(one, bool):
                found.append((each.name, one))
            elif hasattr(one, "__dataclass_fields__"):
                found += numbers(one)
    return found


@pytest.mark.parametrize("name", list(tables.TABLES))
def test_a_name_means_one_row(name: str):
    rows = tables.table(name, tables.TABLES[name])
    said = Counter(
        " ".join(each.casefold().replace("-", " ").replace("_", " ").split())
        for row in rows.values()
        for each in {row.name, *row.also}
    )
    assert [each for each, count in said.items() if count > 1] == []
    for row in rows.values():
        for each in (row.name, *row.also):
            assert tables.find(rows, each) is row
            assert tables.find(rows, f"  {each.upper()} ") is row


def test_every_table_in_the_folder_is_known():
    lying = {each.name.removesuffix(".toml") for each in files("storystick.shop.tables").iterdir()
             if each.name.endswith(".toml")}  # fmt: skip
    assert lying == set(tables.TABLES)
    for name, kind in tables.TABLES.items():
        assert getattr(tables, name)() is tables.table(name, kind)


def test_names_are_in_small_letters():
    loud = [n for n, row in ROWS if row.name != row.name.lower()]
    assert loud == []


@pytest.mark.parametrize(
    ("said", "meant"),
    [("black walnut", "black walnut"), ("Walnut", "black walnut"), ("hard maple", "sugar maple"),
     ("tulipwood", "yellow poplar"), ("whitewood", "norway spruce"), ("deal", "scots pine")],
)  # fmt: skip
def test_woods_as_people_call_them(said: str, meant: str):
    found = tables.find(tables.woods(), said)
    assert found
    assert found.name == meant


@pytest.mark.parametrize(
    ("said", "meant"),
    [("Baltic birch", "birch plywood"), ("chipboard", "particleboard"), ("melamine", "melamine particleboard"),
     ("medium-density fiberboard", "mdf"), ("medium density fibreboard", "mdf")],
)  # fmt: skip
def test_sheets_on_both_sides_of_the_ocean(said: str, meant: str):
    found = tables.find(tables.panels(), said)
    assert found
    assert found.name == meant


def test_a_slip_of_the_pen_finds_its_neighbour():
    assert tables.find(tables.woods(), "blak walnut") is None
    assert tables.nearest(tables.woods(), "blak walnut")[0] == "black walnut"
    assert tables.nearest(tables.panels(), "brich plywood")[0] == "birch plywood"
    assert tables.nearest(tables.panels(), "qqq") == ()


def test_trade_sizes_are_exact():
    assert tables.screws()["#8 wood screw"].shank_mm == inch("0.164")
    assert tables.slides()["full extension side slide"].thick_mm == Fraction("12.7")
    assert tables.pocket_lengths()["3/4 in stock"].screw_mm == inch("1.25")
    assert tables.router_bits()["plywood bit"].diameters_mm == (inch("15/64"), inch("31/64"), inch("23/32"))


@pytest.mark.parametrize("wood", tables.woods().values(), ids=tables.woods())
def test_a_wood_is_a_wood(wood: Any):
    assert 0.3 < wood.gravity < 0.8
    assert wood.radial_per_percent < wood.tangential_per_percent
    assert wood.radial_shrinkage_percent < wood.tangential_shrinkage_percent
    # The two tables of the handbook are one equation: a slip in either would show.
    for shrinkage, coefficient in (
        (wood.radial_shrinkage_percent, wood.radial_per_percent),
        (wood.tangential_shrinkage_percent, wood.tangential_per_percent),
    ):
        assert coefficient_from_shrinkage(shrinkage) == pytest.approx(coefficient, rel=0.03)
    # Strength and stiffness go with each other, and with weight.
    assert 90 < wood.e_mpa / wood.bending_strength_mpa < 185
    assert 12_500 < wood.e_mpa / wood.gravity < 31_000


@pytest.mark.parametrize("panel", tables.panels().values(), ids=tables.panels())
def test_a_sheet_is_a_sheet(panel: Any):
    assert panel.e_along_low_mpa <= panel.e_along_mpa
    assert panel.e_across_mpa <= panel.e_along_mpa
    assert panel.grain == (panel.e_across_mpa < panel.e_along_mpa)
    assert panel.creep in CREEP_RULES
    assert 350 < panel.density_kg_m3 < 1100
    for each in panel.thickness:
        assert each.least_mm < each.usual_mm <= each.most_mm
        assert each.least_mm < each.nominal_mm <= each.most_mm
    for each in panel.sheet:
        assert each.long_mm >= each.wide_mm


@pytest.mark.parametrize("screw", tables.screws().values(), ids=tables.screws())
def test_a_screw_is_a_screw(screw: Screw):
    assert screw.root_mm <= screw.shank_mm <= screw.thread_mm < screw.head_mm
    assert screw.pilot_soft_mm <= screw.pilot_hard_mm
    if screw.kind != "machine screw":
        assert screw.pilot_hard_mm < screw.thread_mm
    assert screw.clearance_bit_mm > screw.shank_mm * Fraction(97, 100)
    assert list(screw.lengths_mm) == sorted(set(screw.lengths_mm))


def test_a_wood_screw_has_the_shank_of_its_gauge():
    for screw in tables.screws().values():
        if screw.kind == "wood screw":
            assert screw.gauge
            assert screw.shank_mm == inch("0.060") + inch("0.013") * screw.gauge


@pytest.mark.parametrize("castor", tables.castors().values(), ids=tables.castors())
def test_a_castor_stands_taller_than_its_wheel(castor: Castor):
    assert castor.high_mm > castor.wheel_mm
    assert castor.holes_long_mm < castor.plate_long_mm
    assert castor.holes_wide_mm < castor.plate_wide_mm
    assert castor.swivels == (castor.offset_mm > 0)
    assert castor.swivels or not castor.locks


def test_a_slide_leaves_more_room_than_it_is_thick():
    for slide in tables.slides().values():
        assert slide.thick_mm <= slide.side_least_mm < slide.side_most_mm
        assert tables.find(tables.screws(), slide.screws)


def test_a_price_is_of_something_we_know():
    for price in tables.prices().values():
        thing = price.name.removesuffix(f", {price.size}") if price.size else price.name
        rows = tables.table(price.of, tables.TABLES[price.of])
        found = tables.find(rows, thing)
        assert found, f"{price.name} is of no {price.of}"
        assert price.how == "practice"
        if price.of == "panels":
            assert price.size in {each.sold_as for each in getattr(found, "thickness", ())}


def test_a_longer_time_in_clamps_than_open():
    for glue in tables.glues().values():
        assert glue.open_min < glue.closed_min
        assert glue.clamp_min <= glue.full_min
        assert glue.pressure_soft_mpa <= glue.pressure_hard_mpa


def test_a_load_is_given_in_one_way():
    for load in tables.loads().values():
        assert sum(each is not None for each in (load.kpa, load.n_per_mm, load.kg)) == 1
        assert load.lasting_share <= 1


def test_printed_values_that_a_check_will_lean_on():
    # Wood Handbook, FPL-GTR-190 (2010), Tables 5-3b and 13-5 (read), MDF association (read).
    walnut, birch = tables.woods()["black walnut"], tables.woods()["yellow birch"]
    assert (walnut.radial_per_percent, walnut.tangential_per_percent) == (0.0019, 0.00274)
    assert birch.gravity == 0.62
    assert birch.e_mpa / MPA_PER_PSI == pytest.approx(2.01e6, rel=0.002)
    assert tables.panels()["mdf"].e_along_mpa == 2500


def test_nothing_in_the_tables_was_changed_by_who_read_it():
    with pytest.raises(TypeError):
        tables.woods()["oak"] = tables.woods()["white oak"]  # type: ignore[index]


GOOD = """
[[row]]
name = "8 mm dowel"
source = "common practice, no source"
how = "practice"
diameter_mm = "8 mm"
lengths_mm = ["30 mm", "1-1/4 in"]
spare_depth_mm = "1 mm"
"""


def test_a_table_is_read_as_it_stands():
    row = rows_of(GOOD, Dowel)["8 mm dowel"]
    assert row.lengths_mm == (30, inch("1.25"))


@pytest.mark.parametrize(
    ("strike", "put", "says"),
    [
        ('how = "practice"', 'how = "hearsay"', "none of"),
        ('how = "practice"', "", "missing"),
        ('diameter_mm = "8 mm"', 'diameter_mm = "8"', "no unit"),
        ('diameter_mm = "8 mm"', "diameter_mm = 8", "no str"),
        ('diameter_mm = "8 mm"', 'diameter_mm = "8 mm"\ncolour = "red"', "unknown"),
        ('["30 mm", "1-1/4 in"]', '"30 mm"', "no list"),
    ],
)
def test_a_table_that_is_wrong_is_our_own_mistake(strike: str, put: str, says: str):
    with pytest.raises(Broken, match=says):
        rows_of(GOOD.replace(strike, put), Dowel)


def test_two_rows_of_one_name_are_our_own_mistake():
    with pytest.raises(Broken, match="two rows"):
        rows_of(GOOD + GOOD, Dowel)
