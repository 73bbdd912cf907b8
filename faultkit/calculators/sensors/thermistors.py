"""Thermistors by their constants: beta from two points, Steinhart-Hart from three."""

from __future__ import annotations

from math import log

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.sensors.curves import OHMMETER
from faultkit.calculators.sensors.models import ROOM, Beta, SteinhartHart
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "THERMISTORS", "beta_resistance", "beta_temperature", "steinhart_hart", "thermistor_beta", "three_point_resistance",
    "three_point_temperature",
]

_BETA_SOURCE = "Arrhenius form of the thermistor equation (IEC 60539-1 uses it for the B value; title from memory)"
_SH_SOURCE = "Steinhart and Hart, Deep-Sea Research 15 (1968) 497 (from memory)"


def beta_resistance(nominal: float, beta: float, temperature: float, reference: float = ROOM) -> float:
    """Resistance of an NTC by its beta.

    Ohm, from ``nominal`` ohm at ``reference`` (K, usually 77 degF), ``beta`` in kelvin and a
    temperature of -60 to 150 degC. Beta is no constant: it drifts with the range it was taken
    over (25/85 is usual), so that far from there the ohms are off by several percent.

    >>> round(beta_resistance(10000.0, 3435.0, 273.15))  # at 32 degF; the table of that sensor has 27280
    28704
    """
    return Beta(nominal, beta, reference).resistance(temperature)


def beta_temperature(nominal: float, beta: float, resistance: float, reference: float = ROOM) -> float:
    """Temperature of an NTC by its beta.

    Kelvin, the reverse of beta_resistance. InputError for ohms that mean less than
    -60 or more than 150 degC: an open or a short, no temperature.

    >>> round(beta_temperature(10000.0, 3435.0, 10000.0), 6)  # 77 degF
    298.15
    """
    found = Beta(nominal, beta, reference).temperature(resistance)
    low, high = _RANGE
    if not low <= found <= high:
        raise InputError(
            f"resistance is {format_si(resistance, 'ohm', 5)}, by beta {format_si(found, 'degF', 4)}",
            f"ohms that mean {format_si(low, 'degF', 4)} to {format_si(high, 'degF', 4)}",
        )
    return found


def thermistor_beta(
    cold_temperature: float, cold_resistance: float, warm_temperature: float, warm_resistance: float
) -> float:
    """Beta of an NTC from two points.

    In kelvin, from two temperatures (K) and the ohms there: ln(R1/R2) / (1/T1 - 1/T2). Tells an
    unknown sensor's curve; take the points 30 K or more apart, an ohm off weighs less then.

    >>> round(thermistor_beta(298.15, 10000.0, 358.15, 1451.0))  # 77 and 185 degF
    3435
    """
    if not cold_temperature < warm_temperature:
        raise InputError(
            f"cold_temperature {format_si(cold_temperature, 'degF', 4)} is not below "
            f"warm_temperature {format_si(warm_temperature, 'degF', 4)}",
            "two temperatures further apart than they may be off",
        )
    if not cold_resistance > warm_resistance:
        raise InputError(
            f"cold_resistance {format_si(cold_resistance, 'ohm', 5)} is not above "
            f"warm_resistance {format_si(warm_resistance, 'ohm', 5)}",
            "an NTC: ohms go down as it warms",
        )
    return log(cold_resistance / warm_resistance) / (1.0 / cold_temperature - 1.0 / warm_temperature)


def steinhart_hart(
    cold_temperature: float, cold_resistance: float, middle_temperature: float, middle_resistance: float,
    warm_temperature: float, warm_resistance: float,
) -> SteinhartHart:
    """Steinhart-Hart coefficients of an NTC from three points.

    Fields ``a``, ``b``, ``c`` of 1/T = a + b ln R + c (ln R)³ with T in kelvin and R in ohm, from
    three temperatures (K) and the ohms there; for a control that asks for them. Exact at the
    points; between points 40 K apart a good sensor's table is met within a few hundredths of a kelvin.

    >>> found = steinhart_hart(273.15, 32650.9, 298.15, 10000.0, 343.15, 1752.0)  # 32, 77, 158 degF
    >>> f"{found.a:.5e} {found.b:.4e} {found.c:.2e}"
    '1.12838e-03 2.3424e-04 8.73e-08'
    """
    return SteinhartHart.through((
        (cold_temperature, cold_resistance), (middle_temperature, middle_resistance),
        (warm_temperature, warm_resistance),
    ))


def three_point_temperature(
    resistance: float, cold_temperature: float, cold_resistance: float, middle_temperature: float,
    middle_resistance: float, warm_temperature: float, warm_resistance: float,
) -> float:
    """Temperature of an NTC from three rows of its table.

    Kelvin, by the Steinhart-Hart curve through three points (K, ohm), coldest first. For a
    sensor whose table is at hand and whose curve has no name here. Only between the outer
    points: InputError beyond.

    >>> table = (233.15, 188500.0, 298.15, 10000.0, 373.15, 973.1)  # -40, 77, 212 degF
    >>> round(three_point_temperature(27280.0, *table), 1)  # 32 degF in the table
    273.1
    """
    curve = steinhart_hart(
        cold_temperature, cold_resistance, middle_temperature, middle_resistance, warm_temperature, warm_resistance
    )
    if not warm_resistance <= resistance <= cold_resistance:
        raise InputError(
            f"resistance is {format_si(resistance, 'ohm', 5)}",
            f"{format_si(warm_resistance, 'ohm', 5)} to {format_si(cold_resistance, 'ohm', 5)}, between the points",
        )
    return curve.temperature(resistance)


