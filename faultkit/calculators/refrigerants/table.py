"""The refrigerants known here: composition and safety class."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

__all__ = ["IDENTITIES", "Identity"]


@dataclass(frozen=True, slots=True)
class Identity:
    """A refrigerant as ANSI/ASHRAE 34 lists it.

    ``composition`` in mass shares (0 to 1) by component, one of 1.0 for a pure fluid;
    ``safety_class`` A1, A2L or A3; ``coolprop`` its name in that library: one equation
    of state where there is one for the blend, else its mixture.
    """

    name: str
    safety_class: str
    coolprop: str
    composition: tuple[tuple[str, float], ...]

    @property
    def blend(self) -> bool:
        """Whether it is a mixture."""
        return len(self.composition) > 1

    @property
    def caution(self) -> str:
        """What its safety class asks of whoever works with it; '' for A1, whose cautions are those of all."""
        return _CAUTIONS.get(self.safety_class, "")


_CAUTIONS = {
    "A2L": "mildly flammable (A2L): no flame, spark or hot surface where it may gather; ventilate; detector, "
           "recovery machine and pump rated for it; local codes and the equipment's own instructions rule",
    "A3": "highly flammable (A3): no flame, spark or live switch within the work zone; ventilate low places; detector "
          "and tools rated for it; charge limit and parts as marked; local codes and licensed practice rule",
}


def _identity(name: str, safety: str, coolprop: str, *composition: tuple[str, float]) -> Identity:
    return Identity(name, safety, coolprop, composition or ((name, 1.0),))


# Names, compositions and classes: ANSI/ASHRAE Standard 34, from memory; the mass shares of the
# mixtures are compared with CoolProp's in tests/calculators/evidence/refrigerants.py.
_ROWS = (
    _identity("R-22", "A1", "R22"),
    _identity("R-134a", "A1", "R134a"),
    _identity("R-290", "A3", "R290"),
    _identity("R-404A", "A1", "R404A", ("R-125", 0.44), ("R-143a", 0.52), ("R-134a", 0.04)),
    _identity("R-407A", "A1", "R407A.mix", ("R-32", 0.20), ("R-125", 0.40), ("R-134a", 0.40)),
    _identity("R-407C", "A1", "R407C", ("R-32", 0.23), ("R-125", 0.25), ("R-134a", 0.52)),
    _identity("R-410A", "A1", "R410A", ("R-32", 0.50), ("R-125", 0.50)),
    _identity(
        "R-448A", "A1", "R448A.mix",
        ("R-32", 0.26), ("R-125", 0.26), ("R-1234yf", 0.20), ("R-134a", 0.21), ("R-1234ze(E)", 0.07),
    ),
    _identity(
        "R-449A", "A1", "R449A.mix", ("R-32", 0.243), ("R-125", 0.247), ("R-1234yf", 0.253), ("R-134a", 0.257)
    ),
    _identity("R-452A", "A1", "R452A.mix", ("R-32", 0.11), ("R-125", 0.59), ("R-1234yf", 0.30)),
    _identity("R-454C", "A2L", "R454C.mix", ("R-32", 0.215), ("R-1234yf", 0.785)),
    _identity("R-507A", "A1", "R507A", ("R-125", 0.50), ("R-143a", 0.50)),
    _identity("R-513A", "A1", "R513A.mix", ("R-1234yf", 0.56), ("R-134a", 0.44)),
    _identity("R-600a", "A3", "R600a"),
    _identity("R-744", "A1", "R744"),
)

#: By name, in the order of the standard.
IDENTITIES: Mapping[str, Identity] = MappingProxyType({row.name: row for row in _ROWS})
