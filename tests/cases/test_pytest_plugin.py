"""The plugin in a pytest of its own."""

from __future__ import annotations

import re
import subprocess
import sys
from importlib.metadata import entry_points

import pytest

from tests.cases.conftest import BURNT, HEAD, TREE

pytest_plugins = ("pytester",)

#: An installed faultkit brings the plugin itself.
PLUGIN = [] if any(p.name == "faultkit" for p in entry_points(group="pytest11")) else ["-p", "faultkit.pytest_plugin"]

CASES = (
    HEAD
    + BURNT
    + "{confirmed: [b.motor_failed]}\n"
    + BURNT.replace("burnt:", "bad:")
    + "{ruled_out: [b.motor_failed]}\n"
    + BURNT.replace("burnt:", "known:")
    + "{open: [b.stopped]}\n    known_to_fail: because\n"
)


@pytest.fixture
def project(pytester: pytest.Pytester) -> pytest.Pytester:
    """A folder with a tree and its cases."""
    (pytester.path / "box.yaml").write_text(TREE, encoding="utf-8")
    (pytester.path / "box.cases.yaml").write_text(CASES, encoding="utf-8")
    pytester.makeini("[pytest]\n")
    return pytester


def test_each_case_is_an_item_with_its_place(project: pytest.Pytester) -> None:
    result = project.runpytest_inprocess(*PLUGIN, "-v")
    result.assert_outcomes(passed=1, failed=1, xfailed=1)
    result.stdout.fnmatch_lines(
        ["*box.cases.yaml::burnt PASSED*", "*box.cases.yaml::bad FAILED*", "*box.cases.yaml::known XFAIL*"]
    )
    items, _ = project.inline_genitems(*PLUGIN)
    assert [(i.name, i.location[0], i.location[1]) for i in items] == [
        ("burnt", "box.cases.yaml", 6), ("bad", "box.cases.yaml", 13), ("known", "box.cases.yaml", 20),
    ]


def test_a_failure_is_the_readable_one(project: pytest.Pytester) -> None:
    result = project.runpytest_inprocess(*PLUGIN)
    result.stdout.fnmatch_lines(
        [
            "*case box.bad*",
            "FAILED  box.bad  (box.cases.yaml:14:3)",
            "*expected    Box: Motor burnt [[]b.motor_failed[]] is proved absent",
            "*came        proved",
            "*decided by  Box: Volts = 115 V [[]volts[]]",
            "*at box.cases.yaml:20:26",
        ]
    )
    result.stdout.no_fnmatch_line("*pytest_plugin.py*")


def test_one_case_alone(project: pytest.Pytester) -> None:
    project.runpytest_inprocess(*PLUGIN, "box.cases.yaml::burnt").assert_outcomes(passed=1)
    project.runpytest_inprocess(*PLUGIN, "-k", "burnt").assert_outcomes(passed=1, deselected=2)


def test_a_case_that_no_longer_fails_is_a_failure(project: pytest.Pytester) -> None:
    text = HEAD + BURNT + "{confirmed: [b.stopped]}\n    known_to_fail: once\n"
    (project.path / "box.cases.yaml").write_text(text)
    result = project.runpytest_inprocess(*PLUGIN)
    result.assert_outcomes(failed=1)
    result.stdout.fnmatch_lines(["*XPASS(strict)*once*"])


def test_mistakes_are_one_error_with_all_of_them(project: pytest.Pytester) -> None:
    text = HEAD + BURNT + "{confirmed: [b.moter_failed], open: [b.x]}\n"
    (project.path / "box.cases.yaml").write_text(text)
    result = project.runpytest_inprocess(*PLUGIN)
    result.assert_outcomes(errors=1)
    result.stdout.fnmatch_lines(["box.cases.yaml:13:26: 'b.moter_failed' is not an event*", "*:13:50: 'b.x' is not*"])
    result.stdout.no_fnmatch_line("*Traceback*")


def test_it_can_be_left_out(project: pytest.Pytester) -> None:
    project.runpytest_inprocess(*PLUGIN, "-o", "faultkit_cases=false").assert_outcomes()
    if not PLUGIN:
        project.runpytest_inprocess("-p", "no:faultkit").assert_outcomes()


def test_a_folder_of_trees_can_be_named(project: pytest.Pytester) -> None:
    (project.path / "trees").mkdir()
    (project.path / "box.yaml").rename(project.path / "trees" / "box.yaml")
    result = project.runpytest_inprocess(*PLUGIN)
    result.assert_outcomes(errors=1)
    result.stdout.fnmatch_lines(["*equipment type 'box' of unit 'b' is not known*"])
    result = project.runpytest_inprocess(*PLUGIN, "-o", "faultkit_catalogue=trees")
    result.assert_outcomes(passed=1, failed=1, xfailed=1)


def test_two_files_share_one_catalogue(project: pytest.Pytester) -> None:
    (project.path / "more.cases.yaml").write_text(CASES.replace("cases: box", "cases: more"))
    project.makeconftest(
        """
        import faultkit.loading
        plain = faultkit.loading.load_catalogue
        def counted(*args, **more):
            print("catalogue read")
            return plain(*args, **more)
        faultkit.loading.load_catalogue = counted
        """
    )
    result = project.runpytest_subprocess(*PLUGIN, "-s")
    result.assert_outcomes(passed=2, failed=2, xfailed=2)
    assert len(re.findall("catalogue read", result.stdout.str())) == 1


def test_it_costs_nothing_where_there_are_no_cases(project: pytest.Pytester) -> None:
    (project.path / "box.cases.yaml").unlink()
    project.makepyfile(test_one="def test_one(): pass")
    code = (
        "import sys, pytest\n"
        f"assert pytest.main([*{PLUGIN!r}, '-q']) == 0\n"
        "print('loaded', *sorted(m for m in sys.modules if m.startswith('faultkit.') or m in {'yaml', 'jsonschema'}))\n"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True, cwd=project.path)
    assert done.stdout.splitlines()[-1] == "loaded faultkit.pytest_plugin"
