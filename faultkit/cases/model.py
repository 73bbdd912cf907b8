"""Frozen types of cases: a call, and what must come of it."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from faultkit.call import Call
from faultkit.diagnosis.result import Diagnosis
from faultkit.model.site import SitePlan
from faultkit.problems import Where
from faultkit.reading.call import Entries

__all__ = ["Case", "CaseFile", "CasePlan", "Expectation", "Failure", "Floors", "Named", "Outcome", "Result"]


@dataclass(frozen=True, slots=True)
class Named:
    """A name as it stands in a file: an event, a check or remedy, an entry."""

    name: str
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Expectation:
    """What must come of a case.

    ``first_suspect`` and ``next`` list what would be acceptable there. Without
    ``conflict`` the facts must hold together.
    """

    confirmed: tuple[Named, ...] = ()
    not_confirmed: tuple[Named, ...] = ()
    ruled_out: tuple[Named, ...] = ()
    open: tuple[Named, ...] = ()
    first_suspect: tuple[Named, ...] = ()
    next: tuple[Named, ...] = ()
    conflict: tuple[Named, ...] = ()


@dataclass(frozen=True, slots=True)
class CasePlan:
    """A case as written; ``opened`` is ISO text, ``known_to_fail`` the reason where there is one."""

    name: str
    story: str
    opened: str
    entries: Entries
    expect: Expectation
    known_to_fail: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class CaseFile:
    """A ``*.cases.yaml`` as written: either ``site``, the path of a site file as it stands, or ``plan``."""

    name: str
    title: str
    path: str
    site: str
    plan: SitePlan | None
    cases: tuple[CasePlan, ...]
    site_where: Where | None = field(default=None, compare=False, repr=False)


@dataclass(frozen=True, slots=True)
class Case:
    """A case whose call is ready to be diagnosed. ``file`` is the name of its set."""

    file: str
    name: str
    story: str
    call: Call
    expect: Expectation
    known_to_fail: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)

    @property
    def full_name(self) -> str:
        """Set and case: ``undercounter_base.left_fan_burnt``."""
        return f"{self.file}.{self.name}"


@dataclass(frozen=True, slots=True)
class Failure:
    """One expectation that was not met.

    ``key`` is the word of the file (confirmed, next …), ``expected`` and ``came`` say it in
    words; ``why`` holds lines with the proof or the chances, ``decided_by`` the fact
    (with its id) that decided, '' where none did.
    """

    key: str
    expected: str
    came: str
    why: tuple[str, ...] = ()
    decided_by: str = ""
    where: Where | None = field(default=None, compare=False, repr=False)


class Outcome(StrEnum):
    """How a case went. ``KNOWN``: it fails and says so itself. ``FIXED``: it says so, and passes."""

    PASSED = "passed"
    FAILED = "failed"
    KNOWN = "known_to_fail"
    FIXED = "no_longer_fails"


@dataclass(frozen=True, slots=True)
class Result:
    """What came of a case; ``seconds`` is the time its diagnosis took."""

    case: Case
    diagnosis: Diagnosis = field(repr=False)
    failures: tuple[Failure, ...]
    seconds: float = field(default=0.0, compare=False)

    @property
    def outcome(self) -> Outcome:
        """A case known to fail must fail: once it passes, its reason has to go."""
        if self.case.known_to_fail:
            return Outcome.KNOWN if self.failures else Outcome.FIXED
        return Outcome.FAILED if self.failures else Outcome.PASSED

    @property
    def good(self) -> bool:
        """Whether this outcome lets a run pass."""
        return self.outcome in {Outcome.PASSED, Outcome.KNOWN}


#: Least shares in percent: equipment type → events, rows, checks or remedies → percent, and where it is asked for.
Floors = Mapping[str, Mapping[str, tuple[float, Where]]]
