"""Fault-tree diagnosis for commercial refrigeration: YAML trees and measured facts in, a proved diagnosis out.

Names are imported when they are first used, so that ``import faultkit`` costs next to nothing.
"""

from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from faultkit.calculators.ask import Answer, ask
    from faultkit.calculators.declare import Calculator
    from faultkit.call import Call
    from faultkit.circuit.compile import Limits
    from faultkit.diagnosis.result import Diagnosis, EventResult, NextCheck, Probability, Proof, Verdict
    from faultkit.loading import load_calculators, load_call, load_catalogue, load_site, open_record, record_of_call
    from faultkit.model.catalogue import Catalogue
    from faultkit.model.entries import Entry, entry_from_data
    from faultkit.network.site import Site
    from faultkit.problems import InputError, Problem, Where
    from faultkit.record import Record, RecordError, read_record

__all__ = [
    "Answer", "Calculator", "Call", "Catalogue", "Diagnosis", "Entry", "EventResult", "InputError", "Limits",
    "NextCheck", "Probability", "Problem", "Proof", "Record", "RecordError", "Site", "Verdict", "Where", "ask",
    "entry_from_data", "load_calculators", "load_call", "load_catalogue", "load_site", "open_record", "read_record",
    "record_of_call",
]

_HOMES = {
    "Answer": "calculators.ask",
    "Calculator": "calculators.declare",
    "Call": "call",
    "Catalogue": "model.catalogue",
    "Diagnosis": "diagnosis.result",
    "Entry": "model.entries",
    "EventResult": "diagnosis.result",
    "InputError": "problems",
    "Limits": "circuit.compile",
    "NextCheck": "diagnosis.result",
    "Probability": "diagnosis.result",
    "Problem": "problems",
    "Proof": "diagnosis.result",
    "Record": "record",
    "RecordError": "record",
    "Site": "network.site",
    "Verdict": "diagnosis.result",
    "Where": "problems",
    "ask": "calculators.ask",
    "entry_from_data": "model.entries",
    "load_calculators": "loading",
    "load_call": "loading",
    "load_catalogue": "loading",
    "load_site": "loading",
    "open_record": "loading",
    "read_record": "record",
    "record_of_call": "loading",
}


def __getattr__(name: str) -> object:
    if name in _HOMES:
        return getattr(import_module(f"faultkit.{_HOMES[name]}"), name)
    raise AttributeError(f"module 'faultkit' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *_HOMES})
