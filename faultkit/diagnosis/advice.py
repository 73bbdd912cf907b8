"""Next checks and repairs for the facts of the moment."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from faultkit.circuit.circuit import CODE_LIMIT
from faultkit.diagnosis.checks import Candidate, Guess, Outlook
from faultkit.diagnosis.moves import Allowed, Moves, Standing, refusals
from faultkit.diagnosis.prepare import Footing
from faultkit.diagnosis.repairs import cost_to_go
from faultkit.diagnosis.result import Blocked, NextCheck, NextRepair, Outcome, Probability
from faultkit.diagnosis.settle import Settling
from faultkit.evidence.look import FactStatus, drawn
from faultkit.network.ir import Sign, plain
from faultkit.network.site import Site, SiteCheck, SiteReading

__all__ = ["Advice", "advise", "open_signs"]

#: How many checks are worked out in full, looked at one step further, and offered as second steps.
SCREENED, DEEP, SECOND = 15, 3, 3
REPAIRS = 2
#: Second steps only over checks with few deciding rows (the cost grows with the product), and not in
#: circuits beyond ``CODE_LIMIT``.
SECOND_ROWS = 3
#: Outcomes less likely than this are not worth a line.
WORTH_NAMING = 0.005


@dataclass(frozen=True, slots=True)
class Advice:
    """What to do next."""

    expected: float
    checks: tuple[NextCheck, ...]
    repairs: tuple[NextRepair, ...]
    while_there: tuple[str, ...]
    blocked: tuple[Blocked, ...]


def open_signs(footing: Footing) -> dict[str, tuple[Sign, ...]]:
    """For each check the signs it would newly give as they are now, calculated ones included."""
    site = footing.site
    signs = {g: s for g in footing.story.signs if (s := _open(footing, g)) is not None}
    calculated = [r for r in site.all_readings.values() if r.inputs]
    read = {r.name: _read(footing, r) for r in calculated}
    out: dict[str, tuple[Sign, ...]] = {}
    for name, check in site.checks.items():
        gives = dict.fromkeys(check.gives)
        here = {site.signs[g].reading if g in site.signs else g for g in gives}
        for reading in calculated:
            inputs, known = set(reading.inputs.values()), read[reading.name]
            if inputs <= known | here and not inputs <= known:
                gives.update(dict.fromkeys(reading.signs))
        wanted = [signs[g] for g in gives if g in signs]
        if wanted:
            out[name] = tuple(wanted)
    return out


def _open(footing: Footing, name: str) -> Sign | None:
    """A sign of now that was not measured yet, or not since a remedy disturbed it."""
    sign = footing.story.signs[name]
    finding = footing.belief.evidence.findings.get(sign.name)
    looks = [k.stage for k in finding.looks if not k.told] if finding else []
    if finding is None or not looks:
        return sign
    if not footing.stages.disturbed((name, footing.site.signs[name].reading), max(looks), footing.story.last):
        return None
    # A repeat look hangs together with those before it.
    seen = finding.seen()
    bands = range(len(sign.bands))
    return replace(
        sign,
        chances=tuple(
            tuple(drawn(row, [*seen, [float(b == c) for c in bands]]) / likely for b in bands) if likely else row
            for row in sign.chances
            for likely in (drawn(row, seen),)
        ),
    )


def _read(footing: Footing, reading: SiteReading) -> set[str]:
    """Inputs of a calculation that were read, and that nothing changed or disturbed since."""
    stages, last = footing.stages, footing.story.last
    changed = max((stages.sign_since(s, last) for s in reading.signs), default=0)
    found = set()
    for use in footing.belief.evidence.uses:
        names = (reading.name, *reading.signs, use.reading)
        if (
            use.reading in reading.inputs.values()
            and use.status in {FactStatus.USED, FactStatus.INPUT}
            and use.stage >= max(changed, stages.disturbed(names, use.stage, last))
        ):
            found.add(use.reading)
    return found


def advise(
    footing: Footing, offered: Mapping[str, tuple[Sign, ...]], settled: Settling, standing: Standing, allowed: Allowed
) -> Advice:
    """Rank the checks the call allows by expected minutes saved; two steps deep for the best."""
    site = footing.site
    blocked: list[Blocked] = []
    free: list[tuple[SiteCheck, tuple[Sign, ...]]] = []
    within = frozenset(footing.wide.compiled.nodes)
    for name, given in offered.items():
        # A sign whose rows had to stay outside the circuit has no outcome that could be weighed.
        signs = tuple(s for s in given if within.issuperset(s.rows))
        reasons = refusals(site, site.checks[name], allowed)
        if reasons:
            blocked.append(Blocked(name, reasons))
        elif signs:
            free.append((site.checks[name], signs))
    outlook = Outlook(footing.wide, footing.classes, footing.class_nodes, Moves(site), standing)
    if not outlook.classes or outlook.base[0] <= 0.0:
        return Advice(0.0, (), (), (), tuple(blocked))
    screened = outlook.screened(free, SCREENED)
    narrow = footing.with_rows(s for _, signs in screened for s in signs)
    if narrow is not outlook.belief:
        outlook = Outlook(narrow, footing.classes, footing.class_nodes, outlook.moves, standing)
    found = [outlook.candidate(check, outlook.asked(signs)) for check, signs in screened]
    found = [c for c in found if c.bits > 1e-6]
    found.sort(key=lambda c: (-c.saved, c.name))
    small = [c for c in found if _rows(c) <= SECOND_ROWS][:SECOND]
    for c in found[:DEEP] if len(outlook.belief.compiled.circuit) <= CODE_LIMIT else ():
        c.saved = max(c.saved, outlook.further(c, small))
    found.sort(key=lambda c: (-c.saved, c.name))
    return Advice(
        outlook.now,
        tuple(_shown(site, footing, outlook, c, settled) for c in found),
        _repairs(footing, outlook),
        _while_there(outlook, found),
        tuple(blocked),
    )


def _rows(c: Candidate) -> int:
    n = 1
    for s in c.signs:
        n *= len(s.chances)
    return n


def _shown(site: Site, footing: Footing, outlook: Outlook, c: Candidate, settled: Settling) -> NextCheck:
    check = c.job.check.check
    setups = tuple(s for s in c.job.setups if not s.startswith("no "))
    shared = [
        h for s in setups if s in site.common.setups for h in site.common.setups[s].hazards
    ]
    return NextCheck(
        c.name,
        tuple(plain(s.name) for s in c.signs),
        c.cost,
        c.travel,
        c.setting_up,
        c.saved,
        c.bits,
        c.bits / max(c.cost, 1.0),
        tuple(dict.fromkeys((*shared, *check.hazards))),
        setups,
        tuple(
            _outcome(footing, outlook, c, g, settled)
            for g in sorted(c.guesses, key=lambda g: (-g.probability, g.bands))
            if g.probability >= WORTH_NAMING
        ),
    )


def _outcome(footing: Footing, outlook: Outlook, c: Candidate, g: Guess, settled: Settling) -> Outcome:
    nodes = footing.belief.network.nodes
    bands = tuple((s.name, s.bands[b]) for s, b in zip(c.signs, g.bands, strict=True))
    events, now = footing.site.events, footing.story.now
    already = footing.logic.true | footing.logic.false

    def decided(table: Mapping[tuple[str, str], frozenset[int]]) -> tuple[str, ...]:
        found = {n for key in bands for n in table.get(key, ())} - already
        return tuple(now[n] for n in sorted(found) if now.get(n) in events)

    still = [(q, f) for q, f in zip(g.faults, outlook.faults, strict=True) if f not in already]
    ranked = sorted(still, key=lambda p: (-p[0], p[1]))
    leaders = tuple((plain(nodes[f].name), min(1.0, q)) for q, f in ranked[:3])
    shown = tuple((plain(s), band) for s, band in bands)
    return Outcome(shown, g.probability, decided(settled.true), decided(settled.false), leaders)


def _repairs(footing: Footing, outlook: Outlook) -> tuple[NextRepair, ...]:
    nodes = footing.belief.network.nodes
    ranked = sorted(
        range(len(outlook.classes)),
        key=lambda k: (-outlook.chances[k] / max(outlook.classes[k].total, 1.0), k),
    )
    out = []
    for k in ranked[:REPAIRS]:
        c = outlook.classes[k]
        q = outlook.chances[k]
        out.append(
            NextRepair(
                c.remedy,
                tuple(plain(nodes[f].name) for f in c.faults),
                Probability(q, q),
                c.total + outlook.moves.reach(outlook.standing, c),
                outlook.repair_first(k),
            )
        )
    return tuple(sorted(out, key=lambda r: (r.expected, r.remedy)))


def _while_there(outlook: Outlook, found: Sequence[Candidate]) -> tuple[str, ...]:
    """Checks that pay at marginal minutes once the best one is made: same place, set-ups standing."""
    if not found or found[0].saved <= 0.0:
        return ()
    best = found[0]
    after = outlook.moves.after(outlook.standing, best.job)
    from_there = _now(outlook, after)
    out = []
    for c in found[1:]:
        if c.job.place != best.job.place:
            continue
        price = c.job.check.check.minutes + outlook.moves.reach(after, c.job)
        saved = from_there - price - outlook.hereafter(c, after)
        if saved > 0.0:
            out.append((saved, c.name))
    return tuple(name for _, name in sorted(out, key=lambda p: (-p[0], p[1]))[:4])


def _now(outlook: Outlook, standing: Standing) -> float:
    return cost_to_go(outlook.classes, outlook.chances, outlook.moves, standing)
