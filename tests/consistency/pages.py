"""The examples of a check's page, checked as a catalogue of their own."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from pathlib import Path

from faultkit.consistency import Finding, Report, Severity, check_catalogue, explain

__all__ = ["Page", "PageOf", "pointed", "sections"]

_HEAD = re.compile(r"^(?:equipment|section|common): (\w+)", re.MULTILINE)


def sections(text: str) -> dict[str, str]:
    """Heading → body of a markdown page."""
    parts = re.split(r"^## (.+)$", text, flags=re.MULTILINE)
    return dict(zip(parts[1::2], parts[2::2], strict=True))


def pointed(finding: Finding) -> str:
    """What stands at the place of a finding, up to a colon, bracket or comma."""
    assert finding.where is not None
    text = finding.where.text[finding.where.column - 1 :]
    found = re.match(r"\{?[\w.% ]+(?:, no_power)?", text)
    return found[0].strip() if found else text


@dataclass(frozen=True)
class PageOf:
    """One page; each example is written to a folder of its own and checked alone."""

    code: str
    folder: Path

    @property
    def bad_texts(self) -> list[str]:
        return _yaml(sections(explain(self.code))["Bad example"])

    @property
    def good_texts(self) -> list[str]:
        return _yaml(sections(explain(self.code))["Good example"])

    def bad(self, covered: Mapping[str, frozenset[str]] | None = None) -> list[Finding]:
        """What the check itself finds in the bad example."""
        report = self._check("bad", self.bad_texts, covered)
        return [f for f in report.findings if f.code == self.code]

    def good(self) -> list[Finding]:
        """Every error and warning, of any check, in the good example."""
        report = self._check("good", self.good_texts, None)
        return [f for f in report.findings if f.severity is not Severity.NOTE]

    def _check(self, name: str, texts: list[str], covered: Mapping[str, frozenset[str]] | None) -> Report:
        folder = self.folder / self.code / name
        folder.mkdir(parents=True, exist_ok=True)
        for text in texts:
            head = _HEAD.search(text)
            assert head is not None
            (folder / f"{head[1]}.yaml").write_text(text, encoding="utf-8")
        return check_catalogue([folder], alone=True, covered=covered)


#: What the fixture gives: the page of a code.
Page = Callable[[str], PageOf]


def _yaml(text: str) -> list[str]:
    return re.findall(r"^```yaml\n(.*?)^```$", text, flags=re.MULTILINE | re.DOTALL)
