"""Textbook sums with one doubtful witness, and a network of two roads, by the product's own posterior."""

from __future__ import annotations

import pytest

from ..verification import Verify
from .test_networks import chance, check, flattened, states

# What is there, its share, how often it shows, how often it shows without, what is printed, within, source.
WITNESSES = [
    pytest.param(0.15, 0.8, 0.2, 0.41, "Tversky and Kahneman, the blue cab (read)", id="cab"),
    pytest.param(
        0.01,
        0.8,
        0.096,
        0.078,
        "Eddy 1982, screening, as often retold (tables read, 7.8 % from memory)",
        id="screening",
    ),
    pytest.param(
        0.0238, 0.85, 0.05, 0.29301854, "solved exercise, screening over 50 (read)", id="screening over 50"
    ),
    pytest.param(
        0.01,
        0.8,
        0.1,
        0.075,
        "Rice, Mathematical Statistics and Data Analysis, example (second-hand)",
        id="radiologist",
    ),
    pytest.param(
        0.005, 0.95, 0.01, 0.32, "newspaper column on a test of 95 % (second-hand)", id="rare and reliable"
    ),
]


@pytest.mark.parametrize(("share", "shows", "shows_without", "printed", "source"), WITNESSES)
def test_one_witness(
    share: float, shows: float, shows_without: float, printed: float, source: str, verify: Verify
) -> None:
    model = flattened(
        {"there": share, "absent": 1 - share}, {"told": lambda key: shows if key == "there" else shows_without}
    )
    check(model, {"told": True}, {"there": printed}, verify, source)


def test_icy_roads(verify: Verify) -> None:
    """Ice makes both drivers crash; that one did makes the other's crash likelier, and dry roads undo it."""
    told, shares = {}, {}
    for name, at in states("icy"):
        told[name], shares[name] = at["icy"], chance(0.7, at["icy"])
    crash = {True: 0.8, False: 0.1}
    model = flattened(
        shares,
        {
            "holmes": lambda key: crash[told[key]],
            "watson": lambda key: crash[told[key]],
            "looked": lambda key: float(told[key]),
        },
    )
    source = "Jensen, An Introduction to Bayesian Networks, icy roads (from memory, to be confirmed)"
    check(model, {}, {"holmes": 0.59, "watson": 0.59}, verify, source)
    check(model, {"watson": True}, {"icy": 0.95}, verify, source)
    check(model, {"watson": True, "looked": False}, {"holmes": 0.1}, verify, source)


def test_rain_that_keeps_the_sprinkler_off(verify: Verify) -> None:
    told, shares = {}, {}
    for name, at in states("rain", "sprinkler"):
        told[name] = at
        shares[name] = chance(0.2, at["rain"]) * chance(0.01 if at["rain"] else 0.4, at["sprinkler"])
    wet = {(True, True): 0.99, (True, False): 0.8, (False, True): 0.9, (False, False): 0.0}
    model = flattened(shares, {"wet": lambda key: wet[told[key]["rain"], told[key]["sprinkler"]]})
    source = "encyclopaedia's example of a Bayesian network, 891/2491 (from memory, to be confirmed)"
    check(model, {"wet": True}, {"rain": 0.3577, "probability": 0.44838}, verify, source)
