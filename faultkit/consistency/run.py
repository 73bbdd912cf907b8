"""One run over a catalogue: load, check, take what is meant apart."""

from __future__ import annotations

import os
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from faultkit.consistency.checks.f101_loading import from_problems
from faultkit.consistency.exceptions import Allowance, comments, configured, sort_out
from faultkit.consistency.finding import Finding, Severity
from faultkit.consistency.rules import BY_CODE, RULES
from faultkit.consistency.subject import Subject
from faultkit.consistency.testability.baseline import read_baseline, write_baseline
from faultkit.consistency.testability.report import Testability, testability_of
from faultkit.consistency.tidy import once, tidy
from faultkit.faulttree.diagram import TooLargeError
from faultkit.loading import load_call, load_site
from faultkit.model.catalogue import Catalogue
from faultkit.model.types import EquipmentType
from faultkit.plugins import load_plugins
from faultkit.problems import InputError, Problem, Where
from faultkit.reading.catalogue import read_catalogue
from faultkit.reading.parse import parse_file
from faultkit.reading.text import read_bytes, readable_text, shown_path, split_lines
from faultkit.reading.validate import kind_of_file

__all__ = ["Report", "check_catalogue"]

_OTHER = ("site", "call")


@dataclass(frozen=True, slots=True)
class Report:
    """What a run found. ``meant`` are findings with the exception that allows them.

    ``types`` are the equipment types looked at, ``testability`` their reports where asked for,
    ``baselines`` the files written, ``broken`` the plugins left out. ``thresholds`` counts the cuts
    written, and those of them that name a source of their own; the others inherit one or have none.
    """

    findings: tuple[Finding, ...]
    meant: tuple[tuple[Finding, Allowance], ...] = ()
    types: tuple[str, ...] = ()
    files: tuple[str, ...] = ()
    testability: tuple[Testability, ...] = ()
    baselines: tuple[str, ...] = ()
    broken: tuple[str, ...] = ()
    thresholds: tuple[int, int] = (0, 0)

    def count(self, severity: Severity) -> int:
        """How many findings weigh so much."""
        return sum(f.severity is severity for f in self.findings)

    @property
    def clean(self) -> bool:
        """Neither errors nor warnings."""
        return not (self.count(Severity.ERROR) or self.count(Severity.WARNING))


class _Scope:
    """Which files a run speaks of: those below the paths given, all without any."""

    def __init__(self, paths: Sequence[Path]) -> None:
        self.paths = [p.resolve() for p in paths]

    def holds(self, file: str | Path) -> bool:
        """Whether a file lies in it."""
        real = Path(file).resolve()
        return not self.paths or any(p == real or p in real.parents for p in self.paths)

    def touches(self, kind: EquipmentType) -> bool:
        """Whether a type, or a section it includes, lies in it."""
        places = [kind.where, *(e.where for e in kind.events.values()), *(r.where for r in kind.readings.values())]
        places += [*(c.where for c in kind.checks.values()), *(r.where for r in kind.remedies.values())]
        return any(self.holds(f) for f in {w.file for w in places if w is not None})

    def speaks_of(self, finding: Finding) -> bool:
        """Whether a finding is to be shown; what cannot be loaded always is."""
        return finding.where is None or finding.code == "F101" or self.holds(finding.where.file)


def check_catalogue(
    paths: Sequence[str | os.PathLike[str]] = (),
    *,
    catalogue: Sequence[str | os.PathLike[str]] = (),
    alone: bool = False,
    strict: bool = False,
    covered: Mapping[str, frozenset[str]] | None = None,
    testability: bool = False,
    update_baseline: bool = False,
) -> Report:
    """Check the built-in catalogue and installed plugins, or what lies below ``paths``.

    ``paths`` may be folders, catalogue files, sites and calls; what they need of the installed catalogue
    (unless ``alone``) and of further ``catalogue`` folders is loaded beside them but not spoken of.
    ``covered`` maps types to the events that cases confirm. Raises InputError for paths, settings or
    baselines that cannot be read; mistakes in the catalogue are findings.
    """
    given = [Path(p) for p in paths]
    _exist(given)
    scope = _Scope(given)
    files = _load(given, [Path(c) for c in catalogue], alone=alone, strict=strict)
    if files.problems:
        return Report(tidy(from_problems(files.problems)), files=files.catalogue.files, broken=files.broken)
    subject = _subject(files.catalogue, scope, covered)
    undecided = _undecided_types(subject)
    written = _write(subject, files.roots, scope) if update_baseline else ()
    subject.baselines = _baselines(files.roots)
    standing, meant = _sorted_out(
        [*_read_others(files), *undecided, *_run(subject)], subject, files.roots, scope
    )
    types = tuple(n for n, t in files.catalogue.types.items() if t.where is None or scope.holds(t.where.file))
    return Report(
        standing,
        meant,
        types,
        (*(f for f in files.catalogue.files if scope.holds(f)), *(shown_path(p) for p in files.others)),
        tuple(testability_of(subject, n) for n in types if n in subject.views) if testability else (),
        written,
        files.broken,
        _thresholds(files.catalogue, scope),
    )


@dataclass(frozen=True, slots=True)
class _Files:
    """What a run reads: the catalogue below ``roots``, ``others`` (sites and calls), or the problems."""

    catalogue: Catalogue
    roots: tuple[Path, ...]
    others: tuple[Path, ...]
    problems: tuple[Problem, ...]
    broken: tuple[str, ...]


