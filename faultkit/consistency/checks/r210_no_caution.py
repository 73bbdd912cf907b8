"""R210: a hazard whose caution says nothing, or live work that names no hazard at all."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.model.types import Check, Power, Remedy

__all__ = ["RULE"]

#: Words in a caution below which it can hardly say what to do.
_FEW = 4
_STAND_IN = re.compile(r"\W*(todo|tbd|fixme|xxx|to be written|to do)\b", re.IGNORECASE)


def _run(subject: Subject) -> Iterator[Finding]:
    common = subject.catalogue.common
    for hazard in common.hazards.values():
        if len(hazard.caution.split()) < _FEW or _STAND_IN.match(hazard.caution):
            yield RULE.found(
                f"the caution of hazard '{hazard.name}' says nothing: '{hazard.caution}'",
                "what can hurt and how it is avoided, deferring to local codes",
                hazard.where,
                name=hazard.name,
            )
    for kind in subject.catalogue.types.values():
        works: list[tuple[str, Check | Remedy]] = [("check", c) for c in kind.checks.values()]
        works += [("remedy", r) for r in kind.remedies.values()]
        for what, work in works:
            shown = {h for s in work.setups if s in common.setups for h in common.setups[s].hazards}
            if work.power is Power.LIVE and not work.hazards and not shown:
                yield RULE.found(
                    f"{what} '{work.name}' is done on live parts and names no hazard: no caution is shown before it",
                    "hazards: [<name of a common file>]",
                    work.where,
                    witness=[("power", work.power.value), ("hazards", "none")],
                    equipment=kind.name,
                    name=work.name,
                )


RULE = Rule("R210", "no-caution", "A hazard without a caution", Severity.ERROR, _run)
