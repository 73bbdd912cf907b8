"""Exceptions: what is meant as it is, with the reason, in a comment or in the settings file."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import dataclass
from fnmatch import fnmatchcase
from pathlib import Path
from typing import Any

from faultkit.consistency.finding import Finding
from faultkit.consistency.rules import BY_CODE
from faultkit.problems import InputError, Problem, Where, did_you_mean
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_file

__all__ = ["SETTINGS", "Allowance", "comments", "configured", "sort_out"]

#: Name of the settings file in the top folder of a catalogue; the dot keeps it out of the catalogue itself.
SETTINGS = ".faultkit-check.yaml"

_COMMENT = re.compile(r"(?:^|\s)#\s*faultkit:\s*(.*)$")
_ALLOW = re.compile(r"allow\s+([A-Z]\d{3}(?:\s*,\s*[A-Z]\d{3})*)\s+because\s+(\S.*)", re.IGNORECASE)
_KEYS = ("code", "file", "name", "because")
_HOW = "# faultkit: allow CODE because REASON"
#: An exception cannot except what says that exceptions are wrong, nor files that cannot be used.
_NEVER = ("F101", "X901", "X902")


@dataclass(frozen=True, slots=True)
class Allowance:
    """One exception. ``line`` is the line it counts for, 0 for one of the settings file; globs may be ''."""

    code: str
    reason: str
    where: Where
    line: int = 0
    file: str = ""
    name: str = ""

    def covers(self, finding: Finding) -> bool:
        """Whether a finding is meant."""
        if finding.code != self.code or finding.where is None:
            return False
        if self.line:
            return finding.where.file == self.where.file and finding.where.line == self.line
        file = Path(finding.where.file)
        return (not self.file or fnmatchcase(file.name, self.file) or fnmatchcase(file.as_posix(), self.file)) and (
            not self.name or fnmatchcase(finding.name, self.name)
        )


def comments(files: Mapping[str, Sequence[str]]) -> tuple[list[Allowance], list[Finding]]:
    """Exceptions written in the files, and those that cannot count."""
    found: list[Allowance] = []
    bad: list[Finding] = []
    for file, lines in files.items():
        for n, line in enumerate(lines):
            comment = _COMMENT.search(line)
            if comment is None:
                continue
            where = Where(file, n + 1, comment.start() + 1, line)
            allow = _ALLOW.fullmatch(comment[1].strip())
            if allow is None:
                bad.append(BY_CODE["X901"].found("this exception has no code or no reason", _HOW, where))
                continue
            for code in re.split(r"\s*,\s*", allow[1]):
                fault = _fault(code)
                if fault is not None:
                    bad.append(BY_CODE["X901"].found(*fault, where))
                else:
                    found.append(Allowance(code, allow[2].strip(), where, _meant(lines, n)))
    return found, bad


def _fault(code: str) -> tuple[str, str] | None:
    if code not in BY_CODE:
        return f"there is no check '{code}'", did_you_mean(code, BY_CODE, cutoff=0.5)
    if code in _NEVER:
        return f"'{code}' allows no exception", "the mistake mended"
    return None


def _meant(lines: Sequence[str], n: int) -> int:
    """The line (from 1) that a comment counts for: its own, or the next that is no comment."""
    if not lines[n].lstrip().startswith("#"):
        return n + 1
    for k in range(n + 1, len(lines)):
        if lines[k].strip() and not lines[k].lstrip().startswith("#"):
            return k + 1
    return n + 1


def configured(folder: Path) -> list[Allowance]:
    """Exceptions of a folder's settings file; none where there is no file. InputError for a bad one."""
    path = folder / SETTINGS
    if not path.is_file():
        return []
    problems: list[Problem] = []
    node = parse_file(path, problems)
    found = list(_entries(node, problems)) if node is not None else []
    if problems:
        raise InputError(problems)
    return found


def _entries(node: Node, problems: list[Problem]) -> Iterator[Allowance]:
    version, allow = node.get("schema"), node.get("allow")
    if version is None or version.value != 1:
        problems.append(Problem("the settings do not say their format", "schema: 1", node.where))
    problems += [
        Problem(f"'{key}' is no key of the settings", "schema and allow", node.at_key(key))
        for key in node.keys
        if key not in ("schema", "allow")
    ]
    for entry in allow.list() if allow is not None else ():
        made = _entry(entry, problems)
        if made is not None:
            yield made


def _entry(entry: Node, problems: list[Problem]) -> Allowance | None:
    wrong = [k for k in entry.keys if k not in _KEYS]
    if not entry.is_map or wrong:
        where = entry.at_key(wrong[0]) if wrong else entry.where
        problems.append(Problem("this is no exception", "{code: …, because: …}, with file: and name: if wanted", where))
        return None
    values: dict[str, Any] = {k: entry.text(k) for k in _KEYS}
    if not values["because"].strip():
        problems.append(Problem("an exception without a reason", "because: <why it is meant>", entry.where))
        return None
    fault = _fault(values["code"])
    if fault is not None:
        problems.append(Problem(*fault, entry.at_key("code")))
        return None
    return Allowance(values["code"], values["because"], entry.where, 0, values["file"], values["name"])


def sort_out(
    findings: Iterable[Finding], allowances: Sequence[Allowance]
) -> tuple[list[Finding], list[tuple[Finding, Allowance]], list[Finding]]:
    """Findings that stand, those that are meant with the exception, and unused exceptions as findings."""
    kept: list[Finding] = []
    meant: list[tuple[Finding, Allowance]] = []
    used: set[int] = set()
    for finding in findings:
        by = [n for n, a in enumerate(allowances) if a.covers(finding)]
        used.update(by)
        if by:
            meant.append((finding, allowances[by[0]]))
        else:
            kept.append(finding)
    unused = [
        BY_CODE["X902"].found(f"nothing is found here that '{a.code}' would say", "the exception taken away", a.where)
        for n, a in enumerate(allowances)
        if n not in used
    ]
    return kept, meant, unused
