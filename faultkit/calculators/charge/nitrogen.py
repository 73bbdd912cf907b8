"""The pressure test with nitrogen: what the pressure should be after the temperature has changed."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.charge.terms import NITROGEN
from faultkit.calculators.declare import Calculator
from faultkit.units import Kind

__all__ = [
    "NITROGEN_CALCULATORS", "NitrogenTest", "nitrogen_pressure", "nitrogen_pressure_lost", "nitrogen_test",
]

_GAS_CONSTANT = 8.314462618  # J/(mol·K)


@dataclass(frozen=True, slots=True)
class NitrogenTest:
    """Pa absolute, Pa (below zero: rose), Pa, words."""

    expected: float
    lost: float
    doubt: float
    verdict: str


def nitrogen_pressure(pressure: float, temperature: float, later_temperature: float) -> float:
    """Pressure that closed-in nitrogen shows after its temperature has changed.

    Takes Pa absolute (to 650 psig) and K (-40 to 160 °F), gives Pa absolute: 300 psig moves about 0.6 psi by °F. The
    gas law with nitrogen's own deviation, which the plain law misses by 1 psi at 300 psig and 35 °F.

    >>> p = nitrogen_pressure(pressure=1_135_538.0, temperature=305.372, later_temperature=294.261)  # 150 psig
    >>> round((p - 101325.0) / 6894.757, 1)  # 90 to 70 degF: psig
    143.9
    """
    moles = pressure / (_GAS_CONSTANT * temperature)
    for _ in range(20):  # the bracket differs from 1 by less than a tenth: three digits by step
        moles = pressure / (_GAS_CONSTANT * temperature * _bracket(moles, temperature))
    return moles * _GAS_CONSTANT * later_temperature * _bracket(moles, later_temperature)


def nitrogen_pressure_lost(
    pressure: float, temperature: float, later_pressure: float, later_temperature: float
) -> float:
    """Pressure lost in a nitrogen test beyond what cooling explains; below zero it rose.

    Takes Pa absolute and K at the start and later, gives Pa. Give the gauge and the thermometer with
    their accuracy: the bounds then say whether it is a leak.

    >>> p = nitrogen_pressure_lost(1_135_538.0, 305.372, 1_080_380.0, 294.261)  # 150 psig at 90 degF, 142 at 70
    >>> round(p / 6894.757, 1)
    1.9
    """
    return nitrogen_pressure(pressure, temperature, later_temperature) - later_pressure


def nitrogen_test(
    pressure: float, temperature: float, later_pressure: float, later_temperature: float, gauge_accuracy: float,
    thermometer_accuracy: float,
) -> NitrogenTest:
    """Pressure test with nitrogen: leak, tight as far as the instruments show, or no even temperature.

    Takes Pa absolute and K at the start and later, and the accuracy of gauge (Pa) and thermometer (K) in one
    reading. Wait until the gas has come to the temperature of the pipes; sun on a line set is enough to
    spoil it. A small leak needs a longer wait, not a finer verdict.

    >>> nitrogen_test(1_135_538.0, 305.372, 1_060_000.0, 294.261, 3447.4, 0.556).verdict
    'leak'
    """
    expected = nitrogen_pressure(pressure, temperature, later_temperature)
    by_kelvin = expected / temperature + expected / later_temperature
    doubt = gauge_accuracy * (1.0 + later_temperature / temperature) + thermometer_accuracy * by_kelvin
    lost = expected - later_pressure
    if lost > doubt:
        verdict = "leak"
    elif lost < -doubt:
        verdict = "rose: temperature not even, or gauge or thermometer wrong"
    else:
        verdict = "no loss beyond the instruments' accuracy"
    return NitrogenTest(expected, lost, doubt, verdict)


def _bracket(moles: float, at: float) -> float:
    """1 + B·n + C·n² with the virial coefficients of nitrogen fitted to CoolProp, 235 to 345 K."""
    second = (42.6 - 11083.0 / at - 919400.0 / (at * at)) * 1e-6
    third = (0.659 + 227.4 / at) * 1e-9
    return 1.0 + moles * (second + moles * third)


_UP, _DOWN = Direction.RISING, Direction.FALLING


def _pressure(name: str, title: str, direction: Direction | None) -> Argument:
    return Argument(
        name, (Kind.ABSOLUTE_PRESSURE,), direction, title, valid=(101e3, 4.6e6), unit="psig"
    )


def _temperature(name: str, title: str, direction: Direction | None) -> Argument:
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=(233.15, 344.3), unit="degF")


_START = (
    _pressure("pressure", "pressure at the start", _UP), _temperature("temperature", "gas at the start", _DOWN)
)
_AFTER = _temperature("later_temperature", "gas later", _UP)
_SOURCE = "equation of state with two virial coefficients of nitrogen, fitted to CoolProp"
_TEST = {
    "pressure": "150 psig ± 0.5 psi", "temperature": "90 degF ± 1 delta_degF",
    "later_pressure": "142 psig ± 0.5 psi", "later_temperature": "70 degF ± 1 delta_degF",
}

#: The calculators of this file.
NITROGEN_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "nitrogen_pressure", nitrogen_pressure, (*_START, _AFTER), result=Kind.ABSOLUTE_PRESSURE, unit="psig",
        source=_SOURCE, caution=NITROGEN,
        example={"pressure": "300 psig", "temperature": "60 degF", "later_temperature": "95 degF"},
    ),
    Calculator(
        "nitrogen_pressure_lost", nitrogen_pressure_lost,
        (*_START, _pressure("later_pressure", "pressure later", _DOWN), _AFTER),
        result=Kind.PRESSURE_DIFFERENCE, unit="psi", source=_SOURCE, caution=NITROGEN, example=_TEST,
    ),
    Calculator(
        "nitrogen_test", nitrogen_test,
        (
            _pressure("pressure", "pressure at the start", None), _temperature("temperature", "gas at the start", None),
            _pressure("later_pressure", "pressure later", None), _temperature("later_temperature", "gas later", None),
            Argument(
                "gauge_accuracy", (Kind.PRESSURE_DIFFERENCE,), None, "accuracy of the gauge", valid=(0.0, 2e5),
                unit="psi", default=3447.378646584181,
            ),
            Argument(
                "thermometer_accuracy", (Kind.TEMPERATURE_DIFFERENCE,), None, "accuracy of the thermometer",
                valid=(0.0, 10.0), unit="delta_degF", default=1.0 / 1.8,
            ),
        ),
        result=(
            Result("expected", Kind.ABSOLUTE_PRESSURE, "pressure without a leak", "psig"),
            Result("lost", Kind.PRESSURE_DIFFERENCE, "lost (below zero: rose)", "psi"),
            Result("doubt", Kind.PRESSURE_DIFFERENCE, "doubt from gauge and thermometer", "psi"),
            Result("verdict", None, "verdict"),
        ),
        source=_SOURCE + "; accuracies 0.5 psi and 1 °F common practice, no source", caution=NITROGEN,
        example={n: v.partition(" ±")[0] for n, v in _TEST.items()},
    ),
)
