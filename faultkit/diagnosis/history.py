"""What the remedies of a call did: how events were before, whether repairs are proved, what to take again."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence

from faultkit.diagnosis.prepare import Footing
from faultkit.diagnosis.result import Ended, Past, Probability, Repair, Reproof, Retake, Verdict
from faultkit.evidence.look import Finding, Look
from faultkit.evidence.timeline import Timeline
from faultkit.network.ir import plain, since
from faultkit.network.site import Site

__all__ = ["past_of", "repairs", "retakes"]

#: The verdict of a node and its chance.
Judge = Callable[[int], tuple[Verdict, Probability]]


def past_of(base: Footing, event: str, judge: Judge, proofs: Callable[[int], tuple[str, ...]]) -> tuple[Past, ...]:
    """How an event was before remedies changed it, oldest first; nothing where none did."""
    found: dict[int, None] = {}
    now = base.story.node(event, base.story.last)
    for stage in range(base.story.last):
        node = base.story.node(event, stage)
        if node is not None and node != now:
            found[node] = None
    names = base.network.nodes
    return tuple(Past(since(names[i].name), *judge(i), proofs(i)) for i in found)


def repairs(base: Footing, told: Timeline, judge: Judge) -> tuple[Repair, ...]:
    """Each remedy done: what became of the events it ends, and whether it is proved."""
    out = []
    for stage, (entry, remedy) in enumerate(zip(told.remedies, base.stages.remedies, strict=True), start=1):
        ended = [_ended(base, event, stage, judge) for event in remedy.ends]
        shown = tuple(_reproof(base, sign, band, stage) for sign, band in remedy.prove)
        proved = all(p.status == "seen" for p in shown)
        out.append(Repair(entry.id, remedy.name, stage, tuple(e for e in ended if e), shown, proved))
    return tuple(out)


def _ended(base: Footing, event: str, stage: int, judge: Judge) -> Ended | None:
    before, after = base.story.node(event, stage - 1), base.story.node(event, stage)
    if before is None or after is None:
        return None
    (was, p), (is_now, q) = judge(before), judge(after)
    outcome = "open"
    if was is Verdict.RULED_OUT:
        outcome = "was_not_there"
    elif was is Verdict.CONFIRMED and is_now is Verdict.RULED_OUT:
        outcome = "repaired"
    elif was is Verdict.CONFIRMED and is_now is Verdict.CONFIRMED:
        outcome = "still_there"
    return Ended(event, was, p, is_now, q, outcome)


def _measured(base: Footing, sign: str) -> list[Look]:
    """Measured looks at a reading in its state, in all stages, oldest first."""
    looks = [
        k for name, f in base.belief.evidence.findings.items() if plain(name) == sign for k in f.looks if not k.told
    ]
    return sorted(looks, key=lambda k: k.stage)


def _reproof(base: Footing, sign: str, band: str, stage: int) -> Reproof:
    """Whether a reading was taken again after a remedy, and shows what it must."""
    looks = [k for k in _measured(base, sign) if k.stage >= stage]
    if not looks:
        return Reproof(sign, band, "missing")
    last = Finding(sign, tuple(k for k in looks if k.stage == looks[-1].stage))
    bands = {base.site.signs[sign].bands[b] for b in last.touched}
    status = "seen" if bands == {band} else "too_close" if band in bands else "other"
    return Reproof(sign, band, status, tuple(sorted(last.facts)))


def retakes(base: Footing, told: Timeline, checks: Callable[[Sequence[str]], tuple[str, ...]]) -> tuple[Retake, ...]:
    """Readings whose last look no longer speaks of now, why, and the checks that take them again."""
    out = []
    stages = base.stages
    for sign in dict.fromkeys(map(plain, base.belief.evidence.findings)):
        looks = _measured(base, sign)
        if not looks or sign not in base.site.signs:
            continue
        seen = looks[-1].stage
        moved = stages.remedied(sign)
        disturbed = stages.disturbed(_names(base.site, sign), seen, stages.last)
        if max(moved, disturbed) <= seen:
            continue
        by = told.remedies[max(moved, disturbed) - 1].id
        facts = [f for k in looks if k.stage == seen for f in k.facts]
        reason = "changed" if moved >= disturbed else "disturbed"
        out.append(Retake(sign, tuple(dict.fromkeys(facts)), reason, by, checks([sign])))
    return tuple(out)


def _names(site: Site, sign: str) -> Iterable[str]:
    """A sign, its reading, and what it is calculated from: what a remedy may disturb."""
    reading = site.all_readings[site.signs[sign].reading]
    return (sign, reading.name, *reading.inputs.values())
