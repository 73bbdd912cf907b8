"""Finding what a name written in a scope means: events, readings, observables, settings, house events."""

from __future__ import annotations

import re

from faultkit.model.types import Ref, Setting
from faultkit.problems import Where, did_you_mean
from faultkit.reading.mistakes import one_word, words
from faultkit.reading.names import Ask, Sort, article, locate
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Declared, Scope

__all__ = [
    "find_event",
    "find_events",
    "find_house",
    "find_observables",
    "find_reading",
    "find_setting",
    "setting_of_join",
]

_PHRASE = re.compile(r"(each\s+)?([^\s]+)(?:\s+in\s+([^\s]+))?")


def _ask(scope: Scope, node: Node, sort: Sort, *, many: bool = False) -> tuple[Ask, str | None] | None:
    """The reference in a node, and its state; None with a mistake noted when it cannot be one."""
    text = one_word(node, scope.mistakes, f"the name of {article(sort)} {sort}")
    if not text:
        return None
    found = _PHRASE.fullmatch(text)
    if found is None or (found[3] and sort is not Sort.READING):
        scope.bad(
            node.where, f"'{text}' is not the name of {article(sort)} {sort}", "a name, or 'each part.name'"
        )
        return None
    return Ask(scope, sort, found[2], node.where, bool(found[1]), many), found[3]


def find_events(scope: Scope, node: Node, *, many: bool = True, house: bool = True) -> tuple[Ref, ...]:
    """The events a text names: several for ``each``; empty with a mistake noted.

    ``house``: whether a house event may stand here.
    """
    asked = _ask(scope, node, Sort.EVENT, many=many)
    refs: list[Ref] = []
    for spot in locate(asked[0]) if asked else ():
        if spot.join is not None:
            refs.append(Ref(spot.name, spot.join.name, bool(spot.join.reverse_of), node.where))
        elif spot.scope is not None and spot.name in spot.scope.needs:
            bound = spot.scope.needs[spot.name]
            if bound is not None:
                refs.append(Ref(bound.name, bound.join, bound.each, node.where))
        elif spot.scope is not None and not house and spot.name in spot.scope.house_events:
            scope.bad(
                node.where,
                f"'{node.value}' is a house event: part of the configuration, no fault",
                "an event",
            )
        elif spot.scope is not None:
            refs.append(Ref(spot.scope.prefix + spot.name, where=node.where))
    return tuple(refs)


def find_event(scope: Scope, node: Node) -> Ref | None:
    """The one event a text names, or None with a mistake noted."""
    return next(iter(find_events(scope, node, many=False)), None)


def find_setting(scope: Scope, node: Node, text: str) -> Setting | None:
    """A setting of this type by name; None with a mistake noted, for a joined unit's too."""
    ask = Ask(scope, Sort.SETTING, text, node.where)
    for spot in locate(ask):
        if spot.scope is not None:
            return spot.scope.settings[spot.name]
        ask.bad(
            f"'{text}' is a setting of a joined unit",
            "a setting of this type; a calculation may use joined ones",
        )
    return None


def setting_of_join(scope: Scope, text: str, where: Where) -> Ref | None:
    """The setting of a joined unit that a text names, or None when it names no such thing."""
    head, _, rest = text.partition(".")
    join = scope.file.joins.get(head)
    return Ref(rest, head, where=where) if join and rest in join.settings and not join.reverse_of else None


def find_house(scope: Scope, node: Node | None) -> tuple[str, ...]:
    """The house events of an ``only_with``: full names."""
    known = scope.file.house_events
    found: list[str] = []
    for member in words(node, scope.mistakes, "the name of a house event"):
        name = str(member.value).strip()
        if name not in known:
            scope.bad(member.where, f"no house event '{name}'", did_you_mean(name, known))
        elif known[name].name in found:
            scope.bad(member.where, f"'{name}' stands twice in only_with", "each once")
        else:
            found.append(known[name].name)
    return tuple(found)


def find_reading(scope: Scope, node: Node) -> Ref | None:
    """The reading a text names (no state), or None with a mistake noted."""
    asked = _ask(scope, node, Sort.READING)
    if asked is None:
        return None
    ask, state = asked
    if state:
        ask.bad(
            f"'{node.value}' names a state", f"'{ask.text}': a calculation takes a reading in its own state"
        )
        return None
    for spot in locate(ask):
        if spot.join is not None:
            return Ref(spot.name, spot.join.name, where=node.where)
        if spot.scope is not None:
            return Ref(spot.scope.prefix + spot.name, where=node.where)
    return None


def find_observables(
    scope: Scope, node: Node, *, many: bool = True, every_state: bool = False
) -> tuple[tuple[Ref, tuple[str, ...] | None], ...]:
    """The observables a text names, each with its bands (None: of a joined unit, not known here).

    A reading without bands is named by itself (no bands). ``every_state``: a bare name of a
    reading with several states means all of them; else it is a mistake. Empty with a mistake noted.
    """
    asked = _ask(scope, node, Sort.READING, many=many)
    found: list[tuple[Ref, tuple[str, ...] | None]] = []
    if asked is None:
        return ()
    ask, state = asked
    for spot in locate(ask):
        if spot.join is not None:
            name = f"{spot.name} in {state}" if state else spot.name
            found.append((Ref(name, spot.join.name, bool(spot.join.reverse_of), node.where), None))
        elif spot.scope is not None:
            for name, bands in _in_state(ask, spot.scope.readings[spot.name], state, every_state=every_state):
                found.append((Ref(spot.scope.prefix + name, where=node.where), bands))
    return tuple(found)


def _in_state(
    ask: Ask, declared: Declared, state: str | None, *, every_state: bool
) -> list[tuple[str, tuple[str, ...] | None]]:
    several = len(declared.states) > 1 and bool(declared.bands)
    if state is not None and state not in declared.states:
        expected = (
            did_you_mean(state, declared.states) if declared.states else f"'{ask.text}' without a state"
        )
        ask.bad(f"reading '{declared.name}' has no state '{state}'", expected)
        return []
    if state is not None and not several:
        why = "one state only" if declared.bands else "no bands: it is the same in every state"
        ask.bad(f"reading '{declared.name}' has {why}", f"'{ask.text}' without 'in {state}'")
        return []
    if several and state is None and not every_state:
        ways = " or ".join(f"'{ask.text} in {s}'" for s in declared.states)
        ask.bad(f"reading '{declared.name}' has several states", ways)
        return []
    if not declared.bands:
        return [(declared.name, () if declared.kind is not None else None)]
    return [(declared.observable(s), b) for s, b in declared.bands.items() if state is None or s == state]
