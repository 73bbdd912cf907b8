"""For pytest: every ``*.cases.yaml`` it meets is a file of tests, every case in it an item.

Installed as ``faultkit``; ``-p no:faultkit`` or ``faultkit_cases = false`` leaves it out. As
long as no such file is met nothing of faultkit beyond this module is imported.
"""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

import pytest

if TYPE_CHECKING:
    from faultkit.cases.bench import Bench
    from faultkit.cases.model import Case, Result

__all__ = ["CaseItem", "CasesFile", "pytest_addoption", "pytest_collect_file"]

_BENCHES: pytest.StashKey[dict[tuple[Path, ...], Bench]] = pytest.StashKey()


def pytest_addoption(parser: pytest.Parser) -> None:
    """Two settings: whether case files are collected, and further folders of trees."""
    parser.addini("faultkit_cases", "collect *.cases.yaml (default: true)", type="bool", default=True)
    parser.addini("faultkit_catalogue", "folders of equipment types besides the installed ones", type="paths")


def pytest_collect_file(file_path: Path, parent: pytest.Collector) -> CasesFile | None:
    """A collector for a file of cases."""
    if file_path.name.endswith(".cases.yaml") and parent.config.getini("faultkit_cases"):
        return CasesFile.from_parent(parent, path=file_path)
    return None


class CasesFile(pytest.File):
    """A ``*.cases.yaml``."""

    def collect(self) -> Iterable[pytest.Item]:
        """Its cases; a file that cannot be used is one error with all its problems."""
        from faultkit.problems import InputError

        try:
            cases = self._bench().load(self.path)
        except InputError as fault:
            raise self.CollectError(str(fault)) from None
        for case in cases:
            yield CaseItem.from_parent(self, name=case.name, case=case)

    def _bench(self) -> Bench:
        """The bench of this run for the trees of this folder: catalogue and sites are read once."""
        from faultkit.cases.bench import Bench, folders_with_trees
        from faultkit.loading import load_catalogue

        kept = self.config.stash.setdefault(_BENCHES, {})
        folders = (*self.config.getini("faultkit_catalogue"), *folders_with_trees([self.path]))
        if folders not in kept:
            kept[folders] = Bench(load_catalogue(folders))
        return kept[folders]


class UnmetError(Exception):
    """A case whose expectations were not met."""

    def __init__(self, result: Result) -> None:
        self.result = result
        super().__init__(result.case.full_name)


class CaseItem(pytest.Item):
    """One case."""

    def __init__(self, *, case: Case, **more: Any) -> None:
        super().__init__(**more)
        self.case = case
        if case.known_to_fail:
            # Strict: a case that passes has to lose its reason.
            self.add_marker(pytest.mark.xfail(reason=case.known_to_fail, raises=UnmetError, strict=True))

    def runtest(self) -> None:
        """Diagnose and judge."""
        from faultkit.cases.run import run_case

        result = run_case(self.case)
        if result.failures:
            raise UnmetError(result)

    def repr_failure(self, excinfo: pytest.ExceptionInfo[BaseException], style: Any = None) -> Any:
        """What was expected, what came, and why: no traceback."""
        from faultkit.cases.words import result_lines
        from faultkit.problems import InputError

        if isinstance(excinfo.value, UnmetError):
            return "\n".join(result_lines(excinfo.value.result))
        if isinstance(excinfo.value, InputError):
            return str(excinfo.value)
        return super().repr_failure(excinfo, style)

    def reportinfo(self) -> tuple[Path, int | None, str]:
        """File, line (from 0) and name of the case."""
        where = self.case.where
        return self.path, where.line - 1 if where else None, f"case {self.case.full_name}"
