"""How a report is written: one module for each format."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from types import MappingProxyType

from faultkit.consistency.formats.github import to_github
from faultkit.consistency.formats.json_text import to_json
from faultkit.consistency.formats.junit import to_junit
from faultkit.consistency.formats.sarif import to_sarif
from faultkit.consistency.formats.text import to_text
from faultkit.consistency.run import Report

__all__ = ["FORMATS"]

FORMATS: Mapping[str, Callable[[Report], str]] = MappingProxyType(
    {"text": to_text, "json": to_json, "sarif": to_sarif, "github": to_github, "junit": to_junit}
)
