"""Files that nobody means well with: refused in a bounded number of words, and never with a crash."""

import pytest

from storystick.plan import read_plan
from storystick.shop.read import read_shop

MANY = 20_000
PLANS = {
    "words that mean nothing": "".join(f"name {n}: {n}\n" for n in range(MANY)),
    "names that can't be": "units: inch\nmeasure:\n" + "".join(f"  {n} of: {n}\n" for n in range(MANY)),
    "names given twice": "units: inch\nmeasure:\n"
    + "".join(f"  a{n}: 1\n" for n in range(MANY))
    + "site:\n"
    + "".join(f"  a{n}: 1\n" for n in range(MANY)),
    "a word without end": "u" * 900_000 + ": 1",
    "a name without end": "units: inch\nmeasure:\n  " + "u" * 900 + ": 1",
    "units without end": "units: " + "i" * 900_000,
}
LINES = {
    "sizes that are none": "bits: {straight: [" + "1/x," * MANY + "]}",
    "steps without end": "bits: {straight: [" + "1/64 to 3 by 1/64," * MANY + "]}",
    "prices that are none": "prices:\n" + "".join(f"  a{n}: x\n" for n in range(MANY)),
    "saws that nobody knows": "saws: [" + "frumpet," * MANY + "]",
    "a length without end": "trim: " + "1" * 900_000,
    "a price without end": "prices: {a: " + "1" * 900_000 + "}",
    "a count without end": "helpers: " + "1" * 900_000,
    "a weight without end": "lift: " + "1 " * 400_000,
    "a door without end": "door: " + "1 x " * 200_000,
    "a range without end": "bits: {straight: [" + "1 to " * 150_000 + "]}",
}


def bounded(findings):
    return 1 <= len(findings) <= 210 and all(len(f.says) + len(f.advice) < 1200 and f.place.line >= 1 for f in findings)


@pytest.mark.parametrize("text", PLANS.values(), ids=PLANS.keys())
def test_a_hostile_plan_is_refused_in_few_words(text):
    assert bounded(read_plan(text, "plan.yaml").findings)


@pytest.mark.parametrize("line", LINES.values(), ids=LINES.keys())
def test_a_hostile_shop_file_is_refused_in_few_words(line):
    outcome = read_shop(f"units: inch\n{line}\n", "shop.yaml")
    assert outcome.made is None
    assert bounded(outcome.findings)
