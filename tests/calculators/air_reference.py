"""Moist air out of printed tables and two libraries, to compare with."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

__all__ = [
    "ASHRAE", "COOLPROP", "PSYCHROLIB", "SATURATED", "SATURATION", "SEA_LEVEL", "STATES", "coolprop", "coolprop_coil",
    "coolprop_cooled", "coolprop_dew", "kelvin", "over_states", "psychro_celsius", "psychro_density", "psychrolib",
    "water_pressure",
]

Reference = Callable[[float, float, float], float]
ASHRAE = "ASHRAE Handbook, Fundamentals (2021), ch. 1"
COOLPROP = "CoolProp, HAPropsSI (real-gas moist air)"
PSYCHROLIB = "psychrolib 2.5"
SEA_LEVEL = 101_325.0

#: degC, kPa of table 3.
SATURATION = {
    -30: 0.03801, -20: 0.10324, -10: 0.25987, -5: 0.40174, 0: 0.61115, 5: 0.8726, 10: 1.2282, 20: 2.3392, 25: 3.1697,
    30: 4.2467, 40: 7.3844, 50: 12.3513,
}
#: degC, of table 2: kg/kg, m3/kg, kJ/kg of saturated air, then kJ/kg of dry air.
SATURATED = {
    -40: (0.0000793, 0.6597, -40.031, -40.223), -20: (0.0006373, 0.7172, -18.542, -20.111),
    -10: (0.0016062, 0.7468, -6.0705, -10.056), 0: (0.0037900, 0.7780, 9.4744, 0.0),
    5: (0.0054247, 0.7944, 18.639, 5.0285), 10: (0.0076627, 0.8116, 29.354, 10.058),
    20: (0.014761, 0.8498, 57.558, 20.117), 30: (0.027333, 0.8961, 100.01, 30.180),
    40: (0.049145, 0.9567, 166.68, 40.247),
}
#: degC, relative humidity, Pa: coolers, freezers, kitchens, a place at 5000 ft.
STATES = (
    (-18.0, 0.8, SEA_LEVEL), (-5.0, 0.6, SEA_LEVEL), (2.0, 0.85, SEA_LEVEL), (10.0, 0.3, SEA_LEVEL),
    (24.0, 0.55, SEA_LEVEL), (35.0, 0.2, SEA_LEVEL), (40.0, 0.6, SEA_LEVEL), (24.0, 0.55, 84_310.0),
    (2.0, 0.85, 84_310.0),
)


def kelvin(celsius: float) -> float:
    return celsius + 273.15


def coolprop(wanted: str) -> Reference:
    def value(celsius: float, ratio: float, pressure: float) -> float:
        from CoolProp.HumidAirProp import HAPropsSI

        return float(HAPropsSI(wanted, "T", kelvin(celsius), "R", ratio, "P", pressure))

    return value


def psychrolib(function: str, *taken: int) -> Reference:
    """A psychrolib function of (degC, ratio, Pa), those of ``taken``."""
    def value(*state: float) -> float:
        import psychrolib

        psychrolib.SetUnitSystem(psychrolib.SI)
        return float(getattr(psychrolib, function)(*(state[i] for i in taken)))

    return value


def over_states(ours: Reference, theirs: Reference, *, relative: bool = False) -> Callable[[], Iterable[float]]:
    """Differences over STATES; in percent where ``relative``."""
    def errors() -> Iterator[float]:
        for state in STATES:
            expected = theirs(*state)
            off = ours(*state) - expected
            yield 100.0 * off / expected if relative else off

    return errors


def psychro_density(t: float, r: float, p: float) -> float:
    import psychrolib

    psychrolib.SetUnitSystem(psychrolib.SI)
    ratio = psychrolib.GetHumRatioFromRelHum(t, r, p)
    return float(psychrolib.GetMoistAirDensity(t, ratio, p))


def psychro_celsius(function: str, *taken: int) -> Reference:
    found = psychrolib(function, *taken)
    return lambda t, r, p: kelvin(found(t, r, p))


def coolprop_dew(room: float, ratio: float) -> float:
    return coolprop("Tdp")(room - 273.15, ratio, SEA_LEVEL)


def water_pressure(temperature: float) -> float:
    from CoolProp.CoolProp import PropsSI

    return float(PropsSI("P", "T", temperature, "Q", 1, "Water"))


def coolprop_cooled(celsius: float, ratio: float, pressure: float, by: float) -> float:
    """W given up by 1 m³/s of this air on cooling by so many K without condensation."""
    from CoolProp.HumidAirProp import HAPropsSI

    state = ("P", pressure, "T", kelvin(celsius), "R", ratio)
    water = HAPropsSI("W", *state)
    cooled = HAPropsSI("H", "P", pressure, "T", kelvin(celsius) - by, "W", water)
    return float((HAPropsSI("H", *state) - cooled) / HAPropsSI("V", *state))


def coolprop_coil(air_in: float, ratio_in: float, air_out: float, ratio_out: float) -> tuple[float, float, float]:
    """J/kg of dry air taken out in all and of it sensible, and kg/kg of water."""
    from CoolProp.CoolProp import PropsSI
    from CoolProp.HumidAirProp import HAPropsSI

    first, last = ("P", SEA_LEVEL, "T", air_in, "R", ratio_in), ("P", SEA_LEVEL, "T", air_out, "R", ratio_out)
    water = HAPropsSI("W", *first) - HAPropsSI("W", *last)
    # Saturated solid of the chapter's table 3, kJ/kg by degC.
    ice = {-2: -337.64, -22: -377.81}
    celsius = round(air_out - 273.15)
    left = ice[celsius] * 1e3 if celsius < 0 else PropsSI("H", "T", air_out, "Q", 0, "Water")
    total = HAPropsSI("H", *first) - HAPropsSI("H", *last) - water * left
    return float(total), float(HAPropsSI("C", *first) * (air_in - air_out)), float(water)
