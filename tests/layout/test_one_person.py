"""One person at the saws: laws of any layout, on generated casework and on the samples, in shops of several kinds."""

from dataclasses import replace
from fractions import Fraction

import pytest

from bench.casework import casework
from storystick.layout.asking import Asked, Laid, answered, limits_of
from storystick.layout.from_build import lay_out
from storystick.layout.sheets import HASTY
from storystick.layout.told import too_wide
from storystick.model.cutting import Blank, Purpose
from storystick.shop.read import default_shop
from storystick.shop.shop import Shop
from tests.layout import one_person as laws
from tests.layout.one_person import SMALL, TABLE, TRACK
from tests.told import job, sample
from tests.work.by_hand import ply

USUAL = replace(default_shop("mm"), saws=(TABLE, TRACK))
SHOPS = {
    "a table saw and a track saw": USUAL,
    "only a track saw": replace(USUAL, saws=(TRACK,)),
    "a small table saw and a track saw": replace(USUAL, saws=(SMALL, TRACK)),
    "only a table saw": replace(USUAL, saws=(TABLE,)),
    "a helper": replace(USUAL, helpers=1),
    "a weak back": replace(USUAL, lift=Fraction(14)),
}
WEIGHT = Fraction(680 * 18, 10**9)
SEEDS = range(12)


def laid(seed: int, shop: Shop) -> tuple[Laid, tuple[Blank, ...]]:
    problem = casework(seed)
    return answered(problem.blanks, Asked(ply(), problem.sheets, shop, HASTY)), problem.blanks


every_shop = pytest.mark.parametrize("shop", SHOPS.values(), ids=SHOPS)


@every_shop
@pytest.mark.parametrize("seed", SEEDS)
def test_casework_is_cut_as_one_person_can(seed: int, shop: Shop):
    """No factory or rough edge on a part; nothing sized that is too heavy; what the saw can't take is known."""
    found, blanks = laid(seed, shop)
    layout, saw = found.found.layout, shop.saws[0]
    rough = TRACK.kerf if TRACK in shop.saws else saw.kerf
    assert {piece.blank for tree in layout.trees for piece in tree.blanks} | set(layout.unplaced) == {
        blank.key for blank in blanks
    }
    too_small = set()
    for tree in layout.trees:
        assert list(laws.factory_edges(tree, shop.trim)) == []
        assert list(laws.rough_edges(tree, rough)) == []
        if not found.helped:
            assert list(laws.too_heavy(tree, WEIGHT, laws.lifted(shop))) == []
        if saw.kind == "table saw":
            too_small |= laws.beyond(tree, saw)
    assert too_small == laws.numbers_in([too_wide(layout, limits_of(shop))], "wider than the saw takes")
    narrow = set().union(*(laws.narrow_both_sides(tree, limits_of(shop).narrowest_rip) for tree in layout.trees))
    assert narrow == set(found.unsafe)


@pytest.mark.parametrize("name", [name for name in SHOPS if "track" in name or name in ("a helper", "a weak back")])
def test_a_shop_with_a_guided_saw_cuts_every_part_of_any_casework(name: str):
    for seed in SEEDS:
        found, _ = laid(seed, SHOPS[name])
        assert found.found.layout.unplaced == (), seed


def test_a_helper_needs_no_more_rough_cuts_than_one_alone():
    def rough(found: Laid) -> Fraction:
        layout = found.found.layout
        cuts = sum(cut.purpose is Purpose.BREAKDOWN for cut in layout.cuts)
        return Fraction(cuts, len(layout.trees))

    two, one, weak = (
        [laid(seed, shop)[0] for seed in SEEDS] for shop in (SHOPS["a helper"], USUAL, SHOPS["a weak back"])
    )
    assert sum(map(rough, two)) < sum(map(rough, one))
    assert all(rough(a) <= rough(b) for a, b in zip(one, weak, strict=True) if not b.helped and not a.helped)


def test_a_guided_saw_alone_has_no_fence_to_be_too_near():
    for seed in SEEDS:
        found, _ = laid(seed, SHOPS["only a track saw"])
        assert too_wide(found.found.layout, limits_of(SHOPS["only a track saw"])) == ""


SAMPLES = ("alcove-bookcase", "drawer-tower", "lathe-cabinet")
SHOP_TEXTS = {
    "only a track saw": "units: mm\nsaws:\n  track saw: {depth: 55, kerf: 2.2, narrowest: 100}\n",
    "a small table saw": "units: mm\nsaws:\n"
    "  table saw: {rip: 300, crosscut: 300, depth: 80, kerf: 3, narrowest: 50}\n  circular saw: {kerf: 2}\n",
    "a helper": "units: mm\nhelpers: 1\n",
}


@pytest.mark.parametrize("shop", SHOP_TEXTS)
@pytest.mark.parametrize("name", SAMPLES)
def test_the_samples_are_cut_as_one_person_can_in_other_shops(name: str, shop: str):
    done = job(sample(name), SHOP_TEXTS[shop])
    own = done.shop
    outcome = lay_out(done.build, own, patience=HASTY)
    assert outcome.made is not None
    told_of_two = {part for one in outcome.findings if one.code == "for-two" for part in one.about}
    for cutting in outcome.made:
        assert cutting.layout.unplaced == ()
        weight = cutting.stock.thickness.value * Fraction(str(cutting.stock.density)) / 10**9
        ends_only = cutting.stock.form != "sheet"
        saw = next(iter(own.saws_of("table saw")), own.saws[0])
        too_small, narrow = set(), set()
        for tree in cutting.layout.trees:
            assert list(laws.factory_edges(tree, own.trim, ends_only)) == []
            if not told_of_two and cutting.stock.form == "sheet":
                assert list(laws.too_heavy(tree, weight, laws.lifted(own))) == []
            if saw.kind == "table saw":
                too_small |= laws.beyond(tree, saw)
            narrow |= laws.narrow_both_sides(tree, limits_of(own).narrowest_rip)
        assert too_small == laws.numbers_in(cutting.notes, "wider than the saw takes")
        assert narrow == laws.numbers_in(cutting.notes, "on both sides of the blade")
