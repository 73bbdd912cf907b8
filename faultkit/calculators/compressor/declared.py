"""The calculators of this folder."""

from __future__ import annotations

from faultkit.calculators.arguments import Argument, Direction, Word
from faultkit.calculators.compressor import efficiency, rating
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT
from faultkit.units import Kind

__all__ = ["COMPRESSOR"]

_AHRI = (
    "AHRI 540, the ten-coefficient polynomial; order of terms and units as in the documentation of ACHP, an "
    "open-source heat-pump model"
)
_RICE = "Rice and Dabiri, ASHRAE Transactions 87(2) (1981) 771-782, as in the documentation of ACHP"
_GAUGES = (
    "Gauges and hoses on a live circuit: gloves and glasses, certified persons only; hot discharge lines burn; local "
    "codes and licensed practice rule."
)
_LIVE = (
    "Volts and amps at live terminals: only by a qualified person with rated meter and gloves, away from the "
    "compressor's own terminals; local codes and licensed practice rule."
)
_UP, _DOWN = Direction.RISING, Direction.FALLING

_COEFFICIENTS = Word(
    "coefficients", (), "the ten published coefficients, C1 first, apart by spaces", read=rating.read_coefficients
)
_UNITS = Word(
    "units", (rating.IP, rating.SI), "units of the coefficients: °F with lb/h, Btu/h, or °C with kg/h, W",
    default=rating.IP,
)


def _temperature(
    name: str, title: str, default: float | None = None, direction: Direction | None = None
) -> Argument:
    return Argument(
        name, (Kind.TEMPERATURE,), direction, title, valid=(213.15, 423.15), unit="degF", default=default
    )


_SUCTION = _temperature("suction", "dew temperature at the suction")
_RATING = (
    _COEFFICIENTS, _SUCTION, _temperature("discharge", "dew temperature at the discharge"), _UNITS,
    _temperature("lowest_suction", "end of the published envelope", rating.LOWEST_SUCTION),
    _temperature("highest_suction", "end of the published envelope", rating.HIGHEST_SUCTION),
    _temperature("lowest_discharge", "end of the published envelope", rating.LOWEST_DISCHARGE),
    _temperature("highest_discharge", "end of the published envelope", rating.HIGHEST_DISCHARGE),
)
_POINT = {"suction": "45 degF ± 1 delta_degF", "discharge": "130 degF ± 1 delta_degF"}


def _given(*coefficients: float) -> dict[str, str]:
    return {"coefficients": " ".join(f"{c:.10g}" for c in coefficients), **_POINT}


def _pressure(name: str, title: str) -> Argument:
    return Argument(name, (Kind.ABSOLUTE_PRESSURE,), None, title, valid=(5e3, 1e7), unit="psig")


def _factor() -> Argument:
    return Argument(
        "factor", (Kind.RATIO,), Direction.EITHER, "share of the change of density that counts", valid=(0.0, 1.0),
        unit="%", default=efficiency.FACTOR,
    )


def _flow(name: str, title: str) -> Argument:
    return Argument(name, (Kind.MASS_FLOW,), _UP, title, valid=(1e-6, 50.0), unit="lb_per_h")


def _density(name: str, direction: Direction, title: str) -> Argument:
    return Argument(name, (Kind.DENSITY,), direction, title, valid=(0.1, 400.0), unit="lb_per_ft3")


def _positive(name: str, kind: Kind, direction: Direction, title: str, most: float, unit: str) -> Argument:
    return Argument(name, (kind,), direction, title, valid=(most * 1e-6, most), unit=unit)


_COMPRESSION = (
    REFRIGERANT, _pressure("suction_pressure", "suction pressure at the compressor"),
    _temperature("suction_temperature", "suction gas at the compressor"),
    _pressure("discharge_pressure", "discharge pressure at the compressor"),
)
_GAS = {
    "refrigerant": "R-134a", "suction_pressure": "18.4 psig ± 1 psi", "suction_temperature": "45 degF ± 2 delta_degF",
    "discharge_pressure": "146 psig ± 2 psi",
}

