"""The example calls on the two built-in trees, joined: every posterior against pyAgrum."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.prepare import footing
from faultkit.diagnosis.result import Verdict
from faultkit.evidence.collect import collect
from faultkit.evidence.look import Evidence
from faultkit.loading import load_call, load_catalogue

pytest.importorskip("pyagrum")  # what follows cannot be imported without it
from tests.outside.agrum import Peer, likelihoods

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.mark.parametrize("name", ["one_fault", "three_faults", "conflict"])
def test_every_posterior_of_an_example_call(name: str) -> None:
    call = load_call(EXAMPLES / f"{name}.call.yaml", load_catalogue([]))
    evidence = collect(call.site, call.entries)
    base = footing(call.site, evidence, call.month, Limits())
    belief = base.belief
    assert belief.findings
    assert not belief.outside
    found = belief.posteriors()
    assert all(p.exact for p in found)
    peer = Peer(belief.network, [base.signs[s] for s in belief.findings])
    expected = peer.posteriors(likelihoods(belief))
    assert [p.low for p in found] == pytest.approx(expected, rel=1e-9, abs=1e-15)
    # What the diagnosis prints is the same. Where facts conflict, pyAgrum sees them softened and
    # cannot speak of what the other facts decide.
    diagnosis = call.diagnose(advice=False)
    assert diagnosis.consistent == (name != "conflict")
    assert len(diagnosis.events) > 100
    for event, result in diagnosis.events.items():
        if result.verdict is Verdict.OPEN or diagnosis.consistent:
            at = expected[belief.network.index[event]]
            assert result.probability.middle == pytest.approx(at, rel=1e-9, abs=1e-15), event


@pytest.mark.parametrize("month", [1, 7])
def test_every_prior_of_the_example_site(month: int) -> None:
    site = load_call(EXAMPLES / "three_faults.call.yaml", load_catalogue([])).site
    base = footing(site, Evidence(), month, Limits())
    found = base.belief.posteriors()
    assert [p.low for p in found] == pytest.approx(Peer(base.belief.network, []).posteriors({}), rel=1e-9, abs=1e-15)
