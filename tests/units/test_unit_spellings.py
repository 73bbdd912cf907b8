"""Spellings of the units in the table, and the forms of one unit."""

from __future__ import annotations

import pickle
import unicodedata

import pytest

from faultkit.units import UNITS, Kind, kind_of, to_si, unit_name
from faultkit.units import table as units_table
from faultkit.units.table import ALIASES, FOLDED, REFUSED, sibling


@pytest.mark.parametrize("alias", ALIASES)
def test_spelling_gives_the_unit_it_stands_for(alias: str) -> None:
    assert unit_name(alias) == ALIASES[alias]
    assert alias not in UNITS
    assert alias not in REFUSED
    assert unicodedata.normalize("NFKC", alias) == alias


def test_no_spelling_is_listed_twice() -> None:
    spelt = [word for text in units_table._SPELLINGS.values() for word in text.split()]
    assert len(spelt) == len(set(spelt))
    assert set(units_table._SPELLINGS) <= set(UNITS)


@pytest.mark.parametrize(
    ("written", "name"),
    [
        ("PSIG", "psig"),
        ("Psia", "psia"),
        ("DEGF", "degF"),
        ("degf", "degF"),
        ("KPA", "kPa"),
        ("INHG_VAC", "inHg_vac"),
        ("RPM", "rpm"),
        ("CFM", "cfm"),
        ("BTU/H", "Btu_per_h"),
        ("\N{DEGREE FAHRENHEIT}", "degF"),
        ("°F", "degF"),
        ("\N{OHM SIGN}", "ohm"),
        ("\N{GREEK CAPITAL LETTER OMEGA}", "ohm"),
        ("\N{MICRO SIGN}F", "uF"),
        ("\N{GREEK SMALL LETTER MU}F", "uF"),
        ("ft\N{SUPERSCRIPT THREE}", "ft3"),
        (" psig ", "psig"),
        ("Volts", "V"),
        ("MIN", "min"),
        ("fpm", "ft_per_min"),
        ("mfd", "uF"),
        ("VAC", "V"),
        ("PERCENT", "%"),
    ],
)
def test_common_spellings(written: str, name: str) -> None:
    assert unit_name(written) == name


def test_letter_case_never_changes_a_prefix() -> None:
    assert not {"mpa", "mpa_gauge", "mohm", "mbar", "mw", "mv", "ma"} & set(FOLDED)
    assert kind_of("Mohm") is Kind.RESISTANCE
    assert to_si(1, "mV") == 1e-3
    assert to_si(1, "MV") == pytest.approx(1e6)  # pint's megavolt, not ours folded to a millivolt


@pytest.mark.parametrize(
    ("name", "kind", "other"),
    [
        ("psi", Kind.GAUGE_PRESSURE, "psig"),
        ("psig", Kind.ABSOLUTE_PRESSURE, "psia"),
        ("psia", Kind.PRESSURE_DIFFERENCE, "psi"),
        ("degF", Kind.TEMPERATURE_DIFFERENCE, "delta_degF"),
        ("inHg_vac", Kind.PRESSURE_DIFFERENCE, "inHg"),
        ("inHg", Kind.GAUGE_PRESSURE, "inHg_vac"),
        ("micron", Kind.PRESSURE_DIFFERENCE, "delta_micron"),
    ],
)
def test_sibling(name: str, kind: Kind, other: str) -> None:
    found = sibling(UNITS[name], kind)
    assert found is not None
    assert found.name == other


def test_no_sibling_of_another_kind() -> None:
    assert sibling(UNITS["V"], Kind.CURRENT) is None


def test_units_pickle() -> None:
    assert pickle.loads(pickle.dumps(UNITS["psig"])) == UNITS["psig"]  # noqa: S301 - our own bytes
