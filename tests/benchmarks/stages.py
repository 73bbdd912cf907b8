"""What further stages cost: the example call with four remedies, cut after each of them.

Run it by itself: ``python tests/benchmarks/stages.py``. Processor seconds of the best of three runs,
nothing kept from one to the next; sizes are nodes, and operations of the circuit with the posteriors.
"""

from __future__ import annotations

import sys
import time
from dataclasses import replace
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT))

from faultkit.call import Call  # noqa: E402 - found only after the line above
from faultkit.circuit.compile import Limits  # noqa: E402
from faultkit.diagnosis.prepare import Footing, footing  # noqa: E402
from faultkit.evidence.collect import collect  # noqa: E402
from faultkit.evidence.timeline import timeline  # noqa: E402
from faultkit.loading import load_call  # noqa: E402
from faultkit.model.entries import RemedyDone  # noqa: E402
from faultkit.network.stages import Stages  # noqa: E402

__all__ = ["main"]


def cut(call: Call, remedies: int) -> Call:
    """The call up to the entry before the next remedy."""
    left, kept = remedies, []
    for entry in call.entries:
        left -= isinstance(entry, RemedyDone)
        if left < 0:
            break
        kept.append(entry)
    return replace(call, entries=tuple(kept))


def stand(call: Call) -> Footing:
    told = timeline(call.entries)
    stages = Stages(call.site, call.month, told.names)
    return footing(call.site, collect(call.site, told, stages), call.month, Limits(), stages)


def seconds(call: Call, *, advice: bool) -> float:
    best = float("inf")
    for _ in range(3):
        call.site.memo.clear()
        start = time.process_time()
        call.diagnose(advice=advice)
        best = min(best, time.process_time() - start)
    return best


def main() -> None:
    """Print one line a stage."""
    whole = load_call(ROOT / "examples" / "four_remedies.call.yaml")
    sys.stdout.write("remedies  entries  nodes  operations  width  without advice  diagnosis\n")
    for n in range(5):
        call = cut(whole, n)
        base = stand(call)
        compiled = base.wide.compiled
        times = f"{seconds(call, advice=False):14.2f} s {seconds(call, advice=True):8.2f} s"
        sizes = f"{n:8}  {len(call.entries):7}  {len(base.network.nodes):5}  {len(compiled.circuit):10}"
        sys.stdout.write(f"{sizes}  {compiled.width:5}  {times}\n")


if __name__ == "__main__":
    main()
