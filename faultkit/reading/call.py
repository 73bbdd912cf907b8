"""Call files: the site and the entries of one service call."""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from faultkit.problems import Problem, Where
from faultkit.reading.mistakes import title_of
from faultkit.reading.nodes import Node

__all__ = ["CallPlan", "Entries", "moment", "read_call", "read_entries"]

_CLOCK = re.compile(r"[0-9]{2}:[0-9]{2}")

Entries = tuple[tuple[Mapping[str, Any], Where], ...]


@dataclass(frozen=True, slots=True)
class CallPlan:
    """A call as written. ``site`` is the path as it stands in the file, ``opened`` ISO text.

    ``entries`` holds each entry as JSON would, with ``id`` and (where given) an
    ISO ``time``, and its place.
    """

    name: str
    title: str
    site: str
    opened: str
    entries: Entries
    where: Where | None = field(default=None, compare=False, repr=False)


def read_call(node: Node, problems: list[Problem]) -> CallPlan:
    """The plan of a schema-valid call file; what is wrong with ids and times is added to ``problems``."""
    opened = node.value["opened"]
    day = moment(opened, problems)
    name = node.text("call")
    return CallPlan(
        name,
        node.text("title") or title_of(name),
        node.text("site"),
        str(opened.value),
        read_entries(node.value["entries"], day, problems),
        node.at_key("call"),
    )


def moment(node: Node, problems: list[Problem]) -> datetime | None:
    """The moment an ISO text names, or None with a problem."""
    try:
        return datetime.fromisoformat(str(node.value))
    except ValueError:
        problems.append(
            Problem(
                f"there is no such date and time: '{node.value}'",
                "a date and time like 2026-07-14T10:05",
                node.where,
            )
        )
        return None


def read_entries(block: Node, opened: datetime | None, problems: list[Problem]) -> Entries:
    """The entries of a schema-valid list: an ``id`` for each, clock times on the day ``opened``."""
    found: list[tuple[Mapping[str, Any], Where]] = []
    seen: dict[str, Where] = {}
    for position, node in enumerate(block.list(), 1):
        data = node.plain()
        given = node.get("id")
        where = given.where if given is not None else node.where
        entry_id = str(data.get("id", f"e{position}"))
        if entry_id in seen:
            own = "" if given is not None else " (what an entry without an id is called by its position)"
            problems.append(
                Problem(
                    f"the id '{entry_id}'{own} stands twice, first at {seen[entry_id]}",
                    "an id of its own",
                    where,
                )
            )
        seen.setdefault(entry_id, where)
        time = node.get("time")
        timed = {"time": _time(time, opened, problems)} if time is not None else {}
        found.append(({**data, "id": entry_id, **timed}, node.where))
    return tuple(found)


def _time(node: Node, opened: datetime | None, problems: list[Problem]) -> str:
    text = str(node.value)
    if _CLOCK.fullmatch(text):
        if opened is None:
            return text
        hour, minute = text.split(":")
        return opened.replace(hour=int(hour), minute=int(minute), second=0, microsecond=0).isoformat(timespec="minutes")
    found = moment(node, problems)
    if found is not None and opened is not None and (found.tzinfo is None) != (opened.tzinfo is None):
        has = "no time zone" if found.tzinfo is None else "a time zone"
        problems.append(
            Problem(
                f"'{text}' has {has}, unlike 'opened'",
                "both with one, as in +02:00, or both without",
                node.where,
            )
        )
    return text
