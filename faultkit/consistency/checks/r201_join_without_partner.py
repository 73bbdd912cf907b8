"""R201: a join that no type of the catalogue can fill."""

from __future__ import annotations

from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import EquipmentType, Join
from faultkit.problems import did_you_mean

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        for join in kind.joins.values():
            if not subject.partners(kind, join.name):
                what, witness = _missing(subject, kind, join)
                yield RULE.found(
                    what,
                    "name what one type of the catalogue has, or add that type",
                    join.where,
                    witness=witness,
                    equipment=kind.name,
                    name=join.name,
                )


def _missing(subject: Subject, kind: EquipmentType, join: Join) -> tuple[str, tuple[tuple[str, str], ...]]:
    """What the type that comes nearest lacks."""
    used = {"event": join.events, "reading": join.readings, "setting": join.settings}
    nearest: tuple[int, str, list[str]] | None = None
    for other in subject.catalogue.types.values():
        if join.reverse_of and join.reverse_of not in other.joins:
            continue
        have = {"event": other.events, "reading": other.readings, "setting": other.settings}
        lacks = [
            f"{what} '{name}' ({did_you_mean(name, have[what])})"
            for what, names in used.items()
            for name in names
            if name not in have[what]
        ]
        if other is not kind and (nearest is None or (len(lacks), other.name) < nearest[:2]):
            nearest = (len(lacks), other.name, lacks)
    if nearest is None:
        wanted = f" with a join '{join.reverse_of}'" if join.reverse_of else ""
        return f"join '{join.name}' of '{kind.name}' needs a type{wanted}, and there is none", ()
    return (
        f"no type has all that join '{join.name}' of '{kind.name}' uses; '{nearest[1]}' comes nearest and lacks "
        + "; ".join(nearest[2]),
        (("nearest type", nearest[1]),),
    )


RULE = Rule("R201", "join-without-partner", "A join that no type can fill", Severity.ERROR, _run)
