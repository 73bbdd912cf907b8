"""Entries of a call → diagnosis: a pure function of the site, the entries and the month."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from functools import partial

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.abnormal import abnormal_rows
from faultkit.diagnosis.advice import Advice, advise, open_signs
from faultkit.diagnosis.belief import Belief
from faultkit.diagnosis.causes import cause_links
from faultkit.diagnosis.closing import closing, complained_of
from faultkit.diagnosis.events import Judged, named_nodes, retake_checks
from faultkit.diagnosis.explain import (
    explained_by,
    minimal_explanations,
    most_probable_world,
)
from faultkit.diagnosis.history import repairs, retakes
from faultkit.diagnosis.moves import standing_of
from faultkit.diagnosis.prepare import Footing, footing
from faultkit.diagnosis.result import (
    Conflict,
    Diagnosis,
    FactResult,
    LookResult,
)
from faultkit.diagnosis.settle import Settling, settling
from faultkit.diagnosis.weigh import order_rests_on, surprise
from faultkit.evidence.collect import collect
from faultkit.evidence.look import Evidence
from faultkit.evidence.timeline import timeline
from faultkit.model.entries import Entry
from faultkit.network.ir import plain
from faultkit.network.site import Site
from faultkit.network.stages import Stages

__all__ = ["diagnose"]


def diagnose(
    site: Site,
    entries: Sequence[Entry],
    *,
    month: int,
    call: str = "",
    limits: Limits | None = None,
    advice: bool = True,
) -> Diagnosis:
    """Diagnose one moment of a call: events as they are after the last remedy done.

    ``entries`` must have been checked against the site (``Call.add`` does);
    ``month`` (1 to 12) picks seasonal frequencies; ``advice=False`` leaves the
    next checks out.
    """
    bounds = limits or Limits()
    told = timeline(entries)
    stages = Stages(site, month, told.names)
    evidence = collect(site, told, stages)
    base = footing(site, evidence, month, bounds, stages)
    belief = base.belief
    offered = open_signs(base)
    named = named_nodes(base)
    fresh = list({s.name: s for signs in offered.values() for s in signs}.values())
    settled = Settling() if base.conflicts else settling(base.wide if base.folded else base.hard, fresh, named)
    judged = Judged(base)
    events = judged.results(named, settled)
    confirmed = [i for i in sorted(base.network.fault_set) if i in base.logic.true]
    explained, further = explained_by(belief, confirmed, bounds, base.fixed)
    world, world_chance = most_probable_world(belief)
    open_faults = [
        i for i in base.network.faults if i not in base.logic.true and i not in base.logic.false
    ]
    standing, allowed = standing_of(site, entries)
    what_next = (
        advise(base, offered, settled, standing, allowed) if advice else Advice(0.0, (), (), (), ())
    )
    nodes = base.network.nodes
    mended = repairs(base, told, judged.verdict)
    return Diagnosis(
        site=site.name,
        call=call,
        catalogue=site.catalogue,
        month=month,
        consistent=not base.conflicts,
        events=events,
        facts=tuple(FactResult(u.fact, u.reading, u.status.value, u.why, u.stage) for u in evidence.uses),
        looks=_looks(belief, evidence),
        conflicts=tuple(_conflict(base, facts) for facts in base.conflicts),
        explained=explained,
        further_fault=further,
        most_probable=world,
        most_probable_chance=world_chance,
        explanations=minimal_explanations(belief),
        surprise=_surprise(base),
        order_rests_on=tuple(
            plain(nodes[i].name).removesuffix(".by_itself") for i in order_rests_on(belief, open_faults)
        ),
        expected_minutes=what_next.expected,
        next_checks=what_next.checks,
        next_repairs=what_next.repairs,
        while_there=what_next.while_there,
        blocked=what_next.blocked,
        left_out=tuple(dict.fromkeys((*base.hard.outside, *belief.outside))),
        stage=stages.last,
        repairs=mended,
        retake=retakes(base, told, partial(retake_checks, site)),
        causes=cause_links(base, complained_of(told)),
        closing=closing(base, told, explained, mended),
    )


def _surprise(base: Footing) -> float:
    """How far the findings pull apart; nothing is said of it where stages are folded or nothing was found."""
    if base.folded or not base.belief.inside:
        return 0.0
    return surprise(base.belief if base.conflicts else base.hard)


def _conflict(base: Footing, facts: tuple[str, ...]) -> Conflict:
    """The always and never rows that the clashing facts meet."""
    rows: list[tuple[str, str]] = []
    signs = [n for n in base.hard.inside if base.hard.findings[n].facts & set(facts)]
    nodes = base.network.nodes
    for name in signs:
        sign = base.hard.signs[name]
        fits = base.hard.rows(name, frozenset(facts))
        for j, r in enumerate(fits):
            if r <= 0.0:
                rows.append((name, nodes[sign.rows[j]].name if j < len(sign.rows) else "otherwise"))
    return Conflict(facts, tuple(rows), retake_checks(base.site, signs))


def _looks(belief: Belief, evidence: Evidence) -> tuple[LookResult, ...]:
    """What was seen at each sign, stage by stage."""
    abnormal = abnormal_rows(belief)
    out = []
    for name, whole in belief.findings.items():
        if name in evidence.complaints:
            continue
        bands = belief.signs[name].bands
        for stage in whole.stages:
            finding = replace(whole, looks=whole.in_stage(stage))
            shares = [1.0] * len(bands)
            for look in finding.looks:
                shares = [a * b for a, b in zip(shares, look.shares, strict=True)]
            total = sum(shares) or 1.0
            last = finding.looks[-1]
            out.append(
                LookResult(
                    name,
                    tuple(sorted(finding.facts)),
                    tuple((b, s / total) for b, s in zip(bands, shares, strict=True) if s > 0.0),
                    finding.too_close,
                    name in abnormal and stage == whole.stages[-1],
                    all(k.told for k in finding.looks),
                    last.calculated,
                    None if last.low is None or last.high is None else (last.low, last.high),
                    stage,
                )
            )
    return tuple(out)
