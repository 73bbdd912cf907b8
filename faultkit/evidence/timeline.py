"""Entries of a call in order of time, with corrections applied, each in its stage."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from faultkit.evidence.corrections import effective
from faultkit.model.entries import Entry, RemedyDone

__all__ = ["Timeline", "timeline"]


@dataclass(frozen=True, slots=True)
class Timeline:
    """Entries oldest first, each with the number of remedies before it.

    ``remedies`` are the remedies done: the n-th starts stage n. ``withdrawn`` holds the ids taken back.
    """

    entries: tuple[tuple[Entry, int], ...]
    remedies: tuple[RemedyDone, ...]
    withdrawn: frozenset[str]

    @property
    def names(self) -> tuple[str, ...]:
        """The remedies done by the names they have at the site."""
        return tuple(f"{r.unit}.{r.remedy}" for r in self.remedies)


def timeline(entries: Sequence[Entry]) -> Timeline:
    """Entries in their stages. What was observed before a remedy belongs before it, whenever it was entered."""
    live, withdrawn = effective(entries)
    counted: list[tuple[Entry, int]] = []
    remedies: list[RemedyDone] = []
    for entry in live:
        if isinstance(entry, RemedyDone) and entry.id not in withdrawn:
            remedies.append(entry)
        counted.append((entry, len(remedies)))
    return Timeline(tuple(counted), tuple(remedies), frozenset(withdrawn))
