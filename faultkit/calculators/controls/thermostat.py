"""Thermostats and their probes: what the air swings through, and what clashes."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.controls.words import FREEZING_K, degf, named, spread, verdict
from faultkit.problems import InputError

__all__ = [
    "HEATED", "OFF_CYCLE", "SCHEMES", "CoilThermostat", "ProbeOffset", "SetPoint", "Thermostat",
    "coil_thermostat_check", "lowest_off_cycle_cut_in", "probe_offset_effect", "probe_offset_to_enter",
    "set_point_settings", "thermostat_check", "thermostat_coldest_air", "thermostat_warmest_air", "true_set_point",
]

OFF_CYCLE, HEATED = "off_cycle", "heated"
#: Where the differential lies: above the set point, below it, or half on each side.
SCHEMES = ("above", "below", "around")
_SLACK_K = 1e-6


@dataclass(frozen=True, slots=True)
class SetPoint:
    """Cut-in and cut-out (K) of a controller that is set by set point and differential."""

    cut_in: float
    cut_out: float


@dataclass(frozen=True, slots=True)
class Thermostat:
    """Air at the product while a thermostat cycles: ``coldest``, ``warmest``; ``coil`` at its coldest; all K."""

    coldest: float
    warmest: float
    differential: float
    coil: float
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class CoilThermostat:
    """Box air (K) while a thermostat with its bulb on the coil cycles."""

    box_at_cut_out: float
    box_at_cut_in: float
    verdict: str
    conflicts: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class ProbeOffset:
    """Where the air is really held: ``air`` (K), ``error`` (air less set point, K), and both in words."""

    air: float
    error: float
    effect: str


def thermostat_warmest_air(cut_in: float, probe_accuracy: float, position_offset: float) -> float:
    """Warmest air at the product before a thermostat starts the compressor.

    ``cut_in`` (K) plus ``probe_accuracy`` (K, 0 or more), less ``position_offset`` (K):
    how much warmer the air is at the probe than at the product. K.

    >>> round(thermostat_warmest_air(277.039, 0.556, 1.111) * 1.8 - 459.67, 1)  # 39 degF, 1 and 2 delta_degF
    38.0
    """
    return cut_in + probe_accuracy - position_offset


def thermostat_coldest_air(cut_out: float, probe_accuracy: float, position_offset: float) -> float:
    """Coldest air at the product before a thermostat stops the compressor.

    ``cut_out`` (K) less ``probe_accuracy`` (K, 0 or more), less ``position_offset`` (K):
    how much warmer the air is at the probe than at the product. K.

    >>> round(thermostat_coldest_air(274.817, 0.556, 1.111) * 1.8 - 459.67, 1)  # 35 degF, 1 and 2 delta_degF
    32.0
    """
    return cut_out - probe_accuracy - position_offset


def lowest_off_cycle_cut_in(frost_clear_temperature: float, probe_accuracy: float, position_offset: float) -> float:
    """Lowest cut-in of a thermostat whose coil must lose its frost in the off cycle.

    The air over the coil has to reach ``frost_clear_temperature`` (K, above the 273.15 of
    melting ice) with the probe ``probe_accuracy`` (K) off; ``position_offset`` (K) is how
    much warmer the air is at the probe than at the coil. K.

    >>> round(lowest_off_cycle_cut_in(275.372, 0.556, 0.0) * 1.8 - 459.67, 1)  # 36 degF and 1 delta_degF
    37.0
    """
    return frost_clear_temperature + probe_accuracy + position_offset


def set_point_settings(set_point: float, differential: float, scheme: str) -> SetPoint:
    """Cut-in and cut-out of a controller that is set by set point and differential.

    ``scheme`` says where the differential lies: ``above`` the set point (it cuts out at
    the set point, cuts in above), ``below`` (cuts in at the set point), ``around`` (half on
    each side). K.

    >>> s = set_point_settings(274.817, 1.667, "above")  # 35 degF, 3 delta_degF
    >>> round(s.cut_in * 1.8 - 459.67), round(s.cut_out * 1.8 - 459.67)
    (38, 35)
    """
    share = {"above": 1.0, "around": 0.5, "below": 0.0}.get(scheme)
    if share is None:
        raise InputError(f"'scheme' is '{scheme}'", "one of " + ", ".join(SCHEMES))
    return SetPoint(set_point + share * differential, set_point - (1.0 - share) * differential)


def thermostat_check(
    cut_in: float, cut_out: float, product_low: float, product_high: float, defrost: str, probe_accuracy: float,
    position_offset: float, temperature_difference: float, least_differential: float, most_differential: float,
    frost_clear_temperature: float,
) -> Thermostat:
    """What a thermostat's cut-in and cut-out mean for the product and the coil, and every conflict.

    The air at the product swings from coldest to warmest, probe accuracy and position
    included (``thermostat_coldest_air``, ``thermostat_warmest_air``); the product itself
    swings less. Limits ``product_low``, ``product_high``, ``frost_clear_temperature`` in K;
    ``temperature_difference`` (K) of the coil; ``defrost`` is off_cycle or heated. Off-cycle
    the coil is only as warm as the air at the probe: where it runs below freezing the
    cut-in must be warm enough to melt its frost.

    >>> a = thermostat_check(
    ...     277.594, 275.372, product_low=273.706, product_high=278.15, defrost="off_cycle", probe_accuracy=0.556,
    ...     position_offset=0.0, temperature_difference=5.556, least_differential=1.111, most_differential=4.444,
    ...     frost_clear_temperature=275.372)
    >>> round(a.coldest * 1.8 - 459.67), round(a.warmest * 1.8 - 459.67), a.verdict  # 40 and 36 degF
    (35, 41, 'no conflict')
    """
    if cut_in <= cut_out:
        raise InputError(f"'cut_in' is {degf(cut_in)}, 'cut_out' {degf(cut_out)}", "a cut-in above the cut-out")
    if product_low >= product_high:
        raise InputError(
            f"'product_low' is {degf(product_low)}, 'product_high' {degf(product_high)}",
            "a low limit below the high one",
        )
    coldest = thermostat_coldest_air(cut_out, probe_accuracy, position_offset)
    warmest = thermostat_warmest_air(cut_in, probe_accuracy, position_offset)
    differential = cut_in - cut_out
    # The coil draws the air that passes the probe, not that at the product.
    coil, least_warm = cut_out - probe_accuracy - temperature_difference, cut_in - probe_accuracy
    conflicts = named((
        *_product(coldest, warmest, product_low, product_high),
        f"differential too small: {spread(differential)}, at least {spread(least_differential)} wanted: the unit "
        "short-cycles" if differential < least_differential - _SLACK_K else "",
        f"differential too large: {spread(differential)}, at most {spread(most_differential)} wanted"
        if differential > most_differential + _SLACK_K else "",
        f"frost does not clear: the coil runs down to {degf(coil)}, the air warms it to {degf(least_warm)} only before "
        f"the restart, {degf(frost_clear_temperature)} wanted (ice melts at 32 degF)"
        if defrost == OFF_CYCLE and coil < FREEZING_K and least_warm < frost_clear_temperature - _SLACK_K else "",
    ))
    return Thermostat(coldest, warmest, differential, coil, verdict(conflicts), conflicts)


def _product(coldest: float, warmest: float, low: float, high: float) -> tuple[str, str]:
    return (
        f"product too warm: air up to {degf(warmest)}, limit {degf(high)}" if warmest > high + _SLACK_K else "",
        f"product too cold: air down to {degf(coldest)}, limit {degf(low)}" if coldest < low - _SLACK_K else "",
    )


def coil_thermostat_check(
    cut_in: float, cut_out: float, temperature_difference: float, product_low: float, product_high: float,
    probe_accuracy: float, frost_clear_temperature: float,
) -> CoilThermostat:
    """What a thermostat with its bulb on the coil (constant cut-in) means for the box, and every conflict.

    It cuts out at a coil temperature: the box is ``temperature_difference`` (K) warmer.
    It cuts in when the resting coil has come to ``cut_in`` (K): about the box air, and
    clear of frost.

    >>> a = coil_thermostat_check(276.483, 269.261, 5.556, 273.706, 278.15, 0.556, 275.372)
    >>> round(a.box_at_cut_out * 1.8 - 459.67), a.verdict  # in 38, out 25 degF, 10 delta_degF
    (35, 'no conflict')
    """
    if cut_in <= cut_out:
        raise InputError(f"'cut_in' is {degf(cut_in)}, 'cut_out' {degf(cut_out)}", "a cut-in above the cut-out")
    box_cold = cut_out + temperature_difference
    clear = cut_in - probe_accuracy
    conflicts = named((
        *_product(box_cold - probe_accuracy, max(cut_in, box_cold) + probe_accuracy, product_low, product_high),
        f"frost does not clear: cut-in may be {degf(clear)}, {degf(frost_clear_temperature)} wanted (ice melts at "
        "32 degF)" if cut_out < FREEZING_K and clear < frost_clear_temperature - _SLACK_K else "",
    ))
    return CoilThermostat(box_cold, cut_in, verdict(conflicts), conflicts)


def true_set_point(set_point: float, probe_error: float, entered_offset: float) -> float:
    """Air temperature that a controller really holds.

    It compares its set point with what it believes: true air plus ``probe_error`` (K:
    reads so much too warm) plus the ``entered_offset`` (K: calibration added to the reading).
    So the air is held at ``set_point`` less both. K.

    >>> round(true_set_point(275.928, 1.667, 0.0) * 1.8 - 459.67)  # 37 degF, probe reads 3 too warm
    34
    """
    return set_point - probe_error - entered_offset


def probe_offset_to_enter(shown: float, true: float, entered_offset: float) -> float:
    """Offset to enter so that a controller shows the true temperature.

    What it shows now (K, with ``entered_offset`` in it) must become ``true`` (K, a
    reference thermometer beside the probe): the old offset plus true less shown. K.

    >>> round(probe_offset_to_enter(274.817, 276.483, 0.556) * 1.8)  # shows 35, true 38, offset 1: delta_degF
    4
    """
    return entered_offset + true - shown


def probe_offset_effect(set_point: float, probe_error: float, entered_offset: float) -> ProbeOffset:
    """What a probe error and an entered offset do to the box, in words.

    As ``true_set_point``: a reading too warm makes the box run too cold, and the display still shows the set point.

    >>> probe_offset_effect(275.928, 0.0, -1.111).effect  # 37 degF, offset -2 delta_degF
    'the box runs 2 delta_degF warmer than set: 39 degF while the display shows 37 degF'
    """
    air = true_set_point(set_point, probe_error, entered_offset)
    error = air - set_point
    if abs(error) < 0.01:
        return ProbeOffset(air, error, "no effect: probe and offset cancel")
    way = "warmer" if error > 0.0 else "colder"
    return ProbeOffset(
        air, error,
        f"the box runs {spread(abs(error))} {way} than set: {degf(air)} while the display shows {degf(set_point)}",
    )
