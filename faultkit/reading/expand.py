"""Second pass: a type with its sections included and the copies of its parts written out."""

from __future__ import annotations

from collections.abc import Mapping

from faultkit.model.types import Check, Common, EquipmentType, Event, Reading, Remedy
from faultkit.problems import Problem
from faultkit.reading.declare import declare
from faultkit.reading.events import check_event_loops, read_event
from faultkit.reading.mistakes import Mistakes, members, title_of
from faultkit.reading.nodes import Node
from faultkit.reading.readings import check_calculation_loops, read_reading
from faultkit.reading.scopes import Scope, walk
from faultkit.reading.tasks import read_check, read_remedy
from faultkit.reading.tells import read_tells

__all__ = ["check_section", "expand_section", "expand_type"]


def expand_type(
    body: Node, sections: Mapping[str, Node], common: Common, problems: list[Problem]
) -> EquipmentType | None:
    """The type of an ``equipment`` document.

    ``sections`` holds the section documents by name. Mistakes are added to
    ``problems``; with any, the result is None. A mistake within a section is
    the same Problem for every type that includes it.
    """
    mistakes = Mistakes()
    made = _expand(body, body.text("equipment"), sections, common, mistakes)
    problems.extend(mistakes.all())
    return None if mistakes else made


def check_section(body: Node, sections: Mapping[str, Node], common: Common, problems: list[Problem]) -> None:
    """Check a section that nobody includes on its own; what it needs counts as known events."""
    expand_section(body, sections, common, problems)


def expand_section(
    body: Node, sections: Mapping[str, Node], common: Common, problems: list[Problem]
) -> EquipmentType | None:
    """A section on its own, as if it were a type; with mistakes (added to ``problems``) None."""
    mistakes = Mistakes()
    made = _expand(body, body.text("section"), sections, common, mistakes)
    problems.extend(mistakes.all())
    return None if mistakes else made


def _expand(
    body: Node, name: str, sections: Mapping[str, Node], common: Common, mistakes: Mistakes
) -> EquipmentType:
    root = declare(body, sections, mistakes)
    events: dict[str, tuple[Event, Scope]] = {}
    readings: dict[str, tuple[Reading, Scope]] = {}
    checks: dict[str, Check] = {}
    remedies: dict[str, Remedy] = {}
    for scope in walk(root):
        _read_scope(scope, common, events, readings, checks, remedies)
    prefixes = [scope.prefix for scope in walk(root)]
    check_event_loops(events, prefixes)
    check_calculation_loops(readings, prefixes)
    files = [s for s in walk(root) if s.home is None]
    title = body.text("title") or title_of(name)
    return EquipmentType(
        name,
        title,
        body.text("plain") or title.lower(),
        root.states,
        {s.name: s for f in files for s in f.settings.values()},
        {h.name: h for f in files for h in f.house_events.values()},
        dict(root.joins),
        {name: event for name, (event, _) in events.items()},
        {name: reading for name, (reading, _) in readings.items()},
        checks,
        remedies,
        body.at_key("equipment"),
    )


def _read_scope(
    scope: Scope,
    common: Common,
    events: dict[str, tuple[Event, Scope]],
    readings: dict[str, tuple[Reading, Scope]],
    checks: dict[str, Check],
    remedies: dict[str, Remedy],
) -> None:
    """Read the bodies declared in one scope into the maps of the type."""
    rows = read_tells(scope)
    for declared in scope.readings.values():
        reading = read_reading(scope, declared, rows)
        if reading is not None:
            readings[reading.name] = (reading, scope)
    for name, node, where in members(scope.node, "events"):
        event = read_event(scope, name, node, where)
        if event is not None:
            events[event.name] = (event, scope)
    for name, node, where in members(scope.node, "checks"):
        check = read_check(scope, common, name, node, where)
        checks[check.name] = check
    for name, node, where in members(scope.node, "remedies"):
        remedy = read_remedy(scope, common, name, node, where)
        remedies[remedy.name] = remedy