def three_point_resistance(
    temperature: float, cold_temperature: float, cold_resistance: float, middle_temperature: float,
    middle_resistance: float, warm_temperature: float, warm_resistance: float,
) -> float:
    """Resistance of an NTC from three rows of its table.

    Ohm, the reverse of three_point_temperature.

    >>> table = (233.15, 188500.0, 298.15, 10000.0, 373.15, 973.1)
    >>> round(three_point_resistance(298.15, *table), 6)
    10000.0
    """
    curve = steinhart_hart(
        cold_temperature, cold_resistance, middle_temperature, middle_resistance, warm_temperature, warm_resistance
    )
    if not cold_temperature <= temperature <= warm_temperature:
        raise InputError(
            f"temperature is {format_si(temperature, 'degF', 4)}",
            f"{format_si(cold_temperature, 'degF', 4)} to {format_si(warm_temperature, 'degF', 4)}, between the points",
        )
    return curve.resistance(temperature)


_RANGE = (213.15, 423.15)
_OHMS = (10.0, 1e7)


def _kelvin(name: str, title: str, direction: Direction | None, default: float | None = None) -> Argument:
    return Argument(name, (Kind.TEMPERATURE,), direction, title, valid=_RANGE, unit="degF", default=default)


def _ohm(name: str, title: str, direction: Direction | None) -> Argument:
    return Argument(name, (Kind.RESISTANCE,), direction, title, valid=_OHMS, unit="ohm")


_NOMINAL = _ohm("nominal", "resistance at the reference temperature", Direction.RISING)
# Written '3435 K': a constant in kelvin, not how warm anything is.
_BETA = Argument("beta", (Kind.TEMPERATURE,), Direction.EITHER, "beta (B value)", valid=(1000.0, 8000.0), unit="K")
_REFERENCE = _kelvin("reference", "temperature the nominal resistance is for", Direction.RISING, ROOM)


def _points(directions: tuple[Direction | None, ...]) -> tuple[Argument, ...]:
    names = ("cold", "middle", "warm") if len(directions) == 6 else ("cold", "warm")
    kinds = [(n, what) for n in names for what in ("temperature", "resistance")]
    return tuple(
        _kelvin(f"{n}_temperature", f"{n} point, temperature", d) if what == "temperature"
        else _ohm(f"{n}_resistance", f"{n} point, resistance", d)
        for (n, what), d in zip(kinds, directions, strict=True)
    )


_ROWS = {
    "cold_temperature": "-40 degF", "cold_resistance": "188.5 kohm", "middle_temperature": "77 degF",
    "middle_resistance": "10 kohm", "warm_temperature": "212 degF", "warm_resistance": "973.1 ohm",
}

#: The calculators of this file.
THERMISTORS: tuple[Calculator, ...] = (
    Calculator(
        "beta_resistance", beta_resistance,
        (_NOMINAL, _BETA, _kelvin("temperature", "temperature of the sensor", Direction.FALLING), _REFERENCE),
        result=Kind.RESISTANCE, unit="ohm", source=_BETA_SOURCE, caution=OHMMETER,
        example={"nominal": "10 kohm", "beta": "3435 K", "temperature": "38 degF"},
    ),
    Calculator(
        "beta_temperature", beta_temperature,
        (_NOMINAL, _BETA, _ohm("resistance", "resistance of the sensor", Direction.FALLING), _REFERENCE),
        result=Kind.TEMPERATURE, unit="degF", source=_BETA_SOURCE, caution=OHMMETER,
        example={"nominal": "10 kohm", "beta": "3435 K", "resistance": "24.1 kohm ± 1 %"},
    ),
    Calculator(
        "thermistor_beta", thermistor_beta,
        _points((Direction.RISING, Direction.RISING, Direction.FALLING, Direction.FALLING)),
        result=Kind.TEMPERATURE, unit="K", source=_BETA_SOURCE, caution=OHMMETER,
        example={
            "cold_temperature": "32 degF", "cold_resistance": "27.28 kohm", "warm_temperature": "122 degF",
            "warm_resistance": "4.16 kohm",
        },
    ),
    Calculator(
        "steinhart_hart_coefficients", steinhart_hart, _points((None,) * 6),
        result=(
            Result("a", None, "a, in 1/K"), Result("b", None, "b, in 1/K, of ln ohm"),
            Result("c", None, "c, in 1/K, of (ln ohm)³"),
        ),
        source=_SH_SOURCE, caution=OHMMETER, example=_ROWS,
    ),
    Calculator(
        "three_point_temperature", three_point_temperature,
        (_ohm("resistance", "resistance of the sensor", Direction.FALLING), *_points((None,) * 6)),
        result=Kind.TEMPERATURE, unit="degF", source=_SH_SOURCE, caution=OHMMETER,
        example={"resistance": "27.3 kohm", **_ROWS},
    ),
    Calculator(
        "three_point_resistance", three_point_resistance,
        (_kelvin("temperature", "temperature of the sensor", Direction.FALLING), *_points((None,) * 6)),
        result=Kind.RESISTANCE, unit="ohm", source=_SH_SOURCE, caution=OHMMETER,
        example={"temperature": "38 degF", **_ROWS},
    ),
)
