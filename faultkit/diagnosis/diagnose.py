"""Entries of a call → diagnosis: a pure function of the site, the entries and the month."""

from __future__ import annotations

from collections.abc import Sequence

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.advice import Advice, advise, open_signs
from faultkit.diagnosis.belief import Belief, abnormal_rows
from faultkit.diagnosis.entail import least_proofs
from faultkit.diagnosis.explain import (
    explained_by,
    minimal_explanations,
    most_probable_world,
)
from faultkit.diagnosis.moves import standing_of
from faultkit.diagnosis.prepare import Footing, footing
from faultkit.diagnosis.reasons import proof_steps
from faultkit.diagnosis.result import (
    Conflict,
    Diagnosis,
    EventResult,
    FactResult,
    LookResult,
    Probability,
    Proof,
    Verdict,
)
from faultkit.diagnosis.settle import Settling, settling
from faultkit.diagnosis.weigh import order_rests_on, surprise, weights_of_evidence
from faultkit.evidence.collect import collect
from faultkit.evidence.corrections import effective
from faultkit.evidence.look import Evidence
from faultkit.model.entries import Entry, RemedyDone
from faultkit.network.ir import NodeKind
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem

__all__ = ["diagnose"]

#: Bounds wider than this are reported as unknown.
WIDEST = 0.5


def diagnose(
    site: Site,
    entries: Sequence[Entry],
    *,
    month: int,
    call: str = "",
    limits: Limits | None = None,
    advice: bool = True,
) -> Diagnosis:
    """Diagnose one moment of a call.

    ``entries`` must have been checked against the site (``Call.add`` does);
    ``month`` (1 to 12) picks seasonal frequencies; ``advice=False`` leaves the
    next checks out. Raises InputError where a remedy was done: inference over
    the stages of a call is not in this version.
    """
    live, withdrawn = effective(entries)
    for e in live:
        if isinstance(e, RemedyDone) and e.id not in withdrawn:
            raise InputError(
                [
                    Problem(
                        f"entry '{e.id}' is a remedy done: this version diagnoses one moment, before any remedy",
                        "a call whose entries end before the first remedy",
                        e.where,
                    )
                ]
            )
    bounds = limits or Limits()
    evidence = collect(site, entries)
    base = footing(site, evidence, month, bounds)
    belief = base.belief
    offered = open_signs(base)
    named = _named(base)
    fresh = list({s.name: s for signs in offered.values() for s in signs}.values())
    settled = Settling() if base.conflicts else settling(base.hard, fresh, named)
    events = _events(base, named, settled)
    confirmed = [i for i in base.network.faults if i in base.logic.true]
    fixed = {} if base.conflicts else dict.fromkeys(base.logic.true, True) | dict.fromkeys(base.logic.false, False)
    explained, further = explained_by(belief, confirmed, bounds, fixed)
    world, world_chance = most_probable_world(belief)
    open_faults = [
        i for i in base.network.faults if i not in base.logic.true and i not in base.logic.false
    ]
    standing, allowed = standing_of(site, entries)
    what_next = (
        advise(base, offered, settled, standing, allowed) if advice else Advice(0.0, (), (), (), ())
    )
    nodes = base.network.nodes
    return Diagnosis(
        site=site.name,
        call=call,
        catalogue=site.catalogue,
        month=month,
        consistent=not base.conflicts,
        events=events,
        facts=tuple(FactResult(u.fact, u.reading, u.status.value, u.why) for u in evidence.uses),
        looks=_looks(belief, evidence),
        conflicts=tuple(_conflict(base, facts) for facts in base.conflicts),
        explained=explained,
        further_fault=further,
        most_probable=world,
        most_probable_chance=world_chance,
        explanations=minimal_explanations(belief),
        surprise=surprise(belief if base.conflicts else base.hard) if belief.inside else 0.0,
        order_rests_on=tuple(
            nodes[i].name.removesuffix(".by_itself") for i in order_rests_on(belief, open_faults)
        ),
        expected_minutes=what_next.expected,
        next_checks=what_next.checks,
        next_repairs=what_next.repairs,
        while_there=what_next.while_there,
        blocked=what_next.blocked,
        left_out=tuple(dict.fromkeys((*base.hard.outside, *belief.outside))),
    )


def _named(base: Footing) -> tuple[int, ...]:
    """Nodes that a person knows by name: events of the site and leaks."""
    return tuple(
        i
        for i, n in enumerate(base.network.nodes)
        if n.name in base.site.events or n.kind is NodeKind.LEAK
    )


