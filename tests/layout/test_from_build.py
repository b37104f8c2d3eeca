"""From a build to its layouts: what is cut from what, and what can't be."""

from dataclasses import replace
from fractions import Fraction

from storystick.ground.length import INCH, Manner
from storystick.layout.asking import kerf_of, limits_of
from storystick.layout.blanks import blanks_of
from storystick.layout.from_build import lay_out
from storystick.layout.sheets import HASTY
from storystick.layout.sold import guess, sold
from storystick.model.build import Build
from storystick.model.stock import SoldAs
from storystick.model.work import Cutting
from storystick.shop.read import default_shop
from storystick.shop.shop import OnHand, Saw, Shop
from tests.work.by_hand import board, case, joined, mm, piece, ply

SHOP = default_shop("mm")


def laid(build: Build, shop: Shop = SHOP) -> tuple[Cutting, ...]:
    made = lay_out(build, shop, patience=HASTY).made
    assert made is not None
    return made


def cut_pieces(cutting: Cutting) -> dict[str, tuple[Fraction, Fraction]]:
    return {
        piece.blank: (piece.wide, piece.long) if piece.turned else (piece.long, piece.wide)
        for tree in cutting.layout.trees
        for piece in tree.blanks
    }


def test_every_part_comes_out_of_its_stock_at_its_size():
    (cutting,) = laid(case())
    pieces = cut_pieces(cutting)
    assert set(pieces) == {part.name for part in case().parts}
    for part in case().parts:
        long, wide = pieces[part.name]
        assert 0 <= long - part.length.value <= Fraction(1, 160)
        assert 0 <= wide - part.width.value <= Fraction(1, 160)


def test_the_kerf_is_that_of_the_table_saw():
    assert kerf_of(SHOP) == 3
    assert kerf_of(replace(SHOP, saws=tuple(s for s in SHOP.saws if s.kind != "table saw"))) == Fraction("2.2")
    assert laid(case())[0].kerf == 3


def test_the_saw_and_the_back_set_the_limits():
    # The usual metric shop: 630 to the fence, 600 across, 50 mm strips at least, 23 kg for one; a helper doubles it.
    limits = limits_of(SHOP)
    assert (limits.rip_capacity, limits.crosscut_capacity, limits.narrowest_rip, limits.heaviest) == (630, 600, 50, 23)
    assert limits_of(replace(SHOP, helpers=1)).heaviest == 46


def test_a_part_cut_to_fit_later_comes_off_larger():
    part = board("case.front", (0, 0, 0), (500, 18, 150), "xzy", fit_to="case.drawer 1")
    (blank,) = blanks_of(piece(part), part.stock)
    assert (blank.long, blank.wide) == (506, 156)
    (inch,) = blanks_of(piece(part, manner=Manner("inch")), part.stock)
    assert inch.long == 500 + INCH / 4


def test_layers_come_off_larger_and_one_by_one():
    part = board("top.slab", (0, 0, 0), (1000, 600, 36), layers=2)
    blanks = blanks_of(piece(part), part.stock)
    assert [(blank.key, blank.long, blank.wide) for blank in blanks] == [
        ("top.slab #1", 1012, 612),
        ("top.slab #2", 1012, 612),
    ]
    upper, lower = board("top.a", (0, 0, 18), (1000, 600, 18)), board("top.b", (0, 0, 0), (1000, 600, 18))
    glued = piece(upper, lower, joints=(joined("top.a", "top.b", 2, -1),))
    assert {blank.long for blank in blanks_of(glued, upper.stock)} == {Fraction(1012)}


def test_the_face_grain_is_kept_unless_the_part_may_turn():
    fixed, free = board("case.a", (0, 0, 0), (500, 300, 18)), board("case.b", (0, 0, 0), (500, 300, 18), turnable=True)
    assert [blank.along_grain for blank in blanks_of(piece(fixed, free), fixed.stock)] == [True, None]
    plain = ply(grain=False)
    assert blanks_of(piece(board("case.a", (0, 0, 0), (500, 300, 18), stock=plain)), plain)[0].along_grain is None


def test_fronts_above_one_another_follow_each_other_across_one_strip():
    fronts = [board(f"case.front {n}", (0, 0, 200 * n), (500, 18, 190), "xzy", match="fronts") for n in (2, 0, 1)]
    blanks = blanks_of(piece(*fronts), fronts[0].stock)
    assert [(blank.strip, blank.place, blank.strip_across) for blank in blanks] == [
        ("fronts", 2, True),
        ("fronts", 0, True),
        ("fronts", 1, True),
    ]


def test_fronts_side_by_side_follow_each_other_along_one_strip():
    fronts = [board(f"case.front {n}", (510 * n, 0, 0), (500, 18, 190), "xzy", match="fronts") for n in (0, 1)]
    assert [blank.strip_across for blank in blanks_of(piece(*fronts), fronts[0].stock)] == [False, False]


def test_a_part_larger_than_any_sheet_is_told_and_a_larger_sheet_clears_it():
    large = board("case.back", (0, 0, 0), (2500, 800, 18))
    outcome = lay_out(piece(large), SHOP, patience=HASTY)
    (finding,) = outcome.findings
    assert finding.code == "no-stock-so-large"
    assert "2512 mm" in finding.advice  # 2500 and 6 mm of trim at both ends
    stock = ply(sizes=(SoldAs(Fraction(2512), Fraction(1220), Fraction(90), called="longer"),))
    findings = lay_out(piece(replace(large, stock=stock)), SHOP, patience=HASTY).findings
    assert "no-stock-so-large" not in [finding.code for finding in findings]


