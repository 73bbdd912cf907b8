"""Checks and remedies."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from faultkit.model.types import Check, Common, Power, Ref, Remedy
from faultkit.problems import Where, did_you_mean
from faultkit.reading.events import read_links
from faultkit.reading.lookup import find_events, find_house, find_observables
from faultkit.reading.mistakes import basis, deprecated, flag, headed, one_word, same_twice, title_of, words
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Scope

__all__ = ["read_check", "read_remedy"]


def read_check(scope: Scope, common: Common, name: str, node: Node, where: Where) -> Check:
    """One check with full names."""
    gives = _observables(scope, node.get("gives"), f"gives of check '{name}'")
    if not gives:
        _empty(scope, node, "gives", where, f"check '{name}' gives no reading")
    return Check(
        name=scope.prefix + name,
        gives=gives,
        outdoors=flag(node.get("outdoors"), scope.mistakes),
        **_work(scope, common, node, where, f"check '{name}'", name),
    )


def read_remedy(scope: Scope, common: Common, name: str, node: Node, where: Where) -> Remedy:
    """One remedy with full names."""
    ends: list[Ref] = []
    for member in words(node.get("ends"), scope.mistakes, "the name of an event"):
        for ref in find_events(scope, member, house=False):
            if ref in ends:
                scope.bad(
                    member.where,
                    f"'{member.value}' stands twice in ends of remedy '{name}'",
                    "each event once",
                )
            else:
                ends.append(ref)
    if not ends:
        _empty(scope, node, "ends", where, f"remedy '{name}' ends nothing")
    leaves = node.get("may_leave")
    return Remedy(
        name=scope.prefix + name,
        ends=tuple(ends),
        parts=tuple(str(n.value) for n in words(node.get("parts"), scope.mistakes, "a part")),
        may_leave=read_links(scope, leaves, f"may_leave of remedy '{name}'", house=False)
        if leaves is not None
        else (),
        disturbs=_observables(scope, node.get("disturbs"), f"disturbs of remedy '{name}'", every_state=True),
        prove=_prove(scope, node.get("prove")),
        **_work(scope, common, node, where, f"remedy '{name}'", name),
    )


def _empty(scope: Scope, node: Node, key: str, where: Where, what: str) -> None:
    # Names that stand there but are wrong have been noted already.
    found = node.get(key)
    if found is None or found.value in (None, [], {}):
        scope.bad(node.keys.get(key, where), what, f"{key}: [<names>]")


def _observables(
    scope: Scope, node: Node | None, place: str, *, every_state: bool = False
) -> tuple[Ref, ...]:
    found: list[Ref] = []
    for member in words(node, scope.mistakes, "the name of a reading"):
        for ref, _ in find_observables(scope, member, every_state=every_state):
            if ref in found:
                scope.bad(member.where, f"'{member.value}' stands twice in {place}", "each reading once")
            else:
                found.append(ref)
    return tuple(found)


def _prove(scope: Scope, node: Node | None) -> tuple[tuple[Ref, str], ...]:
    found: list[tuple[Ref, str]] = []
    for key, member in node.items() if node is not None else ():
        band = one_word(member, scope.mistakes, "the name of a band")
        named = Node(node.at_key(key) if node is not None else member.where, key)
        for ref, bands in find_observables(scope, named, many=False):
            if ref in [r for r, _ in found]:
                scope.bad(named.where, f"'{key}' stands twice in prove", "each reading once")
            elif bands == ():
                scope.bad(
                    named.where, f"reading '{key}' has no bands, so it proves nothing", "a reading with bands"
                )
            elif band and bands is not None and band not in bands:
                scope.bad(member.where, f"no band '{band}' of reading '{key}'", did_you_mean(band, bands))
            else:
                found.append((ref, band))
    return tuple(found)


def _work(scope: Scope, common: Common, node: Node, where: Where, what: str, name: str) -> dict[str, Any]:
    """The fields that checks and remedies share."""
    return {
        "minutes": _minutes(scope, node, where, what),
        "title": headed(scope.label, node.text("title") or title_of(name)),
        "place": _place(scope, node.get("place")),
        "setups": _known(scope, node.get("setups"), common.setups, "setup"),
        "power": _power(scope, node.get("power")),
        "tools": _known(scope, node.get("tools"), common.tools, "tool"),
        "hazards": _known(scope, node.get("hazards"), common.hazards, "hazard"),
        "crew": _crew(scope, node.get("crew"), what),
        "who": node.text("who", "anyone"),
        "steps": tuple(str(n.value) for n in words(node.get("steps"), scope.mistakes, "a step in words")),
        "only_with": find_house(scope, node.get("only_with")),
        "basis": basis(node, scope.source),
        "where": where,
        "deprecated": deprecated(node, scope.prefix),
    }


def _minutes(scope: Scope, node: Node, where: Where, what: str) -> float:
    found = node.get("minutes")
    value = found.value if found is not None else None
    if isinstance(value, (int, float)) and not isinstance(value, bool) and 0.0 < value < float("inf"):
        return float(value)
    scope.bad(
        found.where if found else where,
        f"{what} does not say how many minutes it takes",
        "minutes: a number above 0",
    )
    return 1.0


def _crew(scope: Scope, node: Node | None, what: str) -> int:
    if node is None:
        return 1
    if isinstance(node.value, int) and not isinstance(node.value, bool) and node.value >= 1:
        return node.value
    scope.bad(node.where, f"crew of {what} is no count of people", "a whole number, 1 or more")
    return 1


def _power(scope: Scope, node: Node | None) -> Power:
    if node is None:
        return Power.ANY
    known = [str(p) for p in Power]
    if node.value in known:
        return Power(str(node.value))
    scope.bad(node.where, f"no power state '{node.value}'", did_you_mean(str(node.value), known))
    return Power.ANY


def _place(scope: Scope, node: Node | None) -> str:
    if node is None:
        return ""
    name = one_word(node, scope.mistakes, "the name of a join")
    joins = {j.name for j in scope.file.joins.values() if not j.reverse_of}
    if name and name not in joins:
        scope.bad(
            node.where,
            f"no join '{name}' to a single place",
            f"{did_you_mean(name, joins)}; or no place: at the unit itself",
        )
    return name


def _known(scope: Scope, node: Node | None, known: Mapping[str, object], kind: str) -> tuple[str, ...]:
    members = words(node, scope.mistakes, f"the name of a {kind}")
    same_twice([(str(n.value).strip(), n.where) for n in members], scope.mistakes, f"{kind}s")
    for n in members:
        name = str(n.value).strip()
        if name not in known:
            hint = (
                did_you_mean(name, known)
                if known
                else f"a common file of this catalogue that lists it under {kind}s"
            )
            scope.bad(n.where, f"no {kind} '{name}'", hint)
    return tuple(dict.fromkeys(str(n.value).strip() for n in members))
