"""Motor amps against the nameplate: load, stall, low voltage."""

from __future__ import annotations

from dataclasses import dataclass

from faultkit.calculators.arguments import Argument, Direction, Interval, Result
from faultkit.calculators.declare import Calculator
from faultkit.calculators.electrical.terms import FALLING, LIVE, RISING, current, share, voltage
from faultkit.problems import InputError
from faultkit.units import Kind, format_si

__all__ = [
    "MOTORS", "MotorState", "current_ratio", "locked_rotor_current", "locked_rotor_ratio", "motor_current_at_voltage",
    "motor_state", "starting_torque_ratio",
]

#: A running motor keeps its speed near enough in this range of voltage for the rule of constant load.
_LOAD_HOLDS = (0.8, 1.2)


@dataclass(frozen=True, slots=True)
class MotorState:
    """Both ratios, and ``locked_rotor_current`` at the voltage there is (A)."""

    verdict: str
    of_rated: float
    of_locked_rotor: float
    locked_rotor_current: float


def current_ratio(current: float, rated_load_current: float) -> float:
    """Amps of a motor by its rated-load amps, a ratio: 1 is 100 %.

    Running amps of one leg (three phase: the average) against the nameplate. Rated-load amps of a
    compressor are set for its protector; in good health it draws less.

    >>> current_ratio(15.6, 12.0)
    1.3
    """
    return current / rated_load_current


def locked_rotor_current(rated_locked_rotor_current: float, rated_voltage: float, voltage: float) -> float:
    """Locked-rotor amps to expect at another voltage (A).

    A motor that does not turn draws in proportion to the volts at its terminals while it draws.

    >>> locked_rotor_current(60.0, 230.0, 207.0)
    54.0
    """
    return rated_locked_rotor_current * (voltage / rated_voltage)


def locked_rotor_ratio(
    current: float, rated_locked_rotor_current: float, rated_voltage: float, voltage: float
) -> float:
    """Amps of a motor by its locked-rotor amps at the voltage there is, a ratio: 1 is 100 %.

    Near 1 for longer than a start: it does not turn. ``voltage`` (V) at the motor at that moment.

    >>> round(locked_rotor_ratio(52.0, 60.0, 230.0, 207.0), 3)
    0.963
    """
    return current / locked_rotor_current(rated_locked_rotor_current, rated_voltage, voltage)


def motor_state(
    current: float, rated_load_current: float, rated_locked_rotor_current: float, rated_voltage: float,
    voltage: float, time_on: float, stalled_from: float = 0.6, longest_start: float = 3.0, heavy_from: float = 1.15,
    light_to: float = 0.5,
) -> MotorState:
    """What a motor does, by its amps: runs, stalls, or too early to say.

    Amps ``time_on`` seconds after it was switched on, volts then, nameplate amps and volts. From
    ``stalled_from`` of the locked-rotor amps at that voltage it does not turn, or has not come up to speed
    if ``longest_start`` (s) has not passed. On three phase with one leg lost it stalls at about 87 %.

    >>> motor_state(52.0, 12.0, 60.0, 230.0, 207.0, 4.0).verdict
    'stalled'
    """
    if rated_locked_rotor_current <= rated_load_current:
        raise InputError(
            f"rated_locked_rotor_current {format_si(rated_locked_rotor_current, 'A')} is not above rated_load_current "
            f"{format_si(rated_load_current, 'A')}",
            "LRA several times RLA, as on the nameplate",
        )
    if light_to >= heavy_from:
        raise InputError(
            f"light_to {format_si(light_to, '%')} is not below heavy_from {format_si(heavy_from, '%')}",
            "the lower one first",
        )
    locked = locked_rotor_current(rated_locked_rotor_current, rated_voltage, voltage)
    of_rated, of_locked = current_ratio(current, rated_load_current), current / locked
    if of_locked >= stalled_from:
        verdict = "stalled" if time_on > longest_start else "starting, too early to say"
    elif of_rated >= heavy_from:
        verdict = "runs overloaded"
    elif of_rated <= 0.02:
        verdict = "no current"
    else:
        verdict = "runs light" if of_rated <= light_to else "runs"
    return MotorState(verdict, of_rated, of_locked, locked)


def _near(rated_voltage: float, voltage: float) -> None:
    low, high = _LOAD_HOLDS[0] * rated_voltage, _LOAD_HOLDS[1] * rated_voltage
    if not low - 1e-9 <= voltage <= high + 1e-9:
        raise InputError(
            f"other_voltage {format_si(voltage, 'V', 4)} against {format_si(rated_voltage, 'V', 4)}",
            f"{format_si(low, 'V', 4)} to {format_si(high, 'V', 4)}: beyond, a loaded motor slows down or saturates",
        )


def motor_current_at_voltage(current: float, voltage: float, other_voltage: float) -> float:
    """Running amps of a loaded motor at another voltage (A).

    At one load it draws about in inverse proportion: 10 % less voltage, 11 % more amps, and more heat.
    An estimate within 20 % of the ``voltage`` (V) at which ``current`` (A) holds; above the rating
    the amps fall less than this.

    >>> round(motor_current_at_voltage(12.0, 230.0, 207.0), 2)
    13.33
    """
    _near(voltage, other_voltage)
    return current * voltage / other_voltage


