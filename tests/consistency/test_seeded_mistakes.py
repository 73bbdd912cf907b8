"""Mistakes seeded in the built-in catalogue, one of a kind: each is found at its place, with witness and cure."""

from __future__ import annotations

import shutil
from dataclasses import dataclass
from pathlib import Path

import pytest

from faultkit.consistency import Finding, Report, check_catalogue
from faultkit.reading.resources import builtin_catalogue
from tests.consistency.pages import pointed

BRANCH = "branch_circuit/branch_circuit.yaml"
UNIT = "condensing_unit_receiver/condensing_unit_receiver.yaml"
RAIL = "prep_rail_forced_air/prep_rail_forced_air.yaml"
BASE = "undercounter_base/undercounter_base.yaml"


@dataclass(frozen=True)
class Seed:
    """One edit of a file; ``at`` is what the finding must point at."""

    code: str
    file: str
    old: str
    new: str
    at: str
    witness: tuple[tuple[str, str], ...]
    cure: str


SEEDS = (
    Seed("R201", RAIL, "readings: [outlet_voltage]", "readings: [outlet_volts]", "fed_by",
         (("nearest type", "branch_circuit"),), "what one type of the catalogue has"),
    Seed("R207", RAIL, "ends: [baffle_missing]", "ends: [overfilled]", "baffle_missing", (), "ends of a remedy"),
    Seed("R210", BRANCH, "power: live\n    tools: [multimeter]\n    hazards: [live_voltage]\n    steps: [Switch on",
         "power: live\n    tools: [multimeter]\n    steps: [Switch on", "measure_outlet",
         (("power", "live"), ("hazards", "none")), "hazards: ["),
    Seed("B301", UNIT, "low, 65 % of compressor_amps", "low, 4 % of compressor_amps", "4 % of compressor_amps",
         (("compressor_amps", "1 A"),), "cuts that rise"),
    Seed("B302", BASE, "- {at: 41 degF, source", "- {at: 410 degF, source", "410 degF",
         (("lowest", "-20 degF"), ("highest", "140 degF")), "another cut"),
    Seed("L401", UNIT, "reset_button: {one_of: [pushed_in, popped_out]",
         "reset_button: {one_of: [pushed_in, popped_out, gone]", "reset_button",
         (("high_pressure_tripped", "never"), ("otherwise", "never")), "no such band"),
    Seed("L403", UNIT, "[no_line, high_pressure_open, low", "[no_line, high_pressure_tripped, high_pressure_open, low",
         "high_pressure_tripped", (("high_pressure_tripped", "true"), ("high_pressure_open", "true with it")),
         "without it"),
    Seed("L404", BRANCH, "    - dead: {none: always}\n",
         "    - dead: {none: always}\n    - panel_dead: {none: always}\n", "panel_dead",
         (("panel_dead", "true"), ("row that decides", "dead")), "narrower event above"),
    Seed("L406", UNIT, "    only_with: head_pressure_valve\n    any_of: [head_valve_not", "    any_of: [head_valve_not",
         "head_low", (("head_pressure_valve", "off"),), "only_with: [head_pressure_valve]"),
    Seed("L407", RAIL, "any_of: [{coil.drain.plugged: usually}", "all_of: [{coil.drain.plugged: usually}", "rail_wet",
         (("coil.drain.plugged", "true"), ("lids_left_open", "true")), "a cause of its own"),
    Seed("L408", RAIL, 'prove: {main_switch: "on"}', 'prove: {main_switch: "off"}', "switch_rail_on",
         (("main_switch", "off"),), "when the repair has worked"),
    Seed("E603", UNIT, "    - leak_at_unit: {yes: half_the_time}", "    - leak_at_unit: {yes: rarely}", "leak_at_unit",
         (("yes", "0.03 against 0.03"), ("no", "0.97 against 0.97")), "chances that the event really makes"),
    Seed("T501", BASE, '- main_switch_off: {"off": always}', '- main_switch_off: {"off": rarely}', "cord_open",
         (("box_air", "warm"),), "a reading"),
    Seed("X902", UNIT, "  delay_open: {how", "  # faultkit: allow E604 because it is new\n  delay_open: {how",
         "# faultkit", (), "taken away"),
)
#: What follows from a seed besides: a pair no longer told apart makes the figures worse, and its check useless.
BESIDES = {("T504", "equipment"), ("T503", "look_at_plug")}


def place(f: Finding) -> str:
    assert f.where is not None
    text = f.where.text[f.where.column - 1 :].strip()
    return "# faultkit" if text.startswith("# faultkit") else pointed(f)


@pytest.fixture(scope="module")
def report(tmp_path_factory: pytest.TempPathFactory) -> Report:
    """The catalogue with all seeds but the one that keeps files from being read."""
    folder = tmp_path_factory.mktemp("seeded") / "catalogue"
    shutil.copytree(builtin_catalogue(), folder)
    for seed in SEEDS:
        sow(folder, seed)
    return check_catalogue([folder], alone=True)


def sow(folder: Path, seed: Seed) -> None:
    file = folder / seed.file
    text = file.read_text(encoding="utf-8")
    assert text.count(seed.old) >= 1, seed
    file.write_text(text.replace(seed.old, seed.new, 1), encoding="utf-8")


@pytest.mark.parametrize("seed", SEEDS, ids=lambda s: s.code)
def test_each_is_found_with_its_place_witness_and_cure(report: Report, seed: Seed) -> None:
    found = [f for f in report.findings if f.code == seed.code and place(f) == seed.at]
    assert len(found) == 1, [f.render() for f in report.findings if f.code == seed.code]
    f = found[0]
    assert f.where is not None
    assert f.where.file.endswith(seed.file)
    assert set(seed.witness) <= set(f.witness)
    assert seed.cure in f.cure
    shown = f.render().splitlines()
    assert shown[0].startswith(f"{f.where}: {f.severity} {f.code}: ")
    assert f.where.text in shown[1]
    assert shown[2].rstrip().endswith("^")


def test_nothing_else_is_found(report: Report) -> None:
    expected = {(s.code, s.at) for s in SEEDS} | BESIDES
    assert {(f.code, place(f)) for f in report.findings} == expected


def test_a_file_that_cannot_be_used_comes_through_the_same_report(tmp_path: Path) -> None:
    folder = tmp_path / "catalogue"
    shutil.copytree(builtin_catalogue(), folder)
    sow(folder, Seed("F101", BRANCH, "bands: [small, 0.5 V, large]", "bands: [small, 0.5 psig, large]", "", (), ""))
    (found,) = check_catalogue([folder], alone=True).findings
    assert (found.code, pointed(found)) == ("F101", "0.5 psig")
    assert "gauge pressure" in found.what
    assert found.cure


def test_the_catalogue_itself_is_clean() -> None:
    """So whatever the seeds bring up, they brought."""
    report = check_catalogue()
    assert report.clean
    assert all(a.reason for _, a in report.meant)
