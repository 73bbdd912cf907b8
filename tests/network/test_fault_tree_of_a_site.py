"""Two engines, one truth: decision diagrams and circuits agree on the trees of the example site.

P(cause | event) is the diagnostic importance of IEC 61025 and, at the same time, the posterior
after the one fact that the event is true.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.circuit.compile import Limits
from faultkit.diagnosis.belief import Belief, compile_within
from faultkit.evidence.look import Evidence
from faultkit.faulttree import importances, minimal_cut_sets, top_probability
from faultkit.loading import load_site
from faultkit.network.site import Site
from faultkit.problems import InputError

EXAMPLES = Path(__file__).parents[2] / "examples"


@pytest.fixture(scope="module")
def site() -> Site:
    return load_site(EXAMPLES / "site.yaml")


@pytest.mark.parametrize(
    "event", ["kitchen_circuit.dead", "rail.coil.fan.left.stopped", "rail.no_power", "roof_unit.head_high"]
)
def test_diagnostic_importance_is_the_posterior(site: Site, event: str) -> None:
    network = site.network(7)
    tree = site.fault_tree(event, 7)
    compiled, _ = compile_within(network, [], Limits())
    belief = Belief(network, Evidence(), {}, compiled)
    at = network.index[event]
    prior = belief.posteriors()[at].middle
    assert top_probability(tree) == pytest.approx(prior, rel=1e-9)
    weights = belief.weights()
    weights[2 * at] = 0.0
    total, true, _ = belief.joint(weights)
    found = importances(tree)
    assert found
    for name, importance in found.items():
        assert importance.diagnostic == pytest.approx(true[network.index[name]] / total, rel=1e-9), name


def test_cut_sets_of_the_dead_circuit_are_its_single_causes(site: Site) -> None:
    sets = [sorted(s) for s in minimal_cut_sets(site.fault_tree("kitchen_circuit.breaker_open", 7))]
    assert ["kitchen_circuit.breaker_switched_off"] in sets
    assert ["kitchen_circuit.breaker_tripped.by_itself"] in sets
    # Damage passes a weak link: the cause and its hidden inhibitor together.
    assert any("kitchen_circuit.circuit_overloaded" in s and len(s) == 2 for s in sets)


def test_an_event_nobody_knows(site: Site) -> None:
    with pytest.raises(InputError, match=r"did you mean 'kitchen_circuit\.dead'"):
        site.fault_tree("kitchen_circuit.ded", 7)


def test_seasons_change_frequencies(site: Site) -> None:
    winter, summer = (
        site.network(m).nodes[site.network(m).index["kitchen_circuit.circuit_overloaded"]].prior for m in (1, 7)
    )
    assert summer > winter
