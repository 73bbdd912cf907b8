"""Frequency words, numbers and percents, and how a row's chances are shared among its bands."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from math import fsum

from faultkit.model.types import Prior
from faultkit.model.words import CHANCE_WORDS, HOW_COMMON_WORDS, SEASONS
from faultkit.problems import did_you_mean
from faultkit.reading.mistakes import Mistakes
from faultkit.reading.nodes import Node

__all__ = ["TOLERANCE", "chance", "other_share", "prior", "share", "spread", "strength"]

_PERCENT = re.compile(r"(\d+(?:\.\d+)?(?:[eE][-+]?\d+)?)\s*%")

#: How far the chances that an author writes may miss the sum 1, and the
#: smallest chance that is not ``never`` (so that rounding makes no logic).
TOLERANCE = 1e-9


def share(node: Node) -> float | None:
    """A number or percent as a fraction; None for anything else."""
    value = node.value
    if isinstance(value, bool):
        return None
    if isinstance(value, (int, float)):
        return float(value)
    found = _PERCENT.fullmatch(value.strip()) if isinstance(value, str) else None
    return float(found[1]) / 100.0 if found else None


def _inside(node: Node, value: float, mistakes: Mistakes, instead: str, margin: float = 0.0) -> float | None:
    if margin < value < 1.0 - margin:
        return value
    near = f"closer than {margin:g} to 0 or 1" if 0.0 < value < 1.0 else "not strictly between 0 and 1"
    mistakes.add(node.where, f"'{node.value}' is {near}", instead)
    return None


def _word(node: Node, known: Mapping[str, float], mistakes: Mistakes, kind: str) -> float | None:
    if isinstance(node.value, str) and node.value in known:
        return known[node.value]
    shown = f"'{node.value}'" if not (node.is_map or node.is_list) else "this"
    hint = did_you_mean(str(node.value), known)
    mistakes.add(
        node.where, f"{shown} is not {kind}", f"{hint}; or a number between 0 and 1, or a percent like 85 %"
    )
    return None


def chance(node: Node, mistakes: Mistakes) -> float | None:
    """A chance of a band or link: exactly 1.0 or 0.0 only for ``always`` and ``never``."""
    number = share(node)
    if number is None:
        return _word(node, CHANCE_WORDS, mistakes, "a frequency word")
    return _inside(
        node,
        number,
        mistakes,
        "write never or always (only these words are logic), or a number between 0 and 1",
        TOLERANCE,
    )


def strength(node: Node, mistakes: Mistakes) -> float | None:
    """How strongly a cause acts: above 0."""
    found = chance(node, mistakes)
    if found == 0.0:
        mistakes.add(node.where, "a cause that never acts is no cause", "leave it out")
        return None
    return found


def _frequency(node: Node, mistakes: Mistakes) -> float | None:
    number = share(node)
    if number is None:
        return _word(node, HOW_COMMON_WORDS, mistakes, "a word for how common a fault is")
    return _inside(node, number, mistakes, "a share of units strictly between 0 and 1")


def prior(node: Node, mistakes: Mistakes) -> Prior | None:
    """A ``how_common``: one frequency, or one for each season named plus ``otherwise``."""
    if not node.is_map:
        value = _frequency(node, mistakes)
        return None if value is None else Prior(value)
    seasons: dict[str, float] = {}
    for name, member in node.items():
        if name not in SEASONS and name != "otherwise":
            mistakes.add(
                node.at_key(name), f"no season '{name}'", did_you_mean(name, [*SEASONS, "otherwise"])
            )
            continue
        value = _frequency(member, mistakes)
        if value is not None:
            seasons[name] = value
    if node.get("otherwise") is None:
        mistakes.add(
            node.where,
            "how_common by season has no 'otherwise'",
            "otherwise: <how common in the other seasons>",
        )
    if "otherwise" not in seasons:
        return None
    return Prior(seasons.pop("otherwise"), seasons)


def other_share(node: Node, mistakes: Mistakes) -> float | None:
    """The ``other`` of a gate: a number or percent strictly between 0 and 1."""
    number = share(node)
    if number is None:
        mistakes.add(
            node.where, f"'{node.value}' is not a share", "a percent like 5 %, or a number between 0 and 1"
        )
        return None
    return _inside(
        node, number, mistakes, "to say that there are no other causes, write complete: <the reason>"
    )


def spread(
    named: Mapping[int, float], bands: Sequence[str], otherwise: Sequence[float] | None
) -> tuple[float, ...] | str:
    """The chances of all bands of a row, or what is wrong with the named ones.

    ``named`` maps band index → chance. The bands not named share the rest in
    proportion to their chances in ``otherwise``; evenly when these are all zero,
    and in the ``otherwise`` row itself (``otherwise`` None). So a band that
    ``otherwise`` never sees gets nothing while another band takes the rest.
    The result sums to 1; it holds an exact 1.0 or 0.0 only where always and
    never (here or in ``otherwise``) leave nothing else.
    """
    total = fsum(named.values())
    left = [i for i in range(len(bands)) if i not in named]
    certain = 1.0 in named.values()
    if total > 1.0 + TOLERANCE or (certain and total > 1.0):
        return f"the chances named in this row sum to {total:.6g}, over 1"
    if not left:
        if abs(total - 1.0) > TOLERANCE:
            return f"all bands are named and their chances sum to {total:.6g}, not 1"
        return tuple(named[i] / total for i in range(len(bands)))
    rest = 1.0 - total
    if certain:
        rest = 0.0
    elif rest <= TOLERANCE:
        missing = ", ".join(bands[i] for i in left)
        return f"the chances named in this row sum to 1 and leave nothing for {missing}"
    weights = {i: otherwise[i] if otherwise else 1.0 for i in left}
    if not any(weights.values()):
        weights = dict.fromkeys(left, 1.0)
    scale = fsum(weights.values())
    return tuple(named[i] if i in named else rest * weights[i] / scale for i in range(len(bands)))
