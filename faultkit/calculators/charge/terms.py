"""The arguments and cautions that the calculators of this subject share."""

from __future__ import annotations

from dataclasses import replace

from faultkit.calculators.arguments import Argument, Direction
from faultkit.units import Kind

__all__ = [
    "CYLINDERS", "FULL_CHARGE", "HANDLING", "LB", "NITROGEN", "VACUUM", "density", "length", "mass", "moved",
    "pressure", "share", "temperature", "volume",
]

#: The international pound, kg.
LB = 0.45359237

HANDLING = (
    "Certified persons only; recover refrigerant, never vent it. Gloves and glasses: liquid frostbites, vapor "
    "displaces air. Flammable refrigerant: no flame or spark, ventilate, rated tools. Local codes and licensed "
    "practice rule."
)
CYLINDERS = (
    "Weigh the cylinder while it fills; never over 80 % full, never heated above 125 degF or with a flame, never a "
    "one-way cylinder filled again; its rating must suit the refrigerant. " + HANDLING
)
NITROGEN = (
    "Dry nitrogen through a regulator with a relief valve, never oxygen, never compressed air; chain the cylinder, "
    "raise the pressure in steps, stay below the low-side design pressure on the nameplate, stand aside. "
    "Local codes and licensed practice rule."
)
VACUUM = (
    "Never start or megger a compressor under vacuum; recover first and shut the valves to the pump before it stops. "
    + HANDLING
)

_MOST_KG = 5000.0


def temperature(
    name: str, title: str, direction: Direction | None = None, default: float | None = None
) -> Argument:
    """A refrigerant's or room's temperature."""
    return Argument(
        name, (Kind.TEMPERATURE,), direction, title, valid=(200.0, 400.0), unit="degF", default=default
    )


def pressure(name: str, title: str, direction: Direction | None = None) -> Argument:
    """A pressure in the circuit, absolute inside, gauge or absolute when given."""
    return Argument(name, (Kind.ABSOLUTE_PRESSURE,), direction, title, valid=(100.0, 1.0e7), unit="psig")


def mass(
    name: str, title: str, direction: Direction | None = None, default: float | None = None, least: float = 0.0
) -> Argument:
    """A mass of refrigerant."""
    return Argument(
        name, (Kind.MASS,), direction, title, valid=(least, _MOST_KG), not_zero=least > 0.0, unit="lb", default=default
    )


def volume(name: str, title: str, direction: Direction | None = None, unit: str = "ft3") -> Argument:
    """A volume inside something."""
    return Argument(name, (Kind.VOLUME,), direction, title, valid=(1e-6, 1000.0), unit=unit)


def length(name: str, title: str, direction: Direction | None = None) -> Argument:
    """A length of pipe or hose."""
    return Argument(name, (Kind.LENGTH,), direction, title, valid=(0.0, 1000.0), unit="ft")


def share(
    name: str, title: str, valid: tuple[float, float], default: float, direction: Direction | None = None
) -> Argument:
    """A ratio, 1 = 100 %."""
    return Argument(name, (Kind.RATIO,), direction, title, valid=valid, unit="%", default=default)


def density(name: str, title: str, direction: Direction | None = None, default: float | None = None) -> Argument:
    """Refrigerant by room volume, from 1 g/m³ to 2 kg/m³."""
    return Argument(
        name, (Kind.DENSITY,), direction, title, valid=(1e-3, 2.0), unit="kg_per_m3", default=default
    )


def moved(argument: Argument, direction: Direction | None) -> Argument:
    """The same argument where it moves the result another way."""
    return replace(argument, direction=direction)


FULL_CHARGE = mass("full_charge", "full charge of the appliance, as the rule defines it", Direction.FALLING, None, 0.01)
