"""Sampling of numbers: every leaf drawn many times, every expression reckoned on whole arrays."""

import hashlib
from collections.abc import Mapping

import numpy as np
from numpy.typing import NDArray

from storystick.ground.dim import Dim, Leaf, Named, Op, walk

type Draws = NDArray[np.float64]


def _leaf(leaf: Leaf, value: float, draws: int, seed: int) -> Draws:
    if leaf.spread is None or leaf.spread.sd == 0:
        return np.full(draws, value)
    key = hashlib.sha256(f"{seed}|{leaf.key}".encode()).digest()[:8]
    chance = np.random.Generator(np.random.PCG64(int.from_bytes(key, "big")))
    sd = leaf.spread.sd
    match leaf.spread.shape:
        case "normal":
            return value + sd * chance.standard_normal(draws)
        case "rectangular":
            half = sd * 3**0.5
            return value + chance.uniform(-half, half, draws)
        case "triangular":
            half = sd * 6**0.5
            return value + chance.triangular(-half, 0.0, half, draws)


def _op(op: Op, terms: list[Draws]) -> Draws:
    match op.sign:
        case "+":
            return terms[0] + terms[1]
        case "-":
            return terms[0] - terms[1]
        case "*":
            return terms[0] * terms[1]
        case "/":
            return terms[0] / terms[1]
        case "min":
            return np.asarray(np.minimum.reduce(terms))
        case "max":
            return np.asarray(np.maximum.reduce(terms))
        case "sqrt":
            return np.sqrt(terms[0])
        case "sin":
            return np.sin(terms[0])
        case "cos":
            return np.cos(terms[0])
        case "tan":
            return np.tan(terms[0])


def drawn(dims: Mapping[str, Dim], draws: int, seed: int = 0) -> dict[str, object]:
    """Arrays of `draws` floats for each named number. Source: JCGM 101:2008 (GUM supplement 1), clause 7."""
    made: dict[int, Draws] = {}
    by_key: dict[str, Draws] = {}
    for dim in walk(*dims.values()):
        node = dim.node
        if isinstance(node, Op):
            made[id(dim)] = _op(node, [made[id(t)] for t in node.terms])
        elif isinstance(node, Named):
            made[id(dim)] = made[id(node.by)]
        else:
            if node.key not in by_key or not dim.power:
                by_key[node.key] = _leaf(node, float(dim.value), draws, seed)
            made[id(dim)] = by_key[node.key]
    return {name: made[id(dim)] for name, dim in dims.items()}
