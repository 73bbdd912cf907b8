"""What a change of the catalogue does to recorded calls: verdicts, first suspects, next steps."""

from __future__ import annotations

import os
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path

from faultkit.call import Call
from faultkit.cases.bench import CASES, Bench
from faultkit.cases.run import first_steps
from faultkit.diagnosis.result import Diagnosis
from faultkit.loading import load_call
from faultkit.model.catalogue import Catalogue
from faultkit.problems import InputError, Problem, Where

__all__ = ["CallChange", "VerdictChange", "compare_calls", "find_calls"]


@dataclass(frozen=True, slots=True)
class VerdictChange:
    """An event with another verdict; '' where the catalogue does not have it."""

    event: str
    old: str
    new: str


@dataclass(frozen=True, slots=True)
class CallChange:
    """What comes out differently for one call.

    ``first_suspect``, ``next`` and ``consistent`` are (old, new), equal where nothing changed;
    ``chance`` is that of each first suspect. ``broken`` says why a catalogue
    cannot diagnose it: (old, new), '' where it can.
    """

    name: str
    verdicts: tuple[VerdictChange, ...] = ()
    first_suspect: tuple[str, str] = ("", "")
    chance: tuple[float, float] = (0.0, 0.0)
    next: tuple[str, str] = ("", "")
    consistent: tuple[bool, bool] = (True, True)
    broken: tuple[str, str] = ("", "")

    @property
    def same(self) -> bool:
        """Whether nothing a technician would see first has changed."""
        pairs = (self.first_suspect, self.next, self.consistent)
        return not self.verdicts and all(a == b for a, b in pairs) and not any(self.broken)


def find_calls(folder: str | os.PathLike[str]) -> tuple[Path, ...]:
    """The ``*.call.yaml`` and ``*.cases.yaml`` below a folder; InputError where there are none."""
    top = Path(folder)
    found = [p for end in (".call.yaml", CASES) for p in top.rglob(f"*{end}")]
    if not found:
        raise InputError([Problem("no *.call.yaml or *.cases.yaml here", "a folder of calls", Where(str(top), 1, 1))])
    return tuple(sorted(found))


def compare_calls(paths: tuple[Path, ...], old: Catalogue, new: Catalogue) -> tuple[CallChange, ...]:
    """Each call of some files, diagnosed with both catalogues. InputError where neither can read a file."""
    sides = (Bench(old), Bench(new))
    out: list[CallChange] = []
    problems: list[Problem] = []
    for path in paths:
        before, after = (_load(path, bench) for bench in sides)
        if isinstance(before, InputError) and isinstance(after, InputError):
            problems += before.problems
            continue
        if isinstance(before, InputError) or isinstance(after, InputError):
            out.append(CallChange(str(path), broken=(_why(before), _why(after))))
            continue
        out += [_compare(name, before[name], after[name]) for name in before]
    if problems:
        raise InputError(problems)
    return tuple(out)


def _load(path: Path, bench: Bench) -> Mapping[str, Call] | InputError:
    try:
        if path.name.endswith(CASES):
            return {c.full_name: c.call for c in bench.load(path)}
        call = load_call(path, bench.catalogue)
    except InputError as fault:
        return fault
    return {call.name: call}


def _why(side: object) -> str:
    return str(side.problems[0].render().splitlines()[0]) if isinstance(side, InputError) else ""


def _compare(name: str, old: Call, new: Call) -> CallChange:
    before, after = (_diagnose(c) for c in (old, new))
    if isinstance(before, InputError) or isinstance(after, InputError):
        return CallChange(name, broken=(_why(before), _why(after)))
    firsts = [next(iter(d.suspects()), None) for d in (before, after)]
    return CallChange(
        name,
        tuple(_verdicts(before, after)),
        (firsts[0].event if firsts[0] else "", firsts[1].event if firsts[1] else ""),
        (firsts[0].probability.middle if firsts[0] else 0.0, firsts[1].probability.middle if firsts[1] else 0.0),
        (", ".join(first_steps(before)), ", ".join(first_steps(after))),
        (before.consistent, after.consistent),
    )


def _diagnose(call: Call) -> Diagnosis | InputError:
    try:
        return call.diagnose()
    except InputError as fault:
        return fault


def _verdicts(before: Diagnosis, after: Diagnosis) -> Iterator[VerdictChange]:
    for event in dict.fromkeys((*before.events, *after.events)):
        old, new = (d.events[event].verdict.value if event in d.events else "" for d in (before, after))
        # An open event that only one catalogue knows is a change of the catalogue, not of the call.
        if old != new and {old, new} not in ({"", "open"}, {"", "unknown"}):
            yield VerdictChange(event, old, new)
