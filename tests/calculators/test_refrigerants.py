"""Refrigerants: names, ranges, round trips, directions, what a wrong input says."""

from __future__ import annotations

import subprocess
import sys

import pytest
from hypothesis import given
from hypothesis import strategies as st

from faultkit.calculators import Argument, Word
from faultkit.calculators.ask import ask
from faultkit.calculators.declare import Calculator
from faultkit.calculators.refrigerants import REFRIGERANT, REFRIGERANTS, refrigerant
from faultkit.calculators.refrigerants.circuit import compression_ratio, discharge_temperature
from faultkit.problems import InputError
from faultkit.units import to_si

NAMES = REFRIGERANT.choices
BY_NAME = {c.name: c for c in REFRIGERANTS}
SHARES = st.floats(0.0, 1.0)


def asked(name: str, **given_: str) -> float:
    return ask(BY_NAME[name], given_).value


@pytest.mark.parametrize("text", ["R-404A", "r404a", "R 404a", "404A", "HFC-404A", "r_404A", " R404A "])
def test_a_refrigerant_however_spelt(text: str) -> None:
    assert refrigerant(text).name == "R-404A"


@pytest.mark.parametrize(
    ("text", "expected"),
    [("R-12", "one of R-22, R-134a"), ("448", "did you mean 'R-448A'"), ("", "one of"), ("water", "one of")],
)
def test_an_unknown_refrigerant_names_the_known_ones(text: str, expected: str) -> None:
    with pytest.raises(InputError, match=f"refrigerant '{text}' is not known") as caught:
        refrigerant(text)
    assert expected in caught.value.problems[0].expected


@pytest.mark.parametrize("name", NAMES)
@given(share=SHARES)
def test_pressure_and_back_is_the_same_temperature(name: str, share: float) -> None:
    fluid = refrigerant(name)
    low, high = fluid.temperatures
    t = low + share * (high - low)
    # Twice the largest error of a fit; at the very ends the pressure may round past the range.
    for pressure, temperature in (
        (fluid.dew_pressure, fluid.dew_temperature), (fluid.bubble_pressure, fluid.bubble_temperature)
    ):
        p = pressure(t)
        if fluid.pressures[0] <= p <= fluid.pressures[1]:
            assert temperature(p) == pytest.approx(t, abs=0.01)


@pytest.mark.parametrize("name", NAMES)
@given(a=SHARES, b=SHARES)
def test_curves_rise_and_fall_as_they_must(name: str, a: float, b: float) -> None:
    fluid = refrigerant(name)
    low, high = fluid.temperatures
    colder, warmer = sorted((low + a * (high - low), low + b * (high - low)))
    if warmer - colder < 0.05:
        return
    for rising in (fluid.dew_pressure, fluid.bubble_pressure, fluid.vapor_density):
        assert rising(warmer) > rising(colder)
    for falling in (fluid.liquid_density, fluid.latent_heat):
        assert falling(warmer) < falling(colder)


@pytest.mark.parametrize("name", NAMES)
def test_the_dew_point_is_never_below_the_bubble_point(name: str) -> None:
    fluid = refrigerant(name)
    low, high = fluid.pressures
    for i in range(101):
        p = low * (high / low) ** (i / 100.0)
        assert fluid.dew_temperature(p) - fluid.bubble_temperature(p) > -0.006  # errors of two fits


def test_a_pure_fluid_has_no_glide() -> None:
    assert asked("glide", pressure="44 psig", refrigerant="R-134a") == 0.0
    assert asked("glide", pressure="44 psig", refrigerant="R-448A") > 5.0


@pytest.mark.parametrize("bad", [float("nan"), float("inf"), 0.0, -1.0, 1e9])
@pytest.mark.parametrize("curve", ["dew_temperature", "bubble_temperature", "dew_pressure", "liquid_density"])
def test_nothing_comes_out_beyond_the_fits(curve: str, bad: float) -> None:
    with pytest.raises(InputError, match="R-404A at") as caught:
        getattr(refrigerant("R-404A"), curve)(bad)
    assert " to " in caught.value.problems[0].expected


def test_wrong_side_of_the_glide_is_another_number() -> None:
    """R-448A at 43.94 psig: dew 20.0 degF, bubble 8.9 degF (CoolProp 8)."""
    dew = asked("dew_temperature", pressure="43.94 psig", refrigerant="R-448A")
    bubble = asked("bubble_temperature", pressure="43.94 psig", refrigerant="R-448A")
    assert dew == pytest.approx(to_si(20.0, "degF"), abs=0.02)
    assert bubble == pytest.approx(to_si(8.9, "degF"), abs=0.03)


def test_accuracy_of_gauge_and_thermometer_reaches_the_superheat() -> None:
    """1.42 degF a psi for R-134a at 20 degF (CoolProp 8): one psi and one degree are 2.4 degrees either way."""
    answer = ask(BY_NAME["superheat"], {
        "suction_pressure": "18.43 psig ± 1 psi", "line_temperature": "30 degF ± 1 delta_degF", "refrigerant": "R-134a",
    })
    (figure,) = answer.figures
    assert figure.low is not None
    assert figure.high is not None
    assert (figure.high - figure.low) / 2.0 * 1.8 == pytest.approx(2.42, abs=0.05)
    assert answer.calculator.method == "corners"


