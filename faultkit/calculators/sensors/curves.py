"""The sensor curves of the trade, by name: what each is, its range, and the argument that chooses one."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from types import MappingProxyType

from faultkit.calculators.arguments import Word
from faultkit.calculators.sensors.models import Model, Platinum, Silicon, SteinhartHart
from faultkit.problems import InputError, did_you_mean
from faultkit.units import format_si

__all__ = ["CURVE", "CURVES", "CURVE_SOURCE", "OHMMETER", "Curve", "curve_word", "find_curve"]

CURVE_SOURCE = (
    "platinum: IEC 60751; NTC: Steinhart-Hart equation with published coefficients of each curve (10 kohm 3435: "
    "from three rows of its published table); silicon PTC: published quadratic of the 1000 ohm type, 990 ohm in "
    "proportion"
)
OHMMETER = (
    "Ohm a sensor with both its leads off the control and power off: on a live input the meter reads wrong and may do "
    "harm. A control's other terminals can be at line voltage; follow local codes and your lockout routine."
)

#: Taken beyond the ends of a range (K), so that the rounded ohms of a table's last row still are.
_SLACK = 0.5


@dataclass(frozen=True, slots=True)
class Curve:
    """A sensor curve: ``model`` between ``lowest`` and ``highest`` kelvin, where it is known to hold."""

    name: str
    title: str
    model: Model
    lowest: float
    highest: float

    @property
    def rises(self) -> bool:
        """Whether ohms go up as it warms: yes for platinum and PTC, no for NTC."""
        return self.model.resistance(self.highest) > self.model.resistance(self.lowest)

    @property
    def ends(self) -> tuple[float, float]:
        """Lowest and highest ohms of its range."""
        low, high = sorted((self.model.resistance(self.lowest), self.model.resistance(self.highest)))
        return low, high

    def resistance(self, temperature: float) -> float:
        """Ohm at a temperature in kelvin. InputError outside its range."""
        if not self.lowest - _SLACK <= temperature <= self.highest + _SLACK:
            raise InputError(
                f"temperature is {format_si(temperature, 'degF', 4)}",
                f"{format_si(self.lowest, 'degF', 4)} to {format_si(self.highest, 'degF', 4)} on curve '{self.name}'",
            )
        return self.model.resistance(temperature)

    def holds(self, resistance: float) -> bool:
        """Whether a resistance in ohm is on the curve."""
        ends = self.model.resistance(self.lowest - _SLACK), self.model.resistance(self.highest + _SLACK)
        return min(ends) <= resistance <= max(ends)

    def temperature(self, resistance: float) -> float:
        """Kelvin at a resistance in ohm. InputError outside its range."""
        if not self.holds(resistance):
            low, high = self.ends
            raise InputError(
                f"resistance is {format_si(resistance, 'ohm', 5)}, off curve '{self.name}': the sensor, its leads or "
                "the curve is wrong",
                f"{format_si(low, 'ohm', 5)} to {format_si(high, 'ohm', 5)}",
            )
        return self.model.temperature(resistance)


def _kelvin(celsius: float) -> float:
    return round(celsius + 273.15, 9)


def _curve(name: str, title: str, model: Model, lowest: float, highest: float) -> Curve:
    return Curve(name, title, model, _kelvin(lowest), _kelvin(highest))


# Coefficients of the type 2 material were published for each R25 with 0, 25 and 70 degC as points; its
# resistances are in one proportion, so the curves agree within 0.1 K of one another from -50 to 150 degC.
_ALL = (
    _curve("pt100", "platinum, 100 ohm at 32 degF", Platinum(100.0), -200.0, 850.0),
    _curve("pt1000", "platinum, 1000 ohm at 32 degF", Platinum(1000.0), -200.0, 850.0),
    _curve(
        "ntc_10k_type_2", "NTC 10 kohm at 77 degF, type 2 (beta 25/85 3976 K)",
        SteinhartHart(1.129241e-3, 2.341077e-4, 8.775468e-8), -50.0, 150.0,
    ),
    _curve(
        "ntc_10k_type_3", "NTC 10 kohm at 77 degF, type 3 (beta 25/85 3695 K)",
        SteinhartHart(1.028444e-3, 2.392435e-4, 1.562216e-7), -50.0, 130.0,
    ),
    _curve(
        "ntc_10k_3435", "NTC 10 kohm at 77 degF, beta 25/85 3435 K (usual on case controls)",
        SteinhartHart(8.8848904e-4, 2.51100491e-4, 1.95575538e-7), -50.0, 110.0,
    ),
    _curve(
        "ntc_5k", "NTC 5 kohm at 77 degF, type 2 material",
        SteinhartHart(1.287450e-3, 2.357394e-4, 9.505200e-8), -50.0, 150.0,
    ),
    _curve(
        "ntc_3k", "NTC 3 kohm at 77 degF, type 2 material",
        SteinhartHart(1.405027e-3, 2.369386e-4, 1.012660e-7), -50.0, 150.0,
    ),
    _curve(
        "ntc_2252", "NTC 2252 ohm at 77 degF (the '2.2 k'), type 2 material",
        SteinhartHart(1.471388e-3, 2.376138e-4, 1.051058e-7), -50.0, 150.0,
    ),
    _curve(
        "ntc_2k", "NTC 2 kohm at 77 degF, type 2 material",
        SteinhartHart(1.498872e-3, 2.379047e-4, 1.066953e-7), -50.0, 150.0,
    ),
    _curve("ptc_1k", "silicon PTC, 1000 ohm at 77 degF", Silicon(1000.0), -55.0, 100.0),
    _curve("ptc_990", "silicon PTC, 990 ohm at 77 degF (usual on case controls)", Silicon(990.0), -55.0, 100.0),
)

#: The curves by name.
CURVES: Mapping[str, Curve] = MappingProxyType({c.name: c for c in _ALL})


def _key(text: str) -> str:
    folded = "".join(c for c in text.lower() if c.isalnum()).removeprefix("ntc").removeprefix("ptc")
    for ending, digit in (("iii", "3"), ("ii", "2")):
        if folded.endswith("type" + ending):
            return folded.removesuffix(ending) + digit
    return folded


_BY_KEY = MappingProxyType({_key(c.name): c.name for c in _ALL})


def curve_word(text: str) -> str:
    """The curve meant by a spelling: ``Pt1000``, ``10k type 2``, ``10K Type II``, ``NTC 5k``. InputError for none.

    >>> curve_word("10K type II")
    'ntc_10k_type_2'
    """
    found = _BY_KEY.get(_key(text))
    if found is None:
        raise InputError(f"'{text}' is no sensor curve", did_you_mean(text.strip().lower().replace(" ", "_"), CURVES))
    return found


def find_curve(name: str) -> Curve:
    """The curve of that name or spelling. InputError for none."""
    return CURVES[name if name in CURVES else curve_word(name)]


#: The argument that chooses a curve.
CURVE = Word("curve", tuple(CURVES), "sensor curve", read=curve_word)
