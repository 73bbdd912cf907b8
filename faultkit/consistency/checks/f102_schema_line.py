"""F102: a file whose first line names no JSON Schema, or the wrong one, so that editors cannot help."""

from __future__ import annotations

import re
from collections.abc import Iterator

from faultkit.consistency.finding import Finding, Rule, Severity
from faultkit.consistency.subject import Subject
from faultkit.problems import Where

__all__ = ["RULE"]

_LINE = re.compile(r"#\s*yaml-language-server:\s*\$schema=(\S+)")
_HEAD = re.compile(r"^(equipment|section|common):")


def _run(subject: Subject) -> Iterator[Finding]:
    for file, lines in subject.lines.items():
        kind = next((m[1] for line in lines if (m := _HEAD.match(line))), "")
        named = _LINE.search(lines[0]) if lines else None
        if not kind or (named and f"{kind}." in named[1].rsplit("/", 1)[-1]):
            continue
        where = Where(file, 1, 1, lines[0])
        wanted = f"# yaml-language-server: $schema=<path to schemas>/{kind}.v1.json"
        if named is None:
            yield RULE.found("the first line names no schema: an editor cannot complete or check", wanted, where)
        else:
            yield RULE.found(f"the schema line names '{named[1]}', the file holds {kind}", wanted, where)


RULE = Rule("F102", "schema-line", "A file without its schema line", Severity.WARNING, _run)
