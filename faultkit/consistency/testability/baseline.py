"""The testability that was reached before: it may get better, not worse."""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator, Mapping
from pathlib import Path
from typing import Any

from faultkit.consistency.testability.report import Testability
from faultkit.problems import InputError, Problem, Where

__all__ = ["BASELINE", "accepted", "read_baseline", "worse", "write_baseline"]

#: Name of the file in the top folder of a catalogue.
BASELINE = "testability.baseline.json"

_HIGHER = (
    "fraction_detected", "weighted_fraction_detected", "fraction_isolated", "fraction_isolated_to_remedies",
)
_LOWER = ("mean_group_size", "expected_group_size", "mean_remedies_in_group")
_DIGITS = 6
#: Half a unit of the last digit kept.
_ROUNDING = 0.51e-6


def accepted(report: Testability) -> dict[str, Any]:
    """What a baseline keeps of a report."""
    data = report.to_dict()
    return {
        "metrics": {k: _rounded(v) for k, v in data["metrics"].items()},
        "ambiguity_groups": data["ambiguity_groups"],
        "masked": data["masked"],
        "redundant_checks": data["redundant_checks"],
    }


def _rounded(value: Any) -> Any:
    if isinstance(value, list):
        return [_rounded(v) for v in value]
    return round(value, _DIGITS) if isinstance(value, float) else value


def write_baseline(folder: Path, reports: Iterable[Testability]) -> Path:
    """Write the baseline of a catalogue's top folder. InputError where that is not allowed."""
    data = {"schema": 1, "kind": "testability", "types": {r.equipment: accepted(r) for r in reports}}
    path = folder / BASELINE
    try:
        path.write_text(json.dumps(data, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
    except OSError as error:
        raise InputError(f"{path} cannot be written: {error.strerror}", "a folder that may be written") from None
    return path


def read_baseline(folder: Path) -> Mapping[str, Mapping[str, Any]]:
    """What was accepted, by type; nothing where there is no file. InputError for one that cannot be read."""
    path = folder / BASELINE
    if not path.is_file():
        return {}
    where = Where(str(path), 1, 1)
    try:
        data = json.loads(path.read_text(encoding="utf-8"))
    except (OSError, ValueError) as error:
        raise InputError([Problem(f"the baseline cannot be read: {error}", "write it again", where)]) from None
    types = data.get("types") if isinstance(data, dict) and data.get("schema") == 1 else None
    if not isinstance(types, dict) or not all(_whole(t) for t in types.values()):
        raise InputError([Problem("this is no testability baseline", "write it again", where)])
    return types


def _whole(entry: object) -> bool:
    return (
        isinstance(entry, dict)
        and isinstance(entry.get("metrics"), dict)
        and _names(entry.get("redundant_checks"))
        and isinstance(entry.get("ambiguity_groups"), list)
        and all(map(_names, entry["ambiguity_groups"]))
        and isinstance(entry.get("masked"), list)
        and all(isinstance(m, dict) and _names([m.get("fault")]) and _names(m.get("by")) for m in entry["masked"])
    )


def _names(value: object) -> bool:
    return isinstance(value, list) and all(isinstance(v, str) for v in value)


def worse(report: Testability, before: Mapping[str, Any]) -> Iterator[tuple[str, float, float]]:
    """Figures that got worse: name, before, now."""
    now = report.metrics.to_dict()
    for name in (*_HIGHER, *_LOWER):
        old, new = before.get("metrics", {}).get(name), now[name]
        olds, news = (v if isinstance(v, list) else [v] for v in (old, new))
        for n, (a, b) in enumerate(zip(olds, news, strict=False)):
            if not isinstance(a, int | float):
                continue
            loss = a - b if name in _HIGHER else b - a
            if loss > _ROUNDING:
                yield (f"{name} to {n + 1}" if isinstance(new, list) else name), float(a), float(b)