def starting_torque_ratio(voltage: float, rated_voltage: float) -> float:
    """Starting and breakdown torque left at another voltage, a ratio: 1 is 100 %.

    Goes with the square of the volts at the motor while it starts: 10 % low leaves 81 %.

    >>> round(starting_torque_ratio(207.0, 230.0), 4)
    0.81
    """
    return (voltage / rated_voltage) ** 2


_RATED = (0.05, 1000.0)
_PLATE_VOLTS = (20.0, 1000.0)
_TEXTBOOK = "table of voltage effects on induction motors and a textbook of electrical engineering (seen)"
_NAMEPLATE = {"rated_locked_rotor_current": "60 A", "rated_voltage": "230 V", "voltage": "207 V ± 2 V"}


def _locked(direction: Direction | None) -> Argument:
    return current("rated_locked_rotor_current", "locked-rotor amps on the nameplate (LRA)", direction, _RATED)


def _volts(direction: Direction | None, valid: Interval = (0.0, 1000.0)) -> Argument:
    return voltage("voltage", "volts at the motor then", direction, valid)


def _plate_volts(direction: Direction | None) -> Argument:
    return voltage("rated_voltage", "volts on the nameplate", direction, _PLATE_VOLTS)


def _ratio(name: str, title: str) -> Result:
    return Result(name, Kind.RATIO, title, "%")


#: The calculators of this file.
MOTORS: tuple[Calculator, ...] = (
    Calculator(
        "current_ratio", current_ratio,
        (
            current("current", "amps measured", RISING),
            current("rated_load_current", "rated-load amps on the nameplate (RLA)", FALLING, _RATED),
        ),
        result=Kind.RATIO, unit="%", source="follows from the definition", caution=LIVE,
        example={"current": "15.6 A ± 0.3 A", "rated_load_current": "12 A"},
    ),
    Calculator(
        "locked_rotor_current", locked_rotor_current, (_locked(RISING), _plate_volts(FALLING), _volts(RISING)),
        result=Kind.CURRENT, unit="A", source=_TEXTBOOK, caution=LIVE, example=_NAMEPLATE,
    ),
    Calculator(
        "locked_rotor_ratio", locked_rotor_ratio,
        (
            current("current", "amps measured", RISING), _locked(FALLING), _plate_volts(RISING),
            _volts(FALLING, _PLATE_VOLTS),
        ),
        result=Kind.RATIO, unit="%", source=_TEXTBOOK, caution=LIVE, example={"current": "52 A ± 1 A", **_NAMEPLATE},
    ),
    Calculator(
        "motor_state", motor_state,
        (
            current("current", "amps measured", None),
            current("rated_load_current", "rated-load amps on the nameplate (RLA)", None, _RATED), _locked(None),
            _plate_volts(None), _volts(None, _PLATE_VOLTS),
            Argument("time_on", (Kind.TIME,), None, "time since it was switched on", valid=(0.0, 1e6), unit="s"),
            share("stalled_from", "stalled from this share of LRA", None, (0.3, 1.0), 0.6),
            Argument(
                "longest_start", (Kind.TIME,), None, "a start takes at most", valid=(0.1, 60.0), unit="s", default=3.0
            ),
            share("heavy_from", "overloaded from this share of RLA", None, (0.5, 2.0), 1.15),
            share("light_to", "light to this share of RLA", None, (0.05, 1.0), 0.5),
        ),
        result=(
            Result("verdict", None, "the motor"), _ratio("of_rated", "of rated-load amps"),
            _ratio("of_locked_rotor", "of locked-rotor amps at this voltage"),
            Result("locked_rotor_current", Kind.CURRENT, "locked-rotor amps at this voltage", "A"),
        ),
        source=f"{_TEXTBOOK}; limits: common practice, no source", caution=LIVE,
        example={"current": "52 A ± 1 A", "rated_load_current": "12 A", **_NAMEPLATE, "time_on": "4 s"},
    ),
    Calculator(
        "motor_current_at_voltage", motor_current_at_voltage,
        (
            current("current", "running amps", RISING), voltage("voltage", "at this voltage", RISING, _PLATE_VOLTS),
            voltage("other_voltage", "voltage wanted", FALLING, _PLATE_VOLTS),
        ),
        result=Kind.CURRENT, unit="A", source=_TEXTBOOK, caution=LIVE,
        example={"current": "12 A ± 0.3 A", "voltage": "230 V", "other_voltage": "207 V ± 2 V"},
    ),
    Calculator(
        "starting_torque_ratio", starting_torque_ratio, (_volts(RISING), _plate_volts(FALLING)),
        result=Kind.RATIO, unit="%", source=_TEXTBOOK, caution=LIVE,
        example={"voltage": "195 V ± 2 V", "rated_voltage": "230 V"},
    ),
)
