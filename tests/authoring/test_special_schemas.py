"""Schemas narrowed to a catalogue accept what is right and refuse misspelt names that the plain ones let through."""

from __future__ import annotations

import copy
import importlib.util
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from jsonschema import Draft202012Validator

from faultkit.cli import main
from faultkit.reading.parse import parse_file
from faultkit.reading.resources import builtin_catalogue, data_folder
from faultkit.reading.schemas import KINDS, schema
from faultkit.reading.validate import kind_of_file

ROOT = Path(__file__).resolve().parents[2]
FILES = [
    *sorted(builtin_catalogue().rglob("*.yaml")), *sorted(data_folder("examples").glob("*.yaml")),
]
ICE_BIN = ROOT / "examples" / "plugin" / "faultkit_example_ice_bin"


@pytest.fixture(scope="module")
def written(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    out = tmp_path_factory.mktemp("schemas")
    examples = str(data_folder("examples"))
    assert main(["schema", "--out", str(out), "--catalogue", examples]) == 0
    return {p.name.split(".")[0]: json.loads(p.read_text(encoding="utf-8")) for p in sorted(out.iterdir())}


def content(path: Path) -> tuple[str, Any]:
    problems: list[Any] = []
    node = parse_file(path, problems)
    assert node is not None, problems
    kind = kind_of_file(node, problems)
    assert kind is not None, problems
    return kind, node.plain()


def complaints(made: dict[str, Any], data: Any) -> list[str]:
    return [e.message[:200] for e in Draft202012Validator(made).iter_errors(data)]


@pytest.mark.slow
def test_one_for_each_kind_valid_and_with_an_id_of_its_own(written: dict[str, dict[str, Any]]) -> None:
    assert set(written) == set(KINDS)
    for kind, made in written.items():
        Draft202012Validator.check_schema(made)
        assert made["$id"] != schema(kind)["$id"]
    assert len({made["$id"] for made in written.values()}) == len(KINDS)


@pytest.mark.parametrize("path", FILES, ids=lambda p: p.name)
def test_every_file_that_comes_with_faultkit_is_accepted(written: dict[str, dict[str, Any]], path: Path) -> None:
    kind, data = content(path)
    assert complaints(written[kind], data) == []


def test_files_of_a_plugin_are_accepted_with_its_names(tmp_path: Path) -> None:
    from faultkit.authoring.files import find_words
    from faultkit.authoring.schemas import special_schemas
    from faultkit.loading import load_catalogue

    spec = importlib.util.spec_from_file_location("faultkit_example_ice_bin", ICE_BIN / "__init__.py")
    assert spec is not None
    assert spec.loader is not None
    plugin = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(plugin)
    catalogue = load_catalogue(plugins=[plugin])
    kind, data = content(ICE_BIN / "catalogue" / "ice_bin.yaml")
    assert complaints(special_schemas(find_words(catalogue, [tmp_path]))[kind], data) == []


TREE = builtin_catalogue() / "sections" / "forced_air_coil.yaml"
RAIL = builtin_catalogue() / "prep_rail_forced_air" / "prep_rail_forced_air.yaml"
CASES = builtin_catalogue() / "prep_rail_forced_air" / "prep_rail_forced_air.cases.yaml"
SITE = data_folder("examples") / "site.yaml"
CALL = data_folder("examples") / "three_faults.call.yaml"


def first(data: Any, key: str) -> Any:
    """The first mapping that has ``key``, depth first."""
    below = data.values() if isinstance(data, dict) else data if isinstance(data, list) else ()
    if isinstance(data, dict) and key in data:
        return data
    return next((f for d in below if (f := first(d, key)) is not None), None)


def argument(data: Any) -> None:
    inside = first(data, "calculate")["calculate"]
    name = next(k for k in inside if k != "use")
    inside[name + "x"] = inside.pop(name)


def setting(data: Any) -> None:
    inside = first(data, "settings")["settings"]
    inside["suply_voltage"] = inside.pop("supply_voltage")


MISSPELT: dict[str, tuple[Path, Callable[[Any], object]]] = {
    "calculator": (TREE, lambda d: first(d, "calculate")["calculate"].update(use="diference")),
    "argument": (TREE, argument),
    "unit": (TREE, lambda d: first(d["readings"], "unit").update(unit="degX")),
    "section": (RAIL, lambda d: first(d["sections"], "use").update(use="forced_air_coal")),
    "hazard": (RAIL, lambda d: first(d["checks"], "gives").update(hazards=["rotating_part"])),
    "tool": (RAIL, lambda d: first(d["checks"], "gives").update(tools=["multimetre"])),
    "set-up": (RAIL, lambda d: first(d["checks"], "gives").update(setups=["panel_opened"])),
    "type": (SITE, lambda d: d["units"]["rail"].update(equipment="prep_rail")),
    "setting": (SITE, setting),
    "join": (SITE, lambda d: d["units"]["rail"]["joins"].update(feed_by="kitchen_circuit")),
    "reading": (CALL, lambda d: first(d, "reading").update(reading="rail.warmest_pam")),
    "state": (CALL, lambda d: first(d, "reading").update(state="coled")),
    "complaint": (CALL, lambda d: first(d["entries"], "event").update(event="rail.pans_warmer")),
    "expected event": (CASES, lambda d: first(d, "confirmed").update(confirmed=["rail.motor_failled"])),
    "next check": (CASES, lambda d: first(d, "expect")["expect"].update(next=["rail.probe_pan"])),
    "remedy done": (CALL, lambda d: d["entries"].append({"kind": "remedy", "unit": "rail", "remedy": "replace_chord"})),
}


@pytest.mark.parametrize("what", MISSPELT)
def test_a_misspelt_name_is_refused_where_the_plain_schema_lets_it_through(
    written: dict[str, dict[str, Any]], what: str
) -> None:
    path, spoil = MISSPELT[what]
    kind, data = content(path)
    spoiled = copy.deepcopy(data)
    spoil(spoiled)
    assert spoiled != data
    assert complaints(schema(kind), spoiled) == []
    assert complaints(written[kind], spoiled) != []


def test_hover_texts_come_from_titles(written: dict[str, dict[str, Any]]) -> None:
    from faultkit.loading import load_catalogue

    catalogue = load_catalogue()
    kinds = written["site"]["$defs"]["unit"]["properties"]["equipment"]["anyOf"]
    assert {n: t.title for n, t in catalogue.types.items()}.items() <= {
        k["const"]: k["description"] for k in kinds
    }.items()
    uses = written["section"]["$defs"]["calculate"]["properties"]["use"]["anyOf"]
    assert {u["const"]: u["description"] for u in uses}["superheat"] == catalogue.calculators["superheat"].title
    words = written["equipment"]["$defs"]["chance"]["else"]["else"]["anyOf"]
    assert {"const": "usually", "description": "usually: 0.85"} in words


def test_units_of_a_known_site_are_completed(written: dict[str, dict[str, Any]]) -> None:
    known = {c["const"] for c in written["call"]["$defs"]["fact"]["properties"]["reading"]["anyOf"][1]["anyOf"]}
    assert "rail.warmest_pan" in known
    assert "roof_unit.warmest_pan" not in known


def test_schemas_are_renewed_but_nothing_else_is_overwritten(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["schema", "--out", str(tmp_path)]) == 0
    assert main(["schema", "--out", str(tmp_path)]) == 0
    mine = tmp_path / "site.v1.json"
    mine.write_text("{}", encoding="utf-8")
    before = {p: p.read_bytes() for p in tmp_path.iterdir()}
    capsys.readouterr()
    assert main(["schema", "--out", str(tmp_path)]) == 2
    assert "site.v1.json" in capsys.readouterr().err
    assert {p: p.read_bytes() for p in tmp_path.iterdir()} == before
