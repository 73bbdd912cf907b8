"""Which declarations a written name can mean in a scope."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from faultkit.model.types import Join
from faultkit.problems import Where, did_you_mean
from faultkit.reading.scopes import Part, Scope

__all__ = ["Ask", "Sort", "Spot", "article", "locate", "names_here"]


class Sort(StrEnum):
    """What kind of name is looked for."""

    EVENT = "event"
    READING = "reading"
    SETTING = "setting"


@dataclass(frozen=True, slots=True)
class Ask:
    """A reference as written, and the scope it stands in."""

    scope: Scope
    sort: Sort
    text: str  # without 'each' and 'in <state>'
    where: Where
    each: bool = False
    many: bool = False  # 'each' may be written at this place

    def bad(self, what: str, expected: str = "") -> None:
        """Note a mistake at the reference."""
        self.scope.bad(self.where, what, expected)


@dataclass(frozen=True, slots=True)
class Spot:
    """Where a name is declared: in a scope of this type, or by the unit of a join."""

    name: str
    scope: Scope | None = None
    join: Join | None = None


def _names(sort: Sort, scope: Scope, *, inside: bool) -> list[str]:
    """Names of a sort declared in one scope; needs only for those who stand inside it."""
    if sort is Sort.READING:
        return list(scope.readings)
    if sort is Sort.SETTING:
        return list(scope.settings)
    return [*scope.events, *scope.house_events, *(scope.needs if inside else ())]


def names_here(sort: Sort, scope: Scope, *, each: bool = False) -> list[str]:
    """Every way to write a name of a sort in a scope (with ``each``: only those that need it)."""
    local = [] if each or scope is scope.file else _names(sort, scope, inside=True)
    return list(dict.fromkeys([*local, *_paths(sort, scope.file, each=each, inside=True)]))


def _paths(sort: Sort, file: Scope, *, each: bool, inside: bool) -> Iterator[str]:
    if not each:
        yield from _names(sort, file, inside=inside)
    for part in file.parts.values():
        first = next(iter(part.copies.values()))
        for name in _names(sort, first, inside=True):
            if each and part.copied:
                yield f"{part.name}.{name}"
            elif not each:
                yield from (
                    f"{part.name}.{copy}.{name}" if copy else f"{part.name}.{name}" for copy in part.copies
                )
    for head, section in file.sections.items():
        yield from (f"{head}.{path}" for path in _paths(sort, section, each=each, inside=False))
    for join in file.joins.values():
        if each == bool(join.reverse_of):
            yield from (f"{join.name}.{name}" for name in _listed(sort, join))


def _listed(sort: Sort, join: Join) -> tuple[str, ...]:
    return {Sort.EVENT: join.events, Sort.READING: join.readings, Sort.SETTING: join.settings}[sort]


def locate(ask: Ask) -> list[Spot]:
    """Where the name is declared (several spots for ``each``); empty with a mistake noted."""
    if ask.each and not ask.many:
        ask.bad("'each' cannot stand here", "one name: a single copy, or a gate above all copies")
        return []
    path = ask.text.split(".")
    if len(path) == 1 and not ask.each and path[0] in _names(ask.sort, ask.scope, inside=True):
        return [Spot(path[0], ask.scope)]
    return _descend(ask, ask.scope.file, path, inside=True)


def _descend(ask: Ask, file: Scope, path: list[str], *, inside: bool) -> list[Spot]:
    head, rest = path[0], path[1:]
    if not rest and head in _names(ask.sort, file, inside=inside):
        return [] if _only_one(ask) else [Spot(head, file)]
    if rest and head in file.joins and inside:
        return _joined(ask, file.joins[head], ".".join(rest))
    if rest and head in file.sections:
        return _descend(ask, file.sections[head], rest, inside=False)
    if rest and head in file.parts:
        return _in_part(ask, file.parts[head], rest)
    if rest and head in file.unreadable:
        return []
    return _unknown(ask)


def _in_part(ask: Ask, part: Part, rest: list[str]) -> list[Spot]:
    *copy, name = rest
    first = next(iter(part.copies.values()))
    if name not in _names(ask.sort, first, inside=True):
        return _unknown(ask)
    if part.copied and not copy:
        if ask.each:
            return [Spot(name, scope) for scope in part.copies.values()]
        return _which_copy(ask, part, name)
    one = part.copies.get(".".join(copy)) if part.copied == bool(copy) else None
    if one is None:
        return _unknown(ask)
    return [] if _only_one(ask) else [Spot(name, one)]


def _only_one(ask: Ask) -> bool:
    """Note an ``each`` before something that there is once."""
    if ask.each:
        ask.bad(
            f"'{ask.text}' is one {ask.sort}, 'each' is for all copies of a part",
            f"'{ask.text}' without each",
        )
    return ask.each


def _which_copy(ask: Ask, part: Part, name: str) -> list[Spot]:
    """Note a name that fits several copies, with the three ways to write it."""
    stem, copy = ask.text.removesuffix(f".{name}"), next(iter(part.copies))
    everywhere = f"'each {ask.text}'" if ask.many else f"a gate above 'each {ask.text}'"
    ask.bad(
        f"part '{part.name}' has the copies {', '.join(part.copies)}: '{ask.text}' does not say which one",
        f"'{stem}.{copy}.{name}' for one copy, {everywhere} for all copies, "
        f"or '{name}' inside the part itself for the same copy",
    )
    return []


def _joined(ask: Ask, join: Join, name: str) -> list[Spot]:
    listed = _listed(ask.sort, join)
    if name not in listed:
        hint = did_you_mean(name, listed)
        ask.bad(
            f"'{name}' is not listed in the {ask.sort}s of join '{join.name}'",
            f"{hint}; or list it under joins: {join.name}: {ask.sort}s",
        )
        return []
    if join.reverse_of and not ask.each:
        ask.bad(
            f"join '{join.name}' leads to many units",
            f"'each {ask.text}', in a gate" if not ask.many else f"'each {ask.text}'",
        )
        return []
    if ask.each and not join.reverse_of:
        ask.bad(f"join '{join.name}' leads to one unit", f"'{ask.text}' without each")
        return []
    return [Spot(name, join=join)]


def _unknown(ask: Ask) -> list[Spot]:
    for other in Sort:
        if other is not ask.sort and ask.text in names_here(other, ask.scope):
            ask.bad(
                f"'{ask.text}' is {article(other)} {other}, {article(ask.sort)} {ask.sort} was wanted",
                did_you_mean(ask.text, names_here(ask.sort, ask.scope)),
            )
            return []
    known = names_here(ask.sort, ask.scope, each=ask.each)
    ask.bad(
        f"no {ask.sort} '{ask.text}'" + (" with several copies" if ask.each else ""),
        did_you_mean(ask.text, known),
    )
    return []


def article(sort: Sort) -> str:
    """The article before the word for a sort."""
    return "an" if sort is Sort.EVENT else "a"