def _events(base: Footing, named: Sequence[int], settled: Settling) -> dict[str, EventResult]:
    posteriors = base.belief.posteriors()
    priors = _priors(base)
    weights = weights_of_evidence(base.belief, base.belief if base.conflicts else base.hard)
    proofs = _proofs(base, named)
    out: dict[str, EventResult] = {}
    for i in named:
        node = base.network.nodes[i]
        verdict, probability = _verdict(base, i, posteriors[i])
        is_open = verdict in {Verdict.OPEN, Verdict.UNKNOWN}
        gate, other = _only_cause(base, i, posteriors) if is_open else ("", None)
        out[node.name] = EventResult(
            event=node.name,
            verdict=verdict,
            probability=probability,
            prior=priors[i],
            basic=i in base.network.fault_set,
            proof=proofs.get(i),
            weights=weights.get(i, ()) if is_open else (),
            would_confirm=settled.confirming(i) if is_open else (),
            would_rule_out=settled.ruling_out(i) if is_open else (),
            only_listed_cause_of=gate,
            other=other,
        )
    return out


def _verdict(base: Footing, i: int, posterior: Probability) -> tuple[Verdict, Probability]:
    if i in base.logic.true:
        return Verdict.CONFIRMED, Probability(1.0, 1.0)
    if i in base.logic.false:
        return Verdict.RULED_OUT, Probability(0.0, 0.0)
    wide = posterior.high - posterior.low > WIDEST
    return (Verdict.UNKNOWN if wide else Verdict.OPEN), posterior


def _priors(base: Footing) -> list[float]:
    """Prior of every node before any fact, from the circuit of the facts with nothing said."""
    key = ("priors", base.month)
    if key not in base.site.memo:
        base.site.memo[key] = [x.middle for x in base.hard.posteriors(frozenset())]
    found: list[float] = base.site.memo[key]
    return found


def _proofs(base: Footing, named: Sequence[int]) -> dict[int, Proof]:
    values = dict.fromkeys(base.logic.true, True) | dict.fromkeys(base.logic.false, False)
    facts = base.free if base.conflicts else None
    sets = least_proofs(base.hard, base.logic, facts)
    steps = proof_steps(base.hard, sets, named, values)
    out: dict[int, Proof] = {}
    for i, chain in steps.items():
        signs = [n for n in base.hard.inside if base.hard.findings[n].facts & set(sets[i])]
        premises = dict.fromkeys(
            (p.setting, p.text) for n in signs if n in base.site.signs for p in base.site.signs[n].premises
        )
        retake = _retake(base.site, signs) if len(sets[i]) == 1 else ()
        out[i] = Proof(sets[i], chain, tuple(premises), retake)
    return out


def _retake(site: Site, signs: Sequence[str]) -> tuple[str, ...]:
    """Checks that take these signs, or the readings they are calculated from, again."""
    wanted = set(signs)
    for s in signs:
        if s in site.signs:
            wanted.update(site.all_readings[site.signs[s].reading].inputs.values())
    return tuple(name for name, c in site.checks.items() if wanted.intersection(c.gives))


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
    return Conflict(facts, tuple(rows), _retake(base.site, signs))


def _only_cause(base: Footing, i: int, posteriors: Sequence[Probability]) -> tuple[str, Probability | None]:
    """A confirmed gate with a leak that has no listed cause left but node ``i``."""
    nodes = base.network.nodes
    for g in sorted(base.logic.true):
        gate = nodes[g]
        if gate.kind is not NodeKind.ANY_OF or gate.name not in base.site.events:
            continue
        leaks = [j for j in gate.inputs if nodes[j].kind is NodeKind.LEAK]
        listed = [j for j in gate.inputs if j not in leaks and j not in base.logic.false]
        if not leaks or len(listed) != 1:
            continue
        cause = listed[0]
        while nodes[cause].kind is NodeKind.ALL_OF and nodes[cause].name not in base.site.events:
            cause = nodes[cause].inputs[0]  # behind a hidden inhibitor
        if cause == i:
            return gate.name, posteriors[leaks[0]]
    return "", None


def _looks(belief: Belief, evidence: Evidence) -> tuple[LookResult, ...]:
    abnormal = abnormal_rows(belief)
    out = []
    for name, finding in belief.findings.items():
        if name in evidence.complaints:
            continue
        bands = belief.signs[name].bands
        shares = [1.0] * len(bands)
        for look in finding.looks:
            shares = [a * b for a, b in zip(shares, look.shares, strict=True)]
        total = sum(shares) or 1.0
        latest = finding.looks[-1]
        value = None if latest.low is None or latest.high is None else (latest.low, latest.high)
        out.append(
            LookResult(
                name,
                tuple(sorted(finding.facts)),
                tuple((b, s / total) for b, s in zip(bands, shares, strict=True) if s > 0.0),
                finding.too_close,
                name in abnormal,
                all(k.told for k in finding.looks),
                latest.calculated,
                value,
            )
        )
    return tuple(out)

