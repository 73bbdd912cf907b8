"""Parts used, refrigerant moved, food moved or discarded."""

from __future__ import annotations

from faultkit.guide.find import find
from faultkit.guide.session import Ask, Turn
from faultkit.problems import InputError

__all__ = ["food", "part", "refrigerant"]


def _unit(t: Turn, typed: str) -> str:
    return find("unit", typed, {n: u.title for n, u in t.call.site.plan.units.items()})


def part(t: Turn, q: Ask, rest: str) -> None:
    """``rail fan_motor 2``"""
    del q
    words = rest.split()
    if len(words) < 2:
        raise InputError("a part needs its unit and its name", "part rail fan_motor")
    count = int(words.pop()) if len(words) > 2 and words[-1].isdigit() else 1
    t.put(kind="part", unit=_unit(t, words[0]), part="_".join(words[1:]).lower(), count=count)
    t.say("Part recorded.", "good")


def refrigerant(t: Turn, q: Ask, rest: str) -> None:
    """``roof_unit in R-404A 1.2 lb``; a licensed person's work only."""
    del q
    words = rest.split()
    if len(words) < 4 or words[1] not in {"in", "out"}:
        raise InputError("refrigerant needs its unit, in or out, its name and the amount",
                         "refrigerant roof_unit in R-404A 1.2 lb")
    if t.allowed.role != "licensed":
        raise InputError("refused: only a licensed person may move refrigerant",
                         "role licensed, where that is so; law and local code decide")
    unit = _unit(t, words[0])
    t.put(kind="refrigerant", unit=unit, way=words[1], refrigerant=words[2], mass=" ".join(words[3:]))
    t.say(f"Recorded: {' '.join(words[3:])} of {words[2]} {words[1]}", "good")


def food(t: Turn, q: Ask, rest: str) -> None:
    """``discarded two pans of tomatoes``"""
    del q
    action, _, what = rest.partition(" ")
    if action.lower() not in {"moved", "discarded", "kept"} or not what.strip():
        raise InputError("food: what became of it, and which", "food discarded two pans of tomatoes")
    t.put(kind="product", food=what.strip(), action=action.lower())
    t.say(f"Recorded: {what.strip()}: {action.lower()}", "good")
