"""Run cases: diagnose each call and hold what came against what must come."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby
from time import perf_counter

from faultkit.cases.model import Case, Failure, Named, Result
from faultkit.diagnosis.result import Diagnosis, EventResult, Proof, Verdict
from faultkit.reports.text import proof_lines
from faultkit.reports.words import Speaker, percent

__all__ = ["first_steps", "judge", "run_case", "run_cases"]

#: Suspects, checks and weights shown where something else was expected.
SHOWN = 3
#: Cases that go to another process together.
CHUNK = 8

_WORDS = {
    Verdict.CONFIRMED: "proved",
    Verdict.RULED_OUT: "proved absent",
    Verdict.OPEN: "open",
    Verdict.UNKNOWN: "unknown, its bounds are wide",
}


def run_cases(cases: Sequence[Case], jobs: int = 1) -> Iterator[Result]:
    """The result of each case, in order. With ``jobs`` over 1 in that many processes."""
    if jobs == 1:
        yield from map(run_case, cases)
        return
    from concurrent.futures import ProcessPoolExecutor

    # Cases of one site stay together: they share its circuits, and it travels once.
    chunks = [
        tuple(part)
        for _, group in groupby(cases, key=lambda c: c.file)
        for part in _batched(list(group), CHUNK)
    ]
    with ProcessPoolExecutor(jobs) as pool:
        for results in pool.map(_run_chunk, chunks):
            yield from results


def _batched(cases: Sequence[Case], size: int) -> Iterator[Sequence[Case]]:
    """Pieces of at most ``size``."""
    for start in range(0, len(cases), size):
        yield cases[start : start + size]


def _run_chunk(cases: Sequence[Case]) -> list[Result]:
    return [run_case(c) for c in cases]


def run_case(case: Case) -> Result:
    """Diagnose a case and judge it. InputError where its entries cannot be diagnosed."""
    started = perf_counter()
    # Advice costs as much as all the rest; only a case that asks for it gets it.
    diagnosis = case.call.diagnose(advice=bool(case.expect.next))
    seconds = perf_counter() - started
    return Result(case, diagnosis, judge(case, diagnosis), seconds)


def judge(case: Case, diagnosis: Diagnosis) -> tuple[Failure, ...]:
    """The expectations of a case that its diagnosis does not meet, in the order of the file."""
    found = list(_Judge(case, diagnosis).failures())
    return tuple(sorted(found, key=lambda f: (f.where.line, f.where.column) if f.where else (0, 0)))


def first_steps(diagnosis: Diagnosis) -> tuple[str, ...]:
    """What is advised first: the retakes of a conflict, else the check that saves most, else the best repair."""
    if diagnosis.conflicts:
        return tuple(dict.fromkeys(check for c in diagnosis.conflicts for check in c.retake))
    worth = [c.check for c in diagnosis.next_checks if c.saved > 0.0]
    repairs = [r.remedy for r in diagnosis.next_repairs if r.remedy]
    return tuple(worth[:1] or repairs[:1])


class _Judge:
    """Holds one diagnosis against one expectation."""

    def __init__(self, case: Case, diagnosis: Diagnosis) -> None:
        self.case = case
        self.d = diagnosis
        self.say = Speaker(case.call)
        self.order = {e.id: n for n, e in enumerate(case.call.entries)}

    def failures(self) -> Iterator[Failure]:
        expect = self.case.expect
        for key, wanted in (("confirmed", Verdict.CONFIRMED), ("ruled_out", Verdict.RULED_OUT), ("open", None)):
            named: tuple[Named, ...] = getattr(expect, key)
            for n in named:
                came = self.d.events[n.name]
                open_ = came.verdict in {Verdict.OPEN, Verdict.UNKNOWN}
                if not (open_ if wanted is None else came.verdict is wanted):
                    yield self.verdict(key, n, _WORDS[wanted or Verdict.OPEN], came)
        for n in expect.not_confirmed:
            came = self.d.events[n.name]
            if came.verdict is Verdict.CONFIRMED:
                yield self.verdict("not_confirmed", n, "not proved", came)
        yield from self.suspect()
        yield from self.next()
        yield from self.conflict()

    # -- one event ------------------------------------------------------------

    def verdict(self, key: str, named: Named, wanted: str, came: EventResult) -> Failure:
        expected = f"{self.name(named.name)} is {wanted}"
        words = _WORDS[came.verdict]
        if came.proof is not None:
            return Failure(key, expected, words, *self.proof(came.proof), where=named.where)
        why, decided = self.open(came)
        return Failure(key, expected, f"{words}, chance {percent(came.probability)}", why, decided, named.where)

    def proof(self, proof: Proof) -> tuple[tuple[str, ...], str]:
        lines = tuple(line.removeprefix("      ") for line in proof_lines(self.case.call, self.d, proof))
        last = max(proof.facts, key=lambda f: self.order.get(f, -1), default="")
        return lines, self.say.fact(last) if last else ""

    def open(self, came: EventResult) -> tuple[tuple[str, ...], str]:
        """What speaks for and against an open event, and what would decide it."""
        weights = sorted(came.weights, key=lambda w: -abs(w.decibans))
        lines = [f"{w.decibans:+.0f} db by {self.say.fact(w.fact)}" for w in weights[:SHOWN] if abs(w.decibans) >= 1.0]
        for words, settles in (("would prove it", came.would_confirm), ("would rule it out", came.would_rule_out)):
            if settles:
                shown = "; ".join(f"{self.say.sign(s.sign)} {' or '.join(s.bands)}" for s in settles[:2])
                lines.append(f"{words}: {shown}")
        if came.only_listed_cause_of:
            lines.append(f"the only listed cause left of {self.name(came.only_listed_cause_of)}, which is not complete")
        decided = self.say.fact(weights[0].fact) if weights and abs(weights[0].decibans) >= 1.0 else ""
        return tuple(lines), decided

    def name(self, event: str) -> str:
        return f"{self.say.event(event)} [{event}]"

    # -- the whole ------------------------------------------------------------

    def suspect(self) -> Iterator[Failure]:
        wanted = self.case.expect.first_suspect
        ranked = self.d.suspects()[:SHOWN]
        if not wanted or (ranked and ranked[0].event in {n.name for n in wanted}):
            return
        expected = "first suspect " + " or ".join(self.name(n.name) for n in wanted)
        if not ranked:
            yield Failure("first_suspect", expected, "nothing is open", where=wanted[0].where)
            return
        first = ranked[0]
        came = "; ".join(f"{self.name(e.event)} {percent(e.probability)}" for e in ranked)
        theirs = [self.d.events[n.name] for n in wanted]
        why = [f"{_WORDS[e.verdict]}, chance {percent(e.probability)}: {self.name(e.event)}" for e in theirs]
        lines, decided = self.open(first)
        why += [f"for the one that came first: {line}" for line in lines[:2]]
        yield Failure("first_suspect", expected, came, tuple(why), decided, wanted[0].where)

    def next(self) -> Iterator[Failure]:
        wanted = self.case.expect.next
        steps = first_steps(self.d)
        if not wanted or {n.name for n in wanted} & set(steps):
            return
        expected = "next " + " or ".join(self.step(n.name) for n in wanted)
        came = "; ".join(map(self.step, steps)) or "nothing is advised"
        saved = {c.check: c.saved for c in self.d.next_checks}
        why = [f"saves {saved[c.check]:.0f} min: {self.step(c.check)}" for c in self.d.next_checks[:SHOWN]]
        why += [f"saves {saved[n.name]:.0f} min: {self.step(n.name)}" for n in wanted if n.name in saved]
        why += [f"not allowed: {self.step(b.check)}" for b in self.d.blocked if b.check in {n.name for n in wanted}]
        yield Failure("next", expected, came, tuple(dict.fromkeys(why)), where=wanted[0].where)

    def step(self, name: str) -> str:
        words = self.say.check(name) if name in self.say.site.checks else self.say.remedy(name)
        return f"{words} [{name}]"

    def conflict(self) -> Iterator[Failure]:
        wanted = self.case.expect.conflict
        clashing = {f for c in self.d.conflicts for f in c.facts}
        why = tuple(self.clash(c.facts) for c in self.d.conflicts[:SHOWN])
        rows = tuple(f"under always/never of {sign}: {row}" for c in self.d.conflicts[:1] for sign, row in c.rows)
        if not wanted and clashing:
            last = max(clashing, key=lambda f: self.order.get(f, -1))
            yield Failure(
                "conflict", "facts that can hold together", "a conflict", why + rows, self.say.fact(last),
                self.case.where,
            )
        for n in wanted:
            if n.name not in clashing:
                came = "a conflict without it" if clashing else "no conflict"
                yield Failure("conflict", f"in conflict: {self.say.fact(n.name)}", came, why, where=n.where)

    def clash(self, facts: Iterable[str]) -> str:
        return "cannot all be true: " + "; ".join(map(self.say.fact, facts))