def _load(given: Sequence[Path], beside: Sequence[Path], *, alone: bool, strict: bool) -> _Files:
    others = tuple(p for p in given if p.is_file() and _kind(p) in _OTHER)
    plugins = load_plugins(strict=strict, installed=not alone)
    roots = [*(() if alone else plugins.folders), *beside]
    roots += _new_roots([p for p in given if p not in others], roots)
    problems: list[Problem] = []
    catalogue = replace(read_catalogue(roots, problems), calculators=plugins.calculators)
    scope = _Scope(given)
    if not problems and not others and not any(scope.holds(f) for f in catalogue.files):
        shown = ", ".join(str(p) for p in given) or "no folder"
        raise InputError(f"nothing to check: {shown} holds no catalogue file", "a folder with equipment files")
    broken = tuple(str(b.problem().render()) for b in plugins.broken)
    return _Files(catalogue, tuple(roots), others, tuple(problems), broken)


def _subject(loaded: Catalogue, scope: _Scope, covered: Mapping[str, frozenset[str]] | None) -> Subject:
    return Subject(
        loaded,
        loaded.calculators,
        covered,
        {f: _lines(f) for f in loaded.files},
        wanted=frozenset(n for n, t in loaded.types.items() if scope.touches(t)),
    )


def _sorted_out(
    found: Iterable[Finding], subject: Subject, roots: Iterable[Path], scope: _Scope
) -> tuple[tuple[Finding, ...], tuple[tuple[Finding, Allowance], ...]]:
    """Findings that stand, and those that are meant."""
    allowed, bad = comments(subject.lines)
    allowed += [a for root in roots for a in configured(root)]
    kept, meant, unused = sort_out(found, allowed)
    standing = tidy(f for f in (*kept, *bad, *unused) if scope.speaks_of(f))
    return standing, once((f, a) for f, a in meant if scope.speaks_of(f))


def _thresholds(catalogue: Catalogue, scope: _Scope) -> tuple[int, int]:
    """Cuts as written (a copy of a part adds none), and those with a source of their own."""
    own: dict[Where, bool] = {}
    for kind in catalogue.types.values():
        for o in kind.observables().values():
            for cut in o.cuts:
                if cut.where is not None and scope.holds(cut.where.file):
                    own[cut.where] = cut.basis is not None and not cut.basis.inherited
    return len(own), sum(own.values())


def _exist(paths: Iterable[Path]) -> None:
    missing = [p for p in paths if not p.exists()]
    if missing:
        raise InputError([Problem(f"there is no '{p}'", "a folder or file of a catalogue") for p in missing])


def _kind(path: Path) -> str:
    """The kind of a file by its head; '' where it cannot be told (the loader will say why)."""
    node = parse_file(path, [])
    return (kind_of_file(node, []) or "") if node is not None else ""


def _new_roots(paths: Sequence[Path], roots: Sequence[Path]) -> list[Path]:
    """Folders to load so that every path is read: not those that lie below one that is loaded anyway."""
    known = [r.resolve() for r in roots]
    found: list[Path] = []
    for path in paths:
        folder = path if path.is_dir() else path.parent
        real = folder.resolve()
        if not any(k == real or k in real.parents for k in known):
            known.append(real)
            found.append(folder)
    return found


def _read_others(files: _Files) -> list[Finding]:
    """Mistakes of site and call files."""
    found: list[Finding] = []
    for path in files.others:
        try:
            if _kind(path) == "site":
                load_site(path, files.catalogue)
            else:
                load_call(path, files.catalogue)
        except InputError as fault:
            found += from_problems(fault.problems)
    return found


def _lines(file: str) -> Sequence[str]:
    ignored: list[Problem] = []
    data = read_bytes(file, ignored)
    text = readable_text(data, file, ignored) if data is not None else None
    return split_lines(text) if text is not None else ()


def _baselines(roots: Iterable[Path]) -> dict[str, Mapping[str, Any]]:
    found: dict[str, Mapping[str, Any]] = {}
    for root in roots:
        found.update(read_baseline(root))
    return found


def _undecided_types(subject: Subject) -> list[Finding]:
    """Types whose diagrams do not fit are said and left out: the others are still proved."""
    found: list[Finding] = []
    for name, view in list(subject.views.items()):
        try:
            view.logic_of(next(view.configurations()))
        except TooLargeError as fault:
            del subject.views[name]
            found.append(_undecided(f"nothing is proved about '{name}': {fault.problems[0].what}", view.kind))
    return found


def _run(subject: Subject) -> list[Finding]:
    found: list[Finding] = []
    for rule in RULES:
        if rule.run is None:
            continue
        try:
            found += rule.run(subject)
        except TooLargeError as fault:
            found.append(_undecided(f"{rule.code} could not be decided: {fault.problems[0].what}"))
    return found


def _undecided(what: str, kind: EquipmentType | None = None) -> Finding:
    cure = "smaller types: sections with fewer gates over the same events, or two types joined"
    where, name = (kind.where, kind.name) if kind is not None else (None, "")
    return BY_CODE["X903"].found(what, cure, where, equipment=name, name=name)


def _write(subject: Subject, roots: Iterable[Path], scope: _Scope) -> tuple[str, ...]:
    """A new baseline for each folder spoken of."""
    written = []
    for root in roots:
        below = _Scope([root])
        kinds = [v.kind for v in subject.views.values() if v.kind.where and below.holds(v.kind.where.file)]
        reports = [testability_of(subject, t.name) for t in kinds]
        if reports and scope.holds(root):
            written.append(str(write_baseline(root, reports)))
    if not written:
        raise InputError("no baseline was written", "the top folder of a catalogue among the paths")
    return tuple(written)
