"""Calculated readings: witnesses found with the calculators themselves, spans, settings handed down."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.consistency import Finding, check_catalogue
from tests.consistency.pages import Page

SHARE = """\
# yaml-language-server: $schema=../schemas/equipment.v1.json
schema: 1
equipment: shared_line
source: common practice
settings:
  rated: {unit: A, range: [5 A, 50 A]}
readings:
  part: {unit: A, range: [0 A, 100 A], bands: [idle, 1 A, working]}
  whole: {unit: A, range: [1 A, 100 A]}
  share:
    unit: percent
    calculate: {use: percent_of, part: part, whole: WHOLE}
    bands: [small, 50 %, large]
events:
  branch_dead: {how_common: common}
tells:
  part:
    - branch_dead: {idle: always}
    - otherwise: {working: always}
  share:
    - branch_dead: {small: always}
    - otherwise: {large: always}
checks:
  clamp: {gives: [part, whole], minutes: 3}
remedies:
  mend: {ends: [branch_dead], minutes: 9, prove: {part: working}}
"""


def found(folder: Path, code: str, **trees: str) -> list[Finding]:
    for name, text in trees.items():
        (folder / f"{name}.yaml").write_text(text, encoding="utf-8")
    return [f for f in check_catalogue([folder], alone=True).findings if f.code == code]


def test_a_witness_by_the_calculator_itself(tmp_path: Path) -> None:
    """More than 1 A proves the branch alive, under half of the whole proves it dead: 20 A of 60 A do both."""
    (f,) = found(tmp_path, "L405", shared=SHARE.replace("WHOLE", "whole"))
    values = {name: float(shown.removesuffix(" A")) for name, shown in f.witness}
    small = values["part"] / values["whole"] < 0.5
    assert small == ("'share' small" in f.what)
    assert (values["part"] < 1.0) == ("'part' idle" in f.what)
    assert small != (values["part"] < 1.0)
    assert "'branch_dead' is both confirmed and ruled out" in f.what


def test_values_that_cannot_be_together_are_no_finding(tmp_path: Path) -> None:
    """Against a whole of 2 A, half of it is the same 1 A: the bands agree for every value."""
    text = SHARE.replace("WHOLE", "2 A").replace("gives: [part, whole]", "gives: [part]")
    assert found(tmp_path, "L405", shared=text) == []


def test_a_span_through_a_setting(tmp_path: Path) -> None:
    """100 A of at least 5 A are at most 2000 %."""
    text = SHARE.replace("WHOLE", "rated").replace("50 %, large", "2100 %, large")
    (f,) = found(tmp_path, "B302", shared=text)
    assert f.witness == (("lowest", "0 %"), ("highest", "2000 %"))
    assert found(tmp_path, "B302", shared=text.replace("2100 %", "1900 %")) == []


def test_a_setting_of_a_joined_unit(page: Page, tmp_path: Path) -> None:
    """The calculation is tried with what the partner declares."""
    fed, outlet = page("R201").good_texts
    fed = fed.replace("fed_by: {events: [dead]}", "fed_by: {events: [dead], settings: [rated]}").replace(
        "  tube_lights: yes_no\n",
        "  tube_lights: yes_no\n  amps: {unit: A}\n  share: {unit: percent, calculate: "
        "{use: percent_of, part: amps, whole: fed_by.rated}, bands: [low, 20 %, high]}\n",
    )
    rows = "  share:\n    - tube_dead: {low: usually}\n    - otherwise: {high: usually}\nchecks:\n"
    fed = fed.replace("checks:\n", rows).replace("gives: [tube_lights]", "gives: [tube_lights, amps]")
    outlet = outlet.replace("joins:\n", "settings:\n  rated: {unit: UNIT}\njoins:\n")
    assert found(tmp_path, "R202", lit_shelf=fed, wall_outlet=outlet.replace("UNIT", "A")) == []
    (f,) = found(tmp_path, "R202", lit_shelf=fed, wall_outlet=outlet.replace("UNIT", "V"))
    assert "differ in kind" in f.what


@pytest.mark.parametrize(("handed", "codes"), [("yes", []), ("dimmer", []), ("no", ["L401"])])
def test_house_events_that_the_including_type_hands_down(tmp_path: Path, handed: str, codes: list[str]) -> None:
    """With ``no`` every input of the section's gate is left out for good."""
    section = """\
# yaml-language-server: $schema=../schemas/section.v1.json
schema: 1
section: lamp
source: common practice
house_events:
  fitted: {default: no}
readings:
  glows: yes_no
events:
  dim: {complete: only these, any_of: [low, dirty], ONLY}
  low: {how_common: common, only_with: fitted}
  dirty: {how_common: rare, only_with: fitted}
  burnt: {how_common: rare}
tells:
  glows:
    - burnt: {no: always}
    - dim: {no: usually}
    - otherwise: {yes: nearly_always}
checks:
  look: {gives: [glows], minutes: 1}
remedies:
  mend: {ends: [low, dirty, burnt], minutes: 5, prove: {glows: yes}}
"""
    shelf = """\
# yaml-language-server: $schema=../schemas/equipment.v1.json
schema: 1
equipment: lit_shelf
source: common practice
house_events:
  dimmer: {default: no}
sections:
  lamp: {use: lamp, house_events: {fitted: HANDED}}
"""
    only = "only_with: fitted" if handed == "dimmer" else "title: Dim"
    (tmp_path / "lamp.yaml").write_text(section.replace("ONLY", only), encoding="utf-8")
    (tmp_path / "shelf.yaml").write_text(shelf.replace("HANDED", handed), encoding="utf-8")
    report = check_catalogue([tmp_path], alone=True)
    assert [f.code for f in report.findings if f.code[0] == "L"] == codes


def test_a_folder_to_join_with(page: Page, tmp_path: Path) -> None:
    fed, outlet = page("R201").good_texts
    mine, theirs = tmp_path / "mine", tmp_path / "theirs"
    mine.mkdir()
    theirs.mkdir()
    (mine / "shelf.yaml").write_text(fed, encoding="utf-8")
    (theirs / "outlet.yaml").write_text(outlet, encoding="utf-8")
    assert {f.code for f in check_catalogue([mine], alone=True).findings} == {"R201"}
    assert check_catalogue([mine], alone=True, catalogue=[theirs]).clean
