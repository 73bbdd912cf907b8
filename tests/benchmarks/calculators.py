"""Saturation and the derived readings of one call, against CoolProp's two interfaces."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from faultkit.calculators.refrigerants import REFRIGERANTS, refrigerant
from faultkit.calculators.refrigerants.circuit import (
    compression_ratio,
    condenser_split,
    evaporator_temperature_difference,
    subcooling,
    superheat,
)
from tests.benchmarks.contest import Contest

__all__ = ["contests"]

# R-404A and R-448A around a call: a suction and a head pressure (Pa absolute), temperatures (K).
SUCTION, HEAD = 470_000.0, 2_150_000.0
PIPE, LIQUID, AIR, OUTDOORS = 275.0, 308.0, 276.5, 303.0
MANY = 1000


def _near(expected: object, found: object) -> bool:
    """Within what the fits are off: a few thousandths of a kelvin, hundredths of a percent."""
    assert isinstance(expected, Sequence)
    assert isinstance(found, Sequence)
    return all(abs(a - b) <= 0.01 + 1e-4 * abs(a) for a, b in zip(expected, found, strict=True))


def _saturation(name: str) -> dict[str, Callable[[], object]]:
    from CoolProp import CoolProp

    fluid = refrigerant(name)
    state = CoolProp.AbstractState("HEOS", fluid.coolprop)
    pressures = [SUCTION * (1.0 + i / MANY) for i in range(MANY)]
    temperatures = [260.0 + 40.0 * i / MANY for i in range(MANY)]

    def ours() -> object:
        dew, bubble = fluid.dew_temperature, fluid.bubble_pressure
        return [dew(p) for p in pressures] + [bubble(t) for t in temperatures]

    def abstract_state() -> object:
        found = []
        for p in pressures:
            state.update(CoolProp.PQ_INPUTS, p, 1.0)
            found.append(state.T())
        for t in temperatures:
            state.update(CoolProp.QT_INPUTS, 0.0, t)
            found.append(state.p())
        return found

    def props_si() -> object:
        props = CoolProp.PropsSI
        return [props("T", "P", p, "Q", 1.0, fluid.coolprop) for p in pressures] + [
            props("P", "T", t, "Q", 0.0, fluid.coolprop) for t in temperatures
        ]

    return {"faultkit": ours, "CoolProp AbstractState": abstract_state, "CoolProp PropsSI": props_si}


def _derived(name: str) -> dict[str, Callable[[], object]]:
    from CoolProp import CoolProp

    coolprop = refrigerant(name).coolprop
    state = CoolProp.AbstractState("HEOS", coolprop)

    def ours() -> object:
        return [
            superheat(SUCTION, PIPE, name), subcooling(HEAD, LIQUID, name),
            evaporator_temperature_difference(AIR, SUCTION, name), condenser_split(HEAD, OUTDOORS, name),
            compression_ratio(HEAD, SUCTION),
        ]

    def abstract_state() -> object:
        state.update(CoolProp.PQ_INPUTS, SUCTION, 1.0)
        evaporating = state.T()
        state.update(CoolProp.PQ_INPUTS, HEAD, 0.0)
        bubble = state.T()
        state.update(CoolProp.PQ_INPUTS, HEAD, 1.0)
        return [PIPE - evaporating, bubble - LIQUID, AIR - evaporating, state.T() - OUTDOORS, HEAD / SUCTION]

    def props_si() -> object:
        def props(p: float, q: float) -> float:
            return float(CoolProp.PropsSI("T", "P", p, "Q", q, coolprop))

        evaporating = props(SUCTION, 1.0)
        return [
            PIPE - evaporating, props(HEAD, 0.0) - LIQUID, AIR - evaporating, props(HEAD, 1.0) - OUTDOORS,
            HEAD / SUCTION,
        ]

    asked = [
        ("superheat", {"suction_pressure": SUCTION, "line_temperature": PIPE}),
        ("subcooling", {"liquid_pressure": HEAD, "line_temperature": LIQUID}),
        ("evaporator_temperature_difference", {"air_temperature": AIR, "suction_pressure": SUCTION}),
        ("condenser_split", {"discharge_pressure": HEAD, "air_temperature": OUTDOORS}),
        ("compression_ratio", {"discharge_pressure": HEAD, "suction_pressure": SUCTION}),
    ]
    by_name = {c.name: c for c in REFRIGERANTS}
    bounds = [
        (by_name[calculator], {a: (0.999 * v, 1.001 * v) for a, v in given.items()} | (
            {} if calculator == "compression_ratio" else {"refrigerant": name}
        ))
        for calculator, given in asked
    ]

    def declared() -> object:
        found = [calculator.evaluate(values) for calculator, values in bounds]
        return [(low + high) / 2.0 for low, high in found]

    return {
        "faultkit": ours, "faultkit, checked, with bounds": declared, "CoolProp AbstractState": abstract_state,
        "CoolProp PropsSI": props_si,
    }


def contests() -> list[Contest]:
    """A pseudo-pure and a true mixture: the second costs CoolProp far more."""
    return [
        Contest(f"{name}: 1000 dew temperatures, 1000 bubble pressures", _saturation(name), _near, {}, slow=True)
        for name in ("R-404A", "R-448A")
    ] + [
        Contest(f"{name}: superheat, subcooling, both splits, ratio", _derived(name), _near, {})
        for name in ("R-404A", "R-448A")
    ]