def test_a_vacuum_is_a_gauge_pressure() -> None:
    """10 inHg below the standard atmosphere is 9.784 psia."""
    vacuum = asked("dew_temperature", pressure="10 inHg_vac", refrigerant="R-134a")
    absolute = asked("dew_temperature", pressure="9.7843 psia", refrigerant="R-134a")
    assert vacuum == pytest.approx(absolute, abs=1e-3)


@pytest.mark.parametrize(
    ("given_", "told"),
    [
        ({"suction_pressure": "22 psi"}, "say psig (gauge) or psia (absolute)"),
        ({"suction_pressure": "-15 psig"}, "deeper than a full vacuum"),
        ({"suction_pressure": "-14.6 psig"}, "has no dew temperature here"),
        ({"suction_pressure": "900 psig"}, "has no dew temperature here"),
        ({"suction_pressure": "22"}, "has no unit"),
        ({"line_temperature": "35 delta_degF"}, "'35 delta_degF' is a temperature difference"),
        ({"line_temperature": "-500 degF"}, "cannot be a temperature"),
        ({"line_temperature": "35 degF ± 1 degF"}, "write it in 'delta_degF'"),
        ({"line_temperature": "35 degF ± 1 delta_degF ± 2 delta_degF"}, "two accuracies"),
        ({"line_temperature": "nan degF"}, "nan"),
        ({"refrigerant": "R-12"}, "refrigerant 'R-12' is not known"),
        ({"pipe": "3 degF"}, "'pipe' is no argument of 'superheat'"),
    ],
)
def test_bad_input_names_the_input_and_what_to_write(given_: dict[str, str], told: str) -> None:
    good = {"suction_pressure": "22.1 psig", "line_temperature": "35 degF", "refrigerant": "R-134a"}
    with pytest.raises(InputError) as caught:
        ask(BY_NAME["superheat"], good | given_)
    assert told in str(caught.value)
    assert all(p.expected for p in caught.value.problems)


def test_all_bad_inputs_are_told_at_once() -> None:
    with pytest.raises(InputError) as caught:
        ask(BY_NAME["superheat"], {"suction_pressure": "22 psi", "line_temperature": "35", "refrigerant": "R-1"})
    assert len(caught.value.problems) == 3


def test_a_compressor_does_not_lower_the_pressure() -> None:
    with pytest.raises(InputError, match="below the suction pressure"):
        compression_ratio(2e5, 3e5)
    with pytest.raises(InputError, match="below the suction pressure"):
        discharge_temperature(3e5, 280.0, 2e5, "R-134a")


def test_wet_suction_gas_has_no_discharge_temperature() -> None:
    fluid = refrigerant("R-404A")
    with pytest.raises(InputError, match="is not all vapor"):
        discharge_temperature(fluid.dew_pressure(250.0), 245.0, fluid.dew_pressure(310.0), "R-404A")


def test_a_better_compressor_runs_cooler() -> None:
    fluid = refrigerant("R-448A")
    p1, p2 = fluid.dew_pressure(260.0), fluid.dew_pressure(315.0)
    hot, cool = (discharge_temperature(p1, 275.0, p2, "R-448A", eta) for eta in (0.6, 0.9))
    assert hot > cool > 275.0


def declared_directions() -> list[tuple[Calculator, Argument]]:
    return [
        (c, a) for c in REFRIGERANTS for a in c.arguments
        if isinstance(a, Argument) and a.direction in {"rising", "falling"} and c.name != "discharge_temperature"
    ]


@pytest.mark.parametrize(
    ("calculator", "argument"), declared_directions(), ids=lambda x: x.name
)
@given(data=st.data())
def test_declared_directions_hold(calculator: Calculator, argument: Argument, data: st.DataObject) -> None:
    name = data.draw(st.sampled_from(NAMES))
    fluid = refrigerant(name)

    def drawn(a: Argument) -> float:
        share = data.draw(SHARES)
        low, high = {
            "temperature": fluid.temperatures, "absolute_pressure": fluid.pressures, "pressure_difference": (0.0, 1e4),
            "length": (0.0, 50.0),
        }[a.kinds[0]]
        if a.name in {"discharge_pressure", "liquid_pressure"}:
            low = max(low * 2.0, 3e5) if low * 2.0 < high else low
        return low + share * (high - low)

    values = {a.name: drawn(a) for a in calculator.arguments if isinstance(a, Argument)} | {
        a.name: a.default or name for a in calculator.arguments if isinstance(a, Word)
    }
    other = drawn(argument)
    lower, upper = sorted((float(values[argument.name]), other))
    if upper - lower < 1e-3 * max(abs(upper), 1.0):
        return
    try:
        results = [float(calculator.function(**values | {argument.name: v})) for v in (lower, upper)]
    except InputError:
        return  # a pair without a meaning, such as a discharge below the suction
    if argument.direction == "rising":
        assert results[0] <= results[1] + 1e-6 * abs(results[1])
    else:
        assert results[0] >= results[1] - 1e-6 * abs(results[1])


def test_saturation_needs_no_library() -> None:
    code = (
        "import sys\n"
        "from faultkit.plugins import load_plugins\n"
        "from faultkit.calculators.ask import ask\n"
        "ask(load_plugins(installed=False).calculators['superheat'], {'suction_pressure': '20 psig',"
        " 'line_temperature': '30 degF', 'refrigerant': 'R-134a'})\n"
        "assert not {'CoolProp', 'pint', 'numpy', 'scipy'} & set(sys.modules), sorted(sys.modules)\n"
    )
    subprocess.run([sys.executable, "-c", code], check=True)
