"""Who refers to whom in a book, and the part of a book under one event."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from typing import TypeVar

from faultkit.problems import InputError, did_you_mean
from faultkit.reports.tree.book import Book, Cause, Ruler, Task

__all__ = ["Cross", "Sight", "cross", "under"]

T = TypeVar("T")


@dataclass(frozen=True, slots=True)
class Sight:
    """A row that tells of an event: in which reading, and how the bands come then."""

    reading: str
    ruler: Ruler
    number: int
    chances: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class Cross:
    """Cross references by name; what has none is missing."""

    effects: Mapping[str, tuple[Cause, ...]]         # event → events it is a cause of
    sights: Mapping[str, tuple[Sight, ...]]          # event → rows that tell of it
    checks: Mapping[str, tuple[str, ...]]            # reading → checks that give it, also through a calculation
    remedies: Mapping[str, tuple[str, ...]]          # event → remedies that end it, quickest first
    left_by: Mapping[str, tuple[Cause, ...]]         # event → remedies that may leave it
    feeds: Mapping[str, tuple[str, ...]]             # reading → readings calculated from it
    proves: Mapping[str, tuple[str, ...]]            # reading → remedies it proves
    sources: Mapping[str, tuple[tuple[str, str], ...]]   # source → (kind, name) of what names it


def cross(book: Book) -> Cross:
    """All cross references of a book."""
    effects: dict[str, list[Cause]] = defaultdict(list)
    sights: dict[str, list[Sight]] = defaultdict(list)
    for item in book.events.values():
        for cause in item.below:
            effects[cause.event].append(Cause(item.name, cause.strength))
    feeds: dict[str, list[str]] = defaultdict(list)
    for reader in book.readings.values():
        for ruler in reader.rulers:
            for n, row in enumerate(ruler.rows):
                if row.event is not None:
                    sights[row.event].append(Sight(reader.name, ruler, n, row.chances))
        for given in dict.fromkeys(reader.inputs.values()):
            if given in book.readings:
                feeds[given].append(reader.name)
    remedies, left_by, proves = _ends(book)
    return Cross(
        _frozen(effects), _frozen(sights), _frozen(_givers(book, feeds)), _frozen(remedies), _frozen(left_by),
        _frozen(feeds), _frozen(proves), _sources(book),
    )


def _frozen(found: Mapping[str, list[T]]) -> dict[str, tuple[T, ...]]:
    return {name: tuple(dict.fromkeys(many)) for name, many in found.items()}


def _ends(book: Book) -> tuple[dict[str, list[str]], dict[str, list[Cause]], dict[str, list[str]]]:
    remedies: dict[str, list[str]] = defaultdict(list)
    left_by: dict[str, list[Cause]] = defaultdict(list)
    proves: dict[str, list[str]] = defaultdict(list)
    for task in sorted(book.remedies.values(), key=lambda t: (t.source.minutes, t.name)):
        for event in task.ends:
            remedies[event].append(task.name)
        for cause in task.may_leave:
            left_by[cause.event].append(Cause(task.name, cause.strength))
        for observable, _ in task.prove:
            proves[book.reading_of(observable)].append(task.name)
    return remedies, left_by, proves


def _givers(book: Book, feeds: Mapping[str, list[str]]) -> dict[str, list[str]]:
    givers: dict[str, list[str]] = defaultdict(list)
    for task in book.checks.values():
        todo = [book.reading_of(g) for g in task.gives]
        seen: set[str] = set()
        while todo:
            reading = todo.pop(0)
            if reading not in seen:
                seen.add(reading)
                givers[reading].append(task.name)
                todo += feeds.get(reading, [])
    return givers


def _sources(book: Book) -> dict[str, tuple[tuple[str, str], ...]]:
    found: dict[str, list[tuple[str, str]]] = defaultdict(list)
    for source, kind, name in _named(book):
        found[source].append((kind, name))
    # The source named least often says most about its number.
    counted = {source: tuple(dict.fromkeys(many)) for source, many in found.items()}
    return dict(sorted(counted.items(), key=lambda kv: (len(kv[1]), kv[0])))


def _named(book: Book) -> Iterator[tuple[str, str, str]]:
    for item in book.events.values():
        if item.event is not None and item.event.basis:
            yield item.event.basis.source, "event", item.name
    for reader in book.readings.values():
        bases = [reader.reading.basis] if reader.reading else []
        for ruler in reader.rulers:
            bases += [c.basis for c in ruler.cuts] + [r.basis for r in ruler.rows]
        for basis in bases:
            if basis:
                yield basis.source, "reading", reader.name
    for kind, tasks in (("check", book.checks), ("remedy", book.remedies)):
        for task in tasks.values():
            if task.source.basis:
                yield task.source.basis.source, kind, task.name


def under(book: Book, event: str) -> Book:
    """The book of one event as top: what it stands on, readings that tell of it, checks and remedies.

    InputError for an event the book does not have.
    """
    if event not in book.events:
        raise InputError(f"event '{event}' is not known in '{book.name}'", did_you_mean(event, book.events))
    kept = _reached(book, event)
    readings = {
        r.name for r in book.readings.values() if any(row.event in kept for ruler in r.rulers for row in ruler.rows)
    }
    todo = list(readings)
    while todo:
        for given in book.readings[todo.pop()].inputs.values():
            if given in book.readings and given not in readings:
                readings.add(given)
                todo.append(given)
    return replace(
        book,
        events={n: e for n, e in book.events.items() if n in kept},
        readings={n: r for n, r in book.readings.items() if n in readings},
        checks=_tasks(book.checks.values(), lambda t: any(book.reading_of(g) in readings for g in t.gives)),
        remedies=_tasks(book.remedies.values(), lambda t: any(e in kept for e in t.ends)),
        top=event,
    )


def _reached(book: Book, event: str) -> set[str]:
    kept: set[str] = set()
    todo = [event]
    while todo:
        name = todo.pop()
        if name not in kept:
            kept.add(name)
            item = book.events[name]
            todo += [*(c.event for c in item.below), *(h for h in item.only_with if h in book.events)]
    return kept


def _tasks(tasks: Iterable[Task], wanted: Callable[[Task], bool]) -> dict[str, Task]:
    return {t.name: t for t in tasks if wanted(t)}
