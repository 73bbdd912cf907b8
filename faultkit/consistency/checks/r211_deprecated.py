"""R211: a deprecated name that is still used, or one whose successor does not exist."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import Deprecated, EquipmentType, Ref
from faultkit.problems import Where, did_you_mean

__all__ = ["RULE"]


def _run(subject: Subject) -> Iterator[Finding]:
    for kind in subject.catalogue.types.values():
        groups: tuple[tuple[str, Mapping[str, object]], ...] = (
            ("event", kind.events), ("reading", kind.readings), ("check", kind.checks), ("remedy", kind.remedies),
        )
        for what, group in groups:
            for name, member in group.items():
                old: Deprecated | None = getattr(member, "deprecated", None)
                if old is not None and old.use not in group:
                    yield RULE.found(
                        f"{what} '{name}' is to be replaced by '{old.use}', which does not exist",
                        did_you_mean(old.use, [n for n in group if n != name]),
                        old.where,
                        equipment=kind.name,
                        name=name,
                    )
        for ref, by in _uses(kind):
            owners = [kind] if ref.join is None else subject.partners(kind, ref.join)
            for owner in owners:
                yield from _used(kind, owner, ref, by)


def _used(kind: EquipmentType, owner: EquipmentType, ref: Ref, by: str) -> Iterator[Finding]:
    bare = ref.name.partition(" in ")[0]
    member = owner.events.get(ref.name) or owner.readings.get(bare)
    if member is None or member.deprecated is None or by == member.deprecated.use:
        return
    old = member.deprecated
    reason = f": {old.because}" if old.because else ""
    yield RULE.found(
        f"'{ref.name}' is deprecated{reason}; {by} still uses it",
        f"'{old.use}'",
        ref.where or member.where,
        witness=[("declared at", str(old.where))],
        equipment=kind.name,
        name=ref.name,
    )


def _uses(kind: EquipmentType) -> Iterator[tuple[Ref, str]]:
    """References and who makes them. Its own rows and remedies keep an old name meaningful: these are no uses."""
    for event in kind.events.values():
        for link in (*event.inputs, *event.broken_by):
            yield link.ref, event.name
    for reading in kind.readings.values():
        for ref in reading.calculation.readings.values() if reading.calculation else ():
            yield ref, f"reading '{reading.name}'"
    for check in kind.checks.values():
        for ref in check.gives:
            yield ref, f"check '{check.name}'"
    for remedy in kind.remedies.values():
        for ref, _ in remedy.prove:
            yield ref, f"remedy '{remedy.name}'"
    for join in kind.joins.values():
        place: Where | None = join.where
        for name in (*join.events, *join.readings):
            yield Ref(name, join.name, where=place), f"join '{join.name}'"


RULE = Rule("R211", "deprecated", "A deprecated name in use", Severity.WARNING, _run)