def test_a_part_that_is_too_heavy_for_one_is_cut_by_two():
    # 2.4 x 1.0 x 0.018 m at 680 kg/m3: 29 kg, and the sheet can't be made smaller first
    large = board("case.back", (0, 0, 0), (2400, 1000, 18))
    outcome = lay_out(piece(large), SHOP, patience=HASTY)
    assert outcome.made is not None
    assert not outcome.made[0].layout.unplaced
    (finding,) = outcome.findings
    assert finding.code == "for-two"
    assert round(float(finding.number or 0)) == 29
    assert lay_out(piece(large), replace(SHOP, helpers=1), patience=HASTY).findings == ()


def test_a_stock_that_is_used_up_is_told():
    stock = ply(sizes=(SoldAs(Fraction(800), Fraction(500), Fraction(0), 1, True, "offcut"),), grain=False)
    parts = [board(f"case.p{n}", (0, 0, 0), (700, 400, 18), stock=stock) for n in range(2)]
    build = piece(*parts)
    # with nothing to buy the usual sheets are taken, so nothing is used up
    assert lay_out(build, SHOP, patience=HASTY).findings == ()
    limited = replace(stock, sizes=(SoldAs(Fraction(800), Fraction(500), Fraction(9), 1, False, "last one"),))
    outcome = lay_out(piece(*(replace(p, stock=limited) for p in parts)), SHOP, patience=HASTY)
    assert [finding.code for finding in outcome.findings] == ["stock-used-up"]


def test_the_rack_comes_first():
    rack = OnHand("offcut", "birch plywood", Fraction(800), Fraction(500), Fraction(18))
    part = board("case.p", (0, 0, 0), (700, 400, 18))
    (cutting,) = laid(piece(part), replace(SHOP, on_hand=(rack,)))
    (tree,) = cutting.layout.trees
    assert tree.sheet.on_hand
    assert cutting.layout.cost == 0


def test_an_offcut_of_another_thickness_stays_on_the_rack():
    rack = OnHand("offcut", "birch plywood", Fraction(800), Fraction(500), Fraction(12))
    part = board("case.p", (0, 0, 0), (700, 400, 18))
    (cutting,) = laid(piece(part), replace(SHOP, on_hand=(rack,)))
    assert not cutting.layout.trees[0].sheet.on_hand


def test_a_stock_without_sizes_gets_the_usual_ones_and_says_so():
    stock = ply(sizes=())
    part = board("case.p", (0, 0, 0), (700, 400, 18), stock=stock)
    had = sold(stock, piece(part), SHOP, blanks_of(piece(part), stock))
    assert any("usually sold" in note for note in had.notes)
    assert guess(stock) == 88  # the table's guess for a sheet 4 ft x 8 ft of 18 mm
    whole = next(sheet for sheet in had.sheets if sheet.name == "2440 mm x 1220 mm")
    # by area: 2440 x 1220 of 2438.4 x 1219.2
    assert whole.price == 88 * Fraction(2440 * 1220) / (96 * INCH * 48 * INCH)


def test_edging_is_cut_by_length():
    strip = ply(
        name="edging",
        form="strip",
        material="sugar maple",
        width=mm(20),
        thickness=mm(6),
        nominal=mm(6),
        sizes=(SoldAs(Fraction(2400), None, Fraction(9), called="2400"),),
    )
    parts = [board(f"top.edge {n}", (0, 0, 0), (1000, 20, 6), stock=strip) for n in range(3)]
    (cutting,) = laid(piece(*parts))
    # 2400 less 6 mm at each end holds two of 1000; three need two strips
    assert len(cutting.layout.trees) == 2
    assert cutting.layout.cost == 18


def test_boards_of_solid_wood_are_ripped_and_crosscut():
    wood = ply(
        name="maple",
        form="board",
        material="sugar maple",
        solid=True,
        sizes=(SoldAs(Fraction(2400), Fraction(150), Fraction(30), called="150 x 2400"),),
    )
    parts = [board(f"case.rail {n}", (0, 0, 0), (700, 70, 18), stock=wood) for n in range(4)]
    (cutting,) = laid(piece(*parts))
    assert len(cutting.layout.trees) == 1  # two rails side by side: 70 + 3 + 70 = 143 of 150


def test_a_sheet_too_heavy_for_one_is_broken_down_first():
    from storystick.model.cutting import Purpose

    heavy = piece(*case().parts)  # a sheet of 18 mm: 2.44 x 1.22 x 0.018 x 680 = 36 kg
    assert any(cut.purpose is Purpose.BREAKDOWN for cut in laid(heavy)[0].layout.cuts)
    strong = replace(SHOP, lift=Fraction(80), saws=(Saw("track saw", "track saw", Fraction("2.2")),))
    assert not any(cut.purpose is Purpose.BREAKDOWN for cut in laid(heavy, strong)[0].layout.cuts)


def test_who_waits_hears_how_far_it_is():
    heard: list[float] = []
    lay_out(case(), SHOP, patience=HASTY, tell=lambda says, share: heard.append(share))
    assert heard
    assert all(0 <= share <= 1 for share in heard)