#: The calculators of this subject.
COMPRESSOR: tuple[Calculator, ...] = (
    Calculator(
        "compressor_mass_flow", rating.compressor_mass_flow, _RATING,
        result=Kind.MASS_FLOW, unit="lb_per_h", source=_AHRI, caution=_GAUGES,
        example=_given(
            217.3163128, 5.094492028, -0.593170311, 4.38e-2, -2.14e-2, 1.04e-2, 7.9e-5, -5.73e-5, 1.79e-4, -8.08e-5
        ),
    ),
    Calculator(
        "compressor_power", rating.compressor_power, _RATING,
        result=Kind.POWER, unit="W", source=_AHRI, caution=_GAUGES,
        example=_given(
            -561.3615705, -15.62601841, 46.92506685, -0.217949552, 0.435062616, -0.442400826, 2.25e-4, 2.37e-3,
            -3.32e-3, 2.5e-3,
        ),
    ),
    Calculator(
        "compressor_capacity", rating.compressor_capacity, _RATING,
        result=Kind.POWER, unit="Btu_per_h", source=_AHRI, caution=_GAUGES,
        example=_given(12000.0, 300.0, -60.0, 3.0, -1.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    ),
    Calculator(
        "compressor_current", rating.compressor_current, _RATING,
        result=Kind.CURRENT, unit="A", source=_AHRI, caution=_GAUGES,
        example=_given(4.0, 0.02, 0.03, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0),
    ),
    Calculator(
        "suction_density_correction", efficiency.suction_density_correction,
        (
            _flow("rated_mass_flow", "rated mass flow"), _density("density", _UP, "gas at the suction now"),
            _density("rated_density", _DOWN, "gas at the suction in the rating"), _factor(),
        ),
        result=Kind.MASS_FLOW, unit="lb_per_h", source=_RICE,
        example={
            "rated_mass_flow": "460 lb_per_h", "density": "1.06 lb_per_ft3", "rated_density": "1.12 lb_per_ft3",
        },
    ),
    Calculator(
        "return_gas_factor", efficiency.return_gas_factor,
        (
            REFRIGERANT, _SUCTION, _temperature("return_gas", "return gas now", direction=_DOWN),
            _temperature("rated_return_gas", "return gas in the rating", direction=_UP), _factor(),
        ),
        result=Kind.RATIO, unit="%", source=_RICE, caution=_GAUGES,
        example={
            "refrigerant": "R-134a", "suction": "45 degF", "return_gas": "85 degF ± 2 delta_degF",
            "rated_return_gas": "65 degF",
        },
    ),
    Calculator(
        "compressor_displacement", efficiency.compressor_displacement,
        (
            _positive("bore", Kind.LENGTH, _UP, "bore", 1.0, "in"),
            _positive("stroke", Kind.LENGTH, _UP, "stroke", 1.0, "in"),
            Argument("cylinders", (Kind.COUNT,), _UP, "cylinders", valid=(1.0, 32.0)),
            _positive("speed", Kind.ROTATION, _UP, "speed", 1000.0, "rpm"),
        ),
        result=Kind.VOLUME_FLOW, unit="cfm", source="geometry",
        example={"bore": "2 in", "stroke": "1.5 in", "cylinders": "2 count", "speed": "1725 rpm ± 1 %"},
    ),
    Calculator(
        "volumetric_efficiency", efficiency.volumetric_efficiency,
        (
            _flow("mass_flow", "mass flow"),
            _positive("displacement", Kind.VOLUME_FLOW, _DOWN, "swept volume in a time", 10.0, "cfm"),
            _density("suction_density", _DOWN, "gas at the suction"),
        ),
        result=Kind.RATIO, unit="%", source="follows from the definition",
        example={
            "mass_flow": "460 lb_per_h ± 3 %", "displacement": "9.26 cfm", "suction_density": "1.06 lb_per_ft3 ± 1 %",
        },
    ),
    Calculator(
        "clearance_volumetric_efficiency", efficiency.clearance_volumetric_efficiency,
        (
            Argument(
                "compression_ratio", (Kind.COUNT,), _DOWN, "absolute discharge by suction pressure", valid=(1.0, 30.0)
            ),
            Argument("clearance", (Kind.RATIO,), _DOWN, "clearance by swept volume", valid=(0.0, 0.2), unit="%"),
            Argument(
                "exponent", (Kind.COUNT,), _UP, "exponent of the re-expansion", valid=(1.0, 1.7), default=1.1
            ),
        ),
        result=Kind.RATIO, unit="%", source="polytropic re-expansion of the gas left in the clearance",
        example={"compression_ratio": "8.69 count", "clearance": "4 %"},
    ),
    Calculator(
        "isentropic_efficiency", efficiency.isentropic_efficiency,
        (*_COMPRESSION, _temperature("discharge_temperature", "discharge gas at the compressor", direction=_DOWN)),
        result=Kind.RATIO, unit="%", source="definition of isentropic efficiency, with CoolProp's equations of state",
        caution=_GAUGES, example={**_GAS, "discharge_temperature": "195 degF ± 3 delta_degF"},
    ),
    Calculator(
        "overall_isentropic_efficiency", efficiency.overall_isentropic_efficiency,
        (
            *_COMPRESSION, _flow("mass_flow", "mass flow"),
            Argument("power", (Kind.POWER,), _DOWN, "power input", valid=(1.0, 1e6), unit="W"),
        ),
        result=Kind.RATIO, unit="%", source="definition of isentropic efficiency, with CoolProp's equations of state",
        caution=_LIVE, example={**_GAS, "mass_flow": "150 lb_per_h ± 3 %", "power": "1150 W ± 2 %"},
    ),
    Calculator(
        "compressor_current_ratio", efficiency.compressor_current_ratio,
        (
            _positive("current", Kind.CURRENT, _UP, "measured current", 1000.0, "A"),
            _positive("rated_current", Kind.CURRENT, _DOWN, "rated current at these temperatures", 1000.0, "A"),
            _positive("voltage", Kind.VOLTAGE, _UP, "measured voltage", 1000.0, "V"),
            _positive("rated_voltage", Kind.VOLTAGE, _DOWN, "voltage of the rating", 1000.0, "V"),
        ),
        result=Kind.RATIO, unit="%", source="current as one over voltage at the same load: common practice, no source",
        caution=_LIVE,
        example={
            "current": "6.2 A ± 2 %", "rated_current": "7.55 A ± 5 %", "voltage": "218 V ± 1 %",
            "rated_voltage": "230 V",
        },
    ),
)
