"""Which findings are abnormal, and which of these still stand."""

from __future__ import annotations

from faultkit.diagnosis.belief import Belief
from faultkit.network.ir import plain, since

__all__ = ["abnormal_rows", "standing_rows"]

#: A finding is abnormal when its bands come less often than this where no row holds.
ABNORMAL = 0.5

#: Likelihoods closer than this are equal: no finding is abnormal by rounding.
ROUNDING = 1e-9


def abnormal_rows(belief: Belief) -> dict[str, tuple[int, ...]]:
    """Abnormal findings, each with the positions of the rows that make it likelier than ``otherwise``.

    What was seen in the last stage it was looked at in counts.
    """
    out: dict[str, tuple[int, ...]] = {}
    for name, finding in belief.findings.items():
        sign = belief.signs[name]
        # A last row of ones gives what the looks agree on: nothing where instruments contradict each other.
        *raw, agreed = finding.latest.rows((*sign.chances, (1.0,) * len(sign.bands)))
        if raw[-1] < ABNORMAL * agreed * (1.0 - ROUNDING):
            likelier = raw[-1] * (1.0 + ROUNDING)
            out[name] = tuple(j for j in range(len(sign.rows)) if raw[j] > likelier)
    return out


def standing_rows(belief: Belief) -> dict[str, tuple[int, ...]]:
    """The abnormal findings that still stand: those whose reading was not looked at again after a change."""
    nodes = belief.network.nodes
    newest: dict[str, int] = {}
    measured: dict[str, int] = {}
    for name, finding in belief.findings.items():
        newest[plain(name)] = max(since(name), newest.get(plain(name), 0))
        if any(not k.told for k in finding.looks):
            for row in belief.signs[name].rows:
                event = plain(nodes[row].name).removeprefix("acting:").partition("@")[0]
                measured[event] = max(since(nodes[row].name), measured.get(event, 0))
    return {
        name: rows
        for name, rows in abnormal_rows(belief).items()
        if since(name) >= max(newest[plain(name)], measured.get(plain(name).removeprefix("complaint:"), 0)
                              if name.startswith("complaint:") else 0)
    }
