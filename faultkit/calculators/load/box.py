"""Load of a box and the capacity it takes."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Result
from faultkit.calculators.declare import Calculator
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "BOX_CALCULATORS", "RUN_TIME", "SAFETY", "BoxLoad", "box_load", "evaporator_capacity_at_td",
    "expected_run_fraction", "needed_capacity", "wall_gain",
]

_DAY = 86_400.0
#: s of running a day, and what is added for what was not counted.
RUN_TIME, SAFETY = 64_800.0, 0.1


@dataclass(frozen=True, slots=True)
class BoxLoad:
    """W, W, and the name of the largest part with its share."""

    load: float
    needed_capacity: float
    largest: str
    share: float


def wall_gain(area: float, u_value: float, outside: float, inside: float) -> float:
    """Heat through walls, ceiling, floor, glass: area times U times temperature difference.

    Takes m², W/(m²·K), K, K; gives W, below zero where the outside is colder. 4 in of foam is about
    0.04 Btu/(h·ft²·°F); take the ground as 55 °F under a floor and the plenum's own temperature above a ceiling.

    >>> round(wall_gain(44.6, 0.227, 308.15, 274.82) / 0.293071)  # 480 ft2, U 0.04, 95 to 35 degF: Btu/h
    1151
    """
    return area * u_value * (outside - inside)


def needed_capacity(load: float, run_time: float = RUN_TIME, safety: float = SAFETY) -> float:
    """Capacity that carries a day's load in the hours a day that the compressor may run.

    Takes W on average over the day, s of running a day and a ratio on top; gives W. 16 h for boxes that
    defrost on the off cycle, 18 h with heat or hot gas, 20 to 22 h where the box may run long.

    >>> round(needed_capacity(load=2344.6, run_time=64800.0, safety=0.1) / 0.293071)  # 8000 Btu/h in 18 h, 10 %
    11733
    """
    return load * _DAY / run_time * (1.0 + safety)


def box_load(
    walls: float = 0.0, infiltration: float = 0.0, product: float = 0.0, lights: float = 0.0, motors: float = 0.0,
    people: float = 0.0, other: float = 0.0, run_time: float = RUN_TIME, safety: float = SAFETY,
) -> BoxLoad:
    """Load of a box from its parts, the largest of them, and the capacity it takes.

    Takes W of each on average over the day (lights and motors by their watts and hours, a person about
    250 W at 35 °F and 300 W at 0 °F), s of running a day and a ratio on top; gives W.

    >>> b = box_load(337.0, 1170.0, 147.0, 100.0, 200.0, 0.0, 0.0, 64800.0, 0.1)
    >>> round(b.load), round(b.needed_capacity), b.largest
    (1954, 2866, 'infiltration')
    """
    parts = {
        "walls": walls, "infiltration": infiltration, "product": product, "lights": lights, "motors": motors,
        "people": people, "other": other,
    }
    load = sum(parts.values())
    if not load > 0.0:
        raise InputError("all parts of the load are zero", "at least one part above zero")
    largest = max(parts, key=parts.__getitem__)
    return BoxLoad(load, needed_capacity(load, run_time, safety), largest, parts[largest] / load)


def expected_run_fraction(load: float, capacity: float) -> float:
    """Share of the time that a unit of this capacity has to run for this load.

    Takes W and W at the same conditions; gives a ratio, above 1 where the box cannot be held. Off cycles for
    defrost come on top.

    >>> round(expected_run_fraction(load=2344.6, capacity=3516.9), 2)  # 8000 of 12000 Btu/h
    0.67
    """
    if not capacity > 0.0:
        raise InputError(f"capacity is {format_si(capacity, 'Btu_per_h')}", "a capacity above zero")
    return load / capacity


def evaporator_capacity_at_td(rated_capacity: float, rated_td: float, td: float) -> float:
    """Capacity of an evaporator at another TD (air in less saturated suction): it goes with the TD.

    Takes W, K, K; gives W. Good within about half to twice the rated TD, airflow, frost and refrigerant as rated.

    >>> round(evaporator_capacity_at_td(1758.4, 5.556, 8.333) / 0.293071)  # 6000 Btu/h at 10 degF, at 15 degF
    8999
    """
    return rated_capacity * td / rated_td


def _power(name: str, title: str) -> Argument:
    return Argument(name, (Kind.POWER,), Direction.RISING, title, valid=(0.0, 1e7), unit="Btu_per_h", default=0.0)


_PARTS = (
    _power("walls", "through walls, ceiling and floor"), _power("infiltration", "through doors"),
    _power("product", "out of product"), _power("lights", "lights"), _power("motors", "fans and other motors"),
    _power("people", "people at work in it"), _power("other", "defrost heat, glass heaters and the like"),
)
_LOAD = Argument("load", (Kind.POWER,), Direction.RISING, "load on average", valid=(1.0, 1e7), unit="Btu_per_h")
_RUN = Argument(
    "run_time", (Kind.TIME,), Direction.FALLING, "hours a day it may run",
    valid=(3600.0, _DAY), unit="h", default=RUN_TIME,
)
_SAFETY = Argument(
    "safety", (Kind.RATIO,), Direction.RISING, "added for what was not counted",
    valid=(0.0, 1.0), unit="%", default=SAFETY,
)
_TRADE = "heat balance; run time and safety are common practice, no source"


def _td(name: str, direction: Direction, title: str) -> Argument:
    return Argument(
        name, (Kind.TEMPERATURE_DIFFERENCE,), direction, title, valid=(1.0, 40.0), unit="delta_degF"
    )


def _side(name: str, direction: Direction) -> Argument:
    return Argument(name, (Kind.TEMPERATURE,), direction, f"air {name}", valid=(223.15, 343.15), unit="degF")


#: The calculators of this file.
BOX_CALCULATORS: tuple[Calculator, ...] = (
    Calculator(
        "wall_gain", wall_gain,
        (
            Argument("area", (Kind.AREA,), Direction.EITHER, "outside area", valid=(0.01, 1e5), unit="ft2"),
            Argument(
                "u_value", (Kind.HEAT_TRANSFER,), Direction.EITHER, "U with both air films",
                valid=(0.02, 8.0), unit="Btu_per_h_ft2_degF",
            ),
            _side("outside", Direction.RISING), _side("inside", Direction.FALLING),
        ),
        result=Kind.POWER, unit="Btu_per_h",
        source="definition of U, as equation q = U A Δt of ASHRAE Handbook, Refrigeration (2014), ch. 24",
        example={
            "area": "480 ft2", "u_value": "0.04 Btu_per_h_ft2_degF", "outside": "95 degF", "inside": "35 degF",
        },
    ),
    Calculator(
        "needed_capacity", needed_capacity, (_LOAD, _RUN, _SAFETY), result=Kind.POWER, unit="Btu_per_h", source=_TRADE,
        example={"load": "8000 Btu_per_h ± 10 %", "run_time": "18 h"},
    ),
    Calculator(
        "box_load", box_load, (*_PARTS, _RUN, _SAFETY),
        result=(
            Result("load", Kind.POWER, "load on average over the day", "Btu_per_h"),
            Result("needed_capacity", Kind.POWER, "capacity it takes", "Btu_per_h"),
            Result("largest", None, "largest part"),
            Result("share", Kind.RATIO, "its share", "%"),
        ),
        source=_TRADE,
        example={
            "walls": "1150 Btu_per_h", "infiltration": "4000 Btu_per_h ± 20 %", "product": "500 Btu_per_h",
            "motors": "700 Btu_per_h",
        },
    ),
    Calculator(
        "expected_run_fraction", expected_run_fraction,
        (
            _LOAD,
            Argument(
                "capacity", (Kind.POWER,), Direction.FALLING, "capacity at these conditions",
                valid=(1.0, 1e7), unit="Btu_per_h",
            ),
        ),
        result=Kind.RATIO, unit="%", source="heat balance",
        example={"load": "8000 Btu_per_h ± 10 %", "capacity": "12000 Btu_per_h"},
    ),
    Calculator(
        "evaporator_capacity_at_td", evaporator_capacity_at_td,
        (
            Argument(
                "rated_capacity", (Kind.POWER,), Direction.RISING, "rated capacity", valid=(1.0, 1e7), unit="Btu_per_h"
            ),
            _td("rated_td", Direction.FALLING, "TD it is rated at"), _td("td", Direction.RISING, "TD it runs at"),
        ),
        result=Kind.POWER, unit="Btu_per_h", source="proportional to TD: common practice, no source",
        example={"rated_capacity": "6000 Btu_per_h", "rated_td": "10 delta_degF", "td": "15 delta_degF ± 1 delta_degF"},
    ),
)
