"""Case files → cases ready to run; sites, and with them compiled circuits, are shared between cases."""

from __future__ import annotations

import os
from collections.abc import Iterable, Sequence
from datetime import datetime
from pathlib import Path

from faultkit.call import Call
from faultkit.cases.model import Case, CaseFile, CasePlan, Named
from faultkit.cases.reading import load_case_file
from faultkit.loading import call_of, load_site
from faultkit.model.catalogue import Catalogue
from faultkit.network.ir import NodeKind
from faultkit.network.join import join_site
from faultkit.network.site import Site
from faultkit.problems import InputError, Problem, Where, did_you_mean
from faultkit.reading import builtin_catalogue
from faultkit.reading.catalogue import holds_trees
from faultkit.reading.text import shown_path

__all__ = ["CASES", "Bench", "find_case_files", "folders_with_trees"]

#: How the name of a file of cases ends.
CASES = ".cases.yaml"


def find_case_files(paths: Iterable[str | os.PathLike[str]]) -> tuple[Path, ...]:
    """The ``*.cases.yaml`` below folders, and the files named themselves; InputError for a path that is neither."""
    found: dict[Path, Path] = {}
    problems: list[Problem] = []
    for path in map(Path, paths):
        if path.is_dir():
            inside = [p for p in sorted(path.rglob(f"*{CASES}")) if not _hidden(p.relative_to(path))]
        elif path.is_file():
            inside = [path]
        else:
            problems.append(Problem("there is no such file or folder", f"a folder, or a *{CASES}", _start(path)))
            continue
        for p in inside:
            found.setdefault(p.resolve(), p)
    if problems:
        raise InputError(problems)
    return tuple(found.values())


def folders_with_trees(files: Iterable[Path]) -> list[Path]:
    """Folders of case files that hold trees as well: those belong to the catalogue the cases are for.

    The built-in trees are in every catalogue and are left out.
    """
    builtin = builtin_catalogue().resolve()
    folders = dict.fromkeys(f.parent for f in files)
    return [f for f in folders if not f.resolve().is_relative_to(builtin) and holds_trees(f)]


def _hidden(path: Path) -> bool:
    return any(part.startswith(".") for part in path.parts)


def _start(path: Path) -> Where:
    return Where(shown_path(path), 1, 1)


class Bench:
    """Makes cases ready to run. Keeps every site it joined, so that cases share what was compiled for it."""

    def __init__(self, catalogue: Catalogue) -> None:
        self.catalogue = catalogue
        self._sites: dict[Path, Site] = {}

    def load_all(self, paths: Sequence[str | os.PathLike[str]]) -> tuple[Case, ...]:
        """The cases of some files, in order. InputError with every problem of all of them."""
        problems: list[Problem] = []
        cases: list[Case] = []
        for path in paths:
            try:
                cases += self.load(path)
            except InputError as fault:
                problems += fault.problems
        taken: dict[str, Case] = {}
        for case in cases:
            if case.full_name in taken:
                first = taken[case.full_name].where
                what = f"a case '{case.name}' of a set '{case.file}' stands in two files, first at {first}"
                problems.append(Problem(what, "a name of its own for the set", case.where))
            taken.setdefault(case.full_name, case)
        if problems:
            raise InputError(problems)
        return tuple(cases)

    def load(self, path: str | os.PathLike[str]) -> tuple[Case, ...]:
        """The cases of one file. InputError with every problem of it, or of its site."""
        plan = load_case_file(path)
        site = self._site(plan, Path(path).parent)
        problems: list[Problem] = []
        cases = [self._case(plan, case, site, problems) for case in plan.cases]
        if problems:
            raise InputError(problems)
        return tuple(c for c in cases if c is not None)

    def _site(self, plan: CaseFile, folder: Path) -> Site:
        if plan.plan is not None:
            return join_site(
                plan.plan,
                self.catalogue.types,
                self.catalogue.common,
                catalogue=self.catalogue.hash,
                calculators=self.catalogue.calculators,
            )
        path = folder / plan.site
        key = path.resolve()
        if key not in self._sites:
            if not path.exists():
                raise InputError(
                    [Problem(f"there is no site file '{plan.site}'", "a path relative to this file", plan.site_where)]
                )
            self._sites[key] = load_site(path, self.catalogue)
        return self._sites[key]

    def _case(self, file: CaseFile, plan: CasePlan, site: Site, problems: list[Problem]) -> Case | None:
        try:
            call = call_of(Call(site, plan.opened, f"{file.name}.{plan.name}", plan.story), plan.entries)
        except InputError as fault:
            problems += fault.problems
            return None
        problems += _unknown(plan, call)
        return Case(file.name, plan.name, plan.story, call, plan.expect, plan.known_to_fail, plan.where)


def _unknown(plan: CasePlan, call: Call) -> list[Problem]:
    """Names in the expectation that this site, or this call, does not have."""
    site, expect = call.site, plan.expect
    network = site.network(datetime.fromisoformat(plan.opened).month)
    events = [n.name for n in network.nodes if n.name in site.events or n.kind is NodeKind.LEAK]
    # A damaged part is a gate over what breaks it: its own name stands there.
    basic = [network.nodes[i].name for i in network.faults]
    wanted: list[tuple[str, Sequence[Named], Sequence[str]]] = [
        ("an event", (*expect.confirmed, *expect.not_confirmed, *expect.ruled_out, *expect.open), events),
        ("a basic event", expect.first_suspect, basic),
        ("a check or remedy", expect.next, [*site.checks, *site.remedies]),
    ]
    problems = [
        Problem(f"'{n.name}' is not {what} of this site", did_you_mean(n.name, known), n.where)
        for what, names, known in wanted
        for n in names
        if n.name not in set(known)
    ]
    ids = [e.id for e in call.entries]
    problems += [
        Problem(f"'{n.name}' is not an entry of this case", did_you_mean(n.name, ids), n.where)
        for n in expect.conflict
        if n.name not in ids
    ]
    return problems
