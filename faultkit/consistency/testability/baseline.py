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
    """Write the baseline of a catalogue's top folder."""
    data = {"schema": 1, "kind": "testability", "types": {r.equipment: accepted(r) for r in reports}}
    path = folder / BASELINE
    path.write_text(json.dumps(data, indent=2, ensure_ascii=False) + "\n", encoding="utf-8")
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
    lists = ("ambiguity_groups", "masked", "redundant_checks")
    return (
        isinstance(entry, dict)
        and isinstance(entry.get("metrics"), dict)
        and all(isinstance(entry.get(k), list) for k in lists)
        and all(isinstance(m, dict) and m.keys() >= {"fault", "by"} for m in entry["masked"])
    )


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
