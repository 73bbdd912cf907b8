"""``tells``: which event brings a reading into which band, and how often."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from faultkit.model.types import Row
from faultkit.problems import did_you_mean
from faultkit.reading.chances import chance, spread
from faultkit.reading.lookup import find_event
from faultkit.reading.mistakes import basis
from faultkit.reading.names import Sort, names_here
from faultkit.reading.nodes import Node
from faultkit.reading.scopes import Scope

__all__ = ["read_tells"]

_LAST = "the last row is '- otherwise: {…}'"


def read_tells(scope: Scope) -> dict[str, tuple[Row, ...]]:
    """The rows of each observable declared in a scope, by its name there."""
    block = scope.node.get("tells")
    home = {name: (d, bands) for d in scope.readings.values() for name, bands in d.observables().items()}
    found: dict[str, tuple[Row, ...]] = {}
    for key, node in block.items() if block is not None else ():
        name = " ".join(key.split())
        if name in home:
            found[name] = _rows(scope, node, home[name][1])
        else:
            _no_home(scope, block, key, name, list(home))
    return found


def _no_home(scope: Scope, block: Node | None, key: str, name: str, home: list[str]) -> None:
    where = block.at_key(key) if block is not None else None
    reading, _, state = name.partition(" in ")
    declared = scope.readings.get(reading)
    if declared is not None and not declared.bands:
        if declared.kind is not None:
            scope.bad(
                where, f"reading '{reading}' has no bands, so it tells nothing", "bands for it, or no tells"
            )
    elif declared is not None:
        ways = " or ".join(f"'{o}'" for o in declared.observables())
        wrong = (
            f"reading '{reading}' has no state '{state}' to tell about"
            if state
            else f"reading '{reading}' has several states"
        )
        if state and len(declared.states) == 1 and state in declared.states:
            wrong = f"reading '{reading}' has one state only"
        scope.bad(where, wrong, ways)
    elif reading.removeprefix("each ") in {
        *names_here(Sort.READING, scope),
        *names_here(Sort.READING, scope, each=True),
    }:
        scope.bad(
            where,
            f"reading '{reading}' is declared elsewhere: two homes for what it tells",
            "its rows in tells of the section, part or equipment that declares it",
        )
    else:
        scope.bad(where, f"no reading '{name}' here", did_you_mean(name, home))


def _rows(scope: Scope, node: Node, bands: Sequence[str]) -> tuple[Row, ...]:
    members = node.list() if node.is_list else []
    last = members[-1] if members else None
    closed = last is not None and last.get("otherwise") is not None
    if not closed:
        scope.bad(last.where if last else node.where, "these rows do not end with 'otherwise'", _LAST)
    # The share of unnamed bands rests on the last row: read it first.
    rest = _chances(scope, last, "otherwise", bands, None) if closed and last is not None else None
    rows: list[Row] = []
    seen: set[str] = set()
    for member in members[:-1] if closed else members:
        if member.get("otherwise") is not None:
            scope.bad(member.at_key("otherwise"), "rows below 'otherwise' would never be read", _LAST)
            continue
        row = _row(scope, member, bands, rest)
        if row is not None and row.event is not None:
            if str(row.event) in seen:
                scope.bad(
                    row.where, f"event '{_key(member)}' stands twice in one tells", "one row for each event"
                )
            seen.add(str(row.event))
            rows.append(row)
    if closed and last is not None and rest is not None:
        rows.append(Row(None, rest, basis(last, scope.source), last.at_key("otherwise")))
    return tuple(rows)


def _key(node: Node) -> str:
    """The event of a row; '' when there is none or more than one."""
    keys = [k for k, _ in node.items() if k != "source"]
    return keys[0] if len(keys) == 1 else ""


def _row(scope: Scope, node: Node, bands: Sequence[str], rest: Sequence[float] | None) -> Row | None:
    key = _key(node)
    if not key:
        scope.bad(node.where, "a row names one event", "- <event>: {<band>: <how often>}")
        return None
    where = node.at_key(key)
    event = find_event(scope, Node(where, key))
    chances = _chances(scope, node, key, bands, rest)
    if event is None or chances is None:
        return None
    return Row(event, chances, basis(node, scope.source), where)


def _chances(
    scope: Scope, node: Node, key: str, bands: Sequence[str], rest: Sequence[float] | None
) -> tuple[float, ...] | None:
    named: dict[int, float] = {}
    body = node.get(key)
    if body is None or not body.is_map:
        scope.bad(
            node.at_key(key),
            f"the row '{key}' does not say how often which band comes",
            "{<band>: <how often>}",
        )
        return None
    extra = [k for k, _ in node.items() if k not in (key, "source")]
    if extra:
        scope.bad(node.at_key(extra[0]), "a row names one event", "a row of its own for each event")
    sure = True
    for band, member in body.items():
        value = chance(member, scope.mistakes)
        if band not in bands:
            scope.bad(body.at_key(band), f"no band '{band}'", did_you_mean(band, bands))
        elif value is not None:
            named[bands.index(band)] = value
        sure = sure and value is not None and band in bands
    return _whole(scope, body, named, bands, rest) if sure else None


def _whole(
    scope: Scope, body: Node, named: Mapping[int, float], bands: Sequence[str], rest: Sequence[float] | None
) -> tuple[float, ...] | None:
    found = spread(named, bands, rest)
    if isinstance(found, str):
        scope.bad(body.where, found, "chances that sum to 1, or some bands left out to share the rest")
        return None
    return found
