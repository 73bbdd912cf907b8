"""First pass of the expansion: which names a type, its sections and its parts' copies declare."""

from __future__ import annotations

from collections.abc import Mapping

from faultkit.model.types import Ref
from faultkit.problems import Where, did_you_mean
from faultkit.reading.lookup import find_event
from faultkit.reading.mistakes import (
    Mistakes,
    headed,
    lower_first,
    members,
    same_twice,
    texts,
    title_of,
    words,
)
from faultkit.reading.nameplate import declare_nameplate
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Part, Scope, declared_reading, walk

__all__ = ["declare"]

#: Words that mean something else where an event's name stands.
_RESERVED = ("otherwise", "source", "each")


def declare(body: Node, sections: Mapping[str, Node], mistakes: Mistakes) -> Scope:
    """The scope of a type (or of a section on its own, its needs being known events)."""
    scope = Scope("", body, mistakes, body.text("source"), where=body.where)
    own = body.text("section")
    declare_nameplate(scope)
    if own and body.get("joins") is not None:
        mistakes.add(
            body.at_key("joins"), "a section has no joins", "name the events it uses under needs: events"
        )
    scope.needs = {name: Ref(name) for name in _needs(scope)}
    _declare_file(scope, sections, [(own, None)] if own else [])
    _bind(scope)
    _share_states(scope)
    return scope


def _share_states(scope: Scope) -> None:
    """States are one namespace of a type; the includer's words win."""
    states: dict[str, str] = {}
    for each in walk(scope):
        if each.home is None:
            for name, text in texts(each.node.get("states") or Node(each.node.where, {})).items():
                states.setdefault(name, text)
            each.states = states
            below = (f.node.get("states") for f in walk(each) if f.home is None)
            each.own_states = tuple(
                dict.fromkeys(name for s in below if s is not None for name, _ in s.items())
            )


def _needs(scope: Scope) -> dict[str, str]:
    needs = scope.node.get("needs")
    events = needs.get("events") if needs is not None else None
    return dict(texts(events)) if events is not None else {}


def _declare_file(scope: Scope, sections: Mapping[str, Node], stack: list[tuple[str, Node | None]]) -> None:
    _declare_names(scope)
    for name, node, where in members(scope.node, "parts"):
        scope.parts[name] = _declare_part(scope, name, node, where)
    for name, include, where in members(scope.node, "sections"):
        made = _declare_section(scope, name, include, where, sections, stack)
        if made is None:
            scope.unreadable.add(name)
        else:
            scope.sections[name] = made
    _check_clashes(scope)


def _declare_names(scope: Scope) -> None:
    for name, node, where in members(scope.node, "events"):
        scope.events[name] = node
        if name in _RESERVED:
            scope.bad(
                where,
                f"'{name}' cannot name an event",
                "another name: this word has its own meaning in tells and gates",
            )
    for name, node, where in members(scope.node, "readings"):
        scope.readings[name] = declared_reading(name, node, where)


def _check_clashes(scope: Scope) -> None:
    """One name, one meaning in a scope."""
    kinds = ("joins", "sections", "parts", "settings", "house_events", "events", "readings")
    named = [
        (name, where, key.rstrip("s").replace("_", " "))
        for key in kinds
        for name, _, where in members(scope.node, key)
    ]
    needs = scope.node.get("needs")
    named += (
        [(name, where, "need") for name, _, where in members(needs, "events")] if needs is not None else []
    )
    seen: dict[str, str] = {}
    for name, where, kind in sorted(named, key=lambda n: (n[1].line, n[1].column)):
        if name in seen:
            scope.bad(
                where,
                f"'{name}' is already {_an(seen[name])} here, it cannot also be {_an(kind)}",
                "a name of its own",
            )
        seen.setdefault(name, kind)


def _an(kind: str) -> str:
    return f"an {kind}" if kind[0] in "aeiou" else f"a {kind}"


