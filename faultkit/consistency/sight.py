"""Which basic events readings can show."""

from __future__ import annotations

from collections.abc import Iterable

from faultkit.consistency.standalone import MAIN, local
from faultkit.consistency.subject import Subject, TypeView

__all__ = ["roots_seen_elsewhere", "roots_shown"]


def roots_shown(view: TypeView, observables: Iterable[str] | None = None) -> frozenset[int]:
    """Roots on which a reading depends: any reading, or one of ``observables`` (local names)."""
    wanted = None if observables is None else frozenset(observables)
    logic = view.logic
    return frozenset().union(
        *(logic.depends_on(s) for s in logic.signs() if wanted is None or local(s.name) in wanted)
    )


def roots_seen_elsewhere(subject: Subject, view: TypeView) -> frozenset[int]:
    """Roots below events that joined types use: their readings may show them."""
    logic = view.logic
    exported = subject.used_elsewhere[view.kind.name]["events"]
    return frozenset().union(*(logic.support(logic.of(f"{MAIN}.{name}")) for name in exported))
