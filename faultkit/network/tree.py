"""A site's event as a fault tree of its own, for cut sets and importances."""

from __future__ import annotations

from faultkit.faulttree import FaultTree, Gate, all_of, any_of, at_least
from faultkit.network.ir import Network, NodeKind
from faultkit.problems import InputError, did_you_mean

__all__ = ["fault_tree"]


def fault_tree(network: Network, event: str) -> FaultTree:
    """The tree under ``event``: basic events, leaks and hidden inhibitors with their priors as probabilities.

    Raises InputError for an event the network does not have (or that the configuration fixes).
    """
    if event not in network.index:
        raise InputError(f"event '{event}' is not open at this site", did_you_mean(event, network.index))
    gates: dict[str, Gate] = {}
    priors: dict[str, float] = {}
    for i in sorted(network.ancestors([network.index[event]])):
        node = network.nodes[i]
        names = [network.nodes[j].name for j in node.inputs]
        if node.is_root:
            priors[node.name] = node.prior
        elif node.kind is NodeKind.ANY_OF:
            gates[node.name] = any_of(*names)
        elif node.kind is NodeKind.ALL_OF:
            gates[node.name] = all_of(*names)
        else:
            gates[node.name] = at_least(node.k, *names)
    if not gates:
        gates = {f"top:{event}": any_of(event)}
    return FaultTree.build(event if event in gates else f"top:{event}", gates, priors)