def _declare_part(file: Scope, name: str, node: Node, where: Where) -> Part:
    copies = words(node.get("copies"), file.mistakes, "the name of a copy")
    names = [(str(n.value).strip(), n.where) for n in copies]
    same_twice(names, file.mistakes, f"copies of part '{name}'")
    if node.get("copies") is not None and not names:
        file.bad(
            node.at_key("copies"), f"part '{name}' has no copy", "names of the copies, or leave copies out"
        )
    title = node.text("title") or title_of(name)
    part = Part(name)
    for copy in dict.fromkeys(n for n, _ in names) or [""]:
        label, spoken = _labels(file, copy, title)
        prefix = f"{file.prefix}{name}.{copy}." if copy else f"{file.prefix}{name}."
        scope = Scope(
            prefix, node, file.mistakes, node.text("source") or file.source, label, spoken, file, where
        )
        _declare_names(scope)
        _check_clashes(scope)
        part.copies[copy] = scope
    return part


def _labels(file: Scope, copy: str, title: str) -> tuple[str, str]:
    """What stands before the titles, and before the customer's words, of a part or one copy of it."""
    if not copy:
        return headed(file.label, title), file.spoken
    label = f"{title_of(copy)} {lower_first(title)}"
    # A copy named by a letter stays a capital: 'a fan' would be any fan.
    low = label if len(copy) == 1 else lower_first(label)
    spoken = f"{file.spoken}: {low}" if file.spoken else low
    return (f"{file.label}: {low}" if file.label else label), spoken


def _declare_section(
    parent: Scope,
    name: str,
    include: Node,
    where: Where,
    sections: Mapping[str, Node],
    stack: list[tuple[str, Node | None]],
) -> Scope | None:
    use = include.get("use")
    used = str(use.value) if use is not None else ""
    body = sections.get(used)
    if use is None:
        parent.bad(
            where, f"section '{name}' does not say which section it uses", "{use: <name of a section>}"
        )
        return None
    if body is None:
        parent.bad(use.where, f"no section '{used}' in this catalogue", did_you_mean(used, sections))
        return None
    path = [*stack, (used, use)]
    if used in [n for n, _ in stack]:
        _cycle(parent, path)
        return None
    title = include.text("title")
    label = headed(parent.label, title) if title else parent.label
    spoken = lower_first(label) if title else parent.spoken
    scope = Scope(
        f"{parent.prefix}{name}.", body, parent.mistakes, body.text("source"), label, spoken, where=where
    )
    declare_nameplate(scope, parent, include)
    # Unbound for now: they are bound when every name of the type is known.
    scope.needs = dict.fromkeys(_needs(scope))
    _declare_file(scope, sections, path)
    return scope


def _cycle(scope: Scope, path: list[tuple[str, Node | None]]) -> None:
    """Note a ring of sections, the same words whichever of them was read first."""
    start = next(i for i, (name, _) in enumerate(path) if name == path[-1][0])
    ring = path[start + 1 :]
    first = min(range(len(ring)), key=lambda i: ring[i][0])
    ring = ring[first:] + ring[: first + 1]
    use = ring[0][1]
    shown = " → ".join(name for name, _ in ring)
    scope.bad(
        use.where if use else None,
        f"sections include each other in a ring: {shown}",
        "one of these includes must go",
    )


def _bind(scope: Scope) -> None:
    """Bind the needs of the sections below, from the top down: a need may be bound to a need."""
    for name, include, where in members(scope.node, "sections"):
        section = scope.sections.get(name)
        if section is not None:
            _bind_needs(scope, section, include, where)
            _bind(section)


def _bind_needs(parent: Scope, section: Scope, include: Node, where: Where) -> None:
    bound = include.get("events")
    if bound is not None:
        for name in bound.value if bound.is_map else ():
            if name not in section.needs:
                parent.bad(
                    bound.at_key(name),
                    f"the section needs no event '{name}'",
                    did_you_mean(name, section.needs),
                )
    for name in section.needs:
        node = bound.get(name) if bound is not None else None
        if node is None:
            text = _needs(section)[name]
            parent.bad(
                where,
                f"the section needs an event for '{name}' ({text})",
                f"events: {{{name}: <an event here>}}",
            )
        else:
            section.needs[name] = find_event(parent, node)
