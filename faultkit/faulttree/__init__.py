"""Fault-tree quantities: minimal cut sets, top probability, importances, hitting sets.

Terms after IEC 61025, NUREG-0492 and the Open-PSA model exchange format.
"""

from faultkit.faulttree.cutsets import CutSet, CutSets, minimal_cut_sets, minimal_hitting_sets
from faultkit.faulttree.importance import Importance, importances, top_probability
from faultkit.faulttree.normal import modules
from faultkit.faulttree.tree import FaultTree, Gate, all_of, any_of, at_least, negation, xor

__all__ = [
    "CutSet",
    "CutSets",
    "FaultTree",
    "Gate",
    "Importance",
    "all_of",
    "any_of",
    "at_least",
    "importances",
    "minimal_cut_sets",
    "minimal_hitting_sets",
    "modules",
    "negation",
    "top_probability",
    "xor",
]
