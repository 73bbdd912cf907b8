"""Loading plugins: the good ones are used, each kind of broken one is named and left out."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest

from faultkit.calculators import Argument, Calculator, Direction
from faultkit.calculators.builtin import SUBJECTS
from faultkit.plugins import hookimpl, load_plugins
from faultkit.problems import InputError
from faultkit.reading.resources import builtin_catalogue
from faultkit.units import Kind


def thrice(current: float) -> float:
    """Three times the current."""
    return 3.0 * current


def calculator(name: str = "thrice") -> Calculator:
    return Calculator(
        name, thrice, (Argument("current", (Kind.CURRENT,), Direction.RISING),), Kind.CURRENT, source="none",
    )


def rate(volume: float) -> float:
    """Another calculator's function."""
    return volume


def rival() -> Calculator:
    """A calculator that takes the name ``thrice`` for something else."""
    argument = Argument("volume", (Kind.VOLUME,), Direction.RISING)
    return Calculator("thrice", rate, (argument,), Kind.VOLUME, source="none")


def plugin(**hooks: Callable[..., Any]) -> SimpleNamespace:
    """A plugin object whose hooks are the functions given, marked."""
    return SimpleNamespace(__name__="mine", **{name: hookimpl(function) for name, function in hooks.items()})


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    made = tmp_path / "trees"
    (made / "deep").mkdir(parents=True)
    (made / "deep" / "a.yaml").write_text("schema: 1\n", encoding="utf-8")
    return made


def test_built_in_plugin_comes_through_the_same_hooks() -> None:
    plugins = load_plugins(installed=False)
    assert plugins.names == ("builtin",)
    assert plugins.folders == (builtin_catalogue(),)
    assert plugins.calculators.items_given() == SUBJECTS
    assert plugins.broken == ()


def test_a_good_plugin_adds_folders_and_calculators(folder: Path) -> None:
    mine = plugin(
        faultkit_catalogue_folders=lambda: [folder, folder],
        faultkit_calculators=lambda: iter([calculator()]),
    )
    plugins = load_plugins(extra=[mine], installed=False, strict=True)
    assert plugins.names == ("builtin", "mine")
    assert plugins.folders == (builtin_catalogue(), folder)
    assert plugins.calculators["thrice"].evaluate({"current": (1.0, 2.0)}) == (3.0, 6.0)


def test_one_hook_may_have_several_functions() -> None:
    @hookimpl(specname="faultkit_calculators")
    def more() -> list[Calculator]:
        return [calculator("more")]

    mine = plugin(faultkit_calculators=lambda: [calculator()])
    mine.more = more
    plugins = load_plugins(extra=[mine], installed=False, strict=True)
    assert {"thrice", "more"} <= set(plugins.calculators)


def raising() -> list[Path]:
    raise RuntimeError("no\ndisk")


def halfway() -> Iterator[Calculator]:
    yield calculator()
    raise KeyError("second")


def leaving() -> list[Path]:
    sys.exit(3)


def with_argument(catalogue: str) -> list[Path]:
    return [Path(catalogue)]


def badly_declared() -> list[Calculator]:
    return [Calculator("odd", thrice, (Argument("current", (), None),), Kind.CURRENT, source="none")]


F, C = "faultkit_catalogue_folders", "faultkit_calculators"
A_PATH, A_CALCULATOR = "a list of pathlib.Path", "a list of faultkit.Calculator"
BROKEN = {
    "wrong argument": (F, with_argument, "a hook does not fit: .*'catalogue'", "without arguments"),
    "unknown hook": ("faultkit_calculater", raising, "'faultkit_calculater' is no hook", f"mean '{C}'"),
    "raises": (F, raising, f"{F} raised RuntimeError: no disk$", ""),
    "raises halfway": (C, halfway, f"{C} raised KeyError: 'second'", ""),
    "leaves": (F, leaving, f"{F} raised SystemExit: 3", ""),
    "bad declaration": (C, badly_declared, "raised InputError: .*takes no kind", ""),
    "nothing": (C, lambda: None, f"{C} returned None", A_CALCULATOR),
    "no list": (F, lambda: Path("/"), "returned a PosixPath$", A_PATH),
    "text": (F, lambda: "/trees", "returned a str of str", A_PATH),
    "list of text": (F, lambda: ["/trees"], "returned a list of str", A_PATH),
    "functions": (C, lambda: [thrice], "returned a list of function", A_CALCULATOR),
    "relative folder": (F, lambda: [Path("trees")], "folder 'trees' is not absolute", "__file__"),
    "missing folder": (F, lambda: [Path("/no/such")], "'/no/such' does not exist", "installed with"),
    "name taken": (C, lambda: [calculator("sum")], "named 'sum': .*basic:BASIC and .*thrice", "one name for each"),
    "own name twice": (C, lambda: [calculator(), rival()], "named 'thrice': .*thrice and .*rate", "one name"),
}


@pytest.mark.parametrize(("hook", "function", "reason", "expected"), BROKEN.values(), ids=BROKEN)
def test_a_broken_plugin_is_named_and_the_rest_goes_on(
    hook: str, function: Callable[..., Any], reason: str, expected: str, folder: Path,
) -> None:
    bad = plugin(**{hook: function})
    bad.__name__ = "bad"
    good = plugin(faultkit_catalogue_folders=lambda: [folder])
    plugins = load_plugins(extra=[bad, good], installed=False)
    assert plugins.names == ("builtin", "mine")
    assert folder in plugins.folders
    assert set(plugins.calculators) == {name for s in SUBJECTS for name in s.calculators}
    (broken,) = plugins.broken
    assert broken.name == "bad"
    assert re.search(reason, broken.reason)
    assert expected in broken.expected
    assert "\n" not in broken.reason
    assert str(broken).startswith("plugin 'bad' is broken: ")
    with pytest.raises(InputError, match=r"^plugin 'bad' is broken: ") as caught:
        load_plugins(extra=[bad, good], installed=False, strict=True)
    assert caught.value.problems == (broken.problem(),)


def test_an_object_without_hooks_is_broken() -> None:
    (broken,) = load_plugins(extra=[plugin()], installed=False).broken
    assert (broken.name, broken.reason) == ("mine", "it has no hook")
    assert broken.expected == f"one of {F}, {C}, marked with @hookimpl"


def test_a_folder_without_yaml_is_broken(tmp_path: Path) -> None:
    plugins = load_plugins(extra=[plugin(faultkit_catalogue_folders=lambda: [tmp_path])], installed=False)
    assert [b.reason for b in plugins.broken] == [f"the folder '{tmp_path}' holds no .yaml file"]


def test_nothing_is_taken_from_a_plugin_that_is_half_broken(folder: Path) -> None:
    half = plugin(
        faultkit_catalogue_folders=lambda: [folder], faultkit_calculators=lambda: [calculator("sum")],
    )
    plugins = load_plugins(extra=[half], installed=False)
    assert plugins.names == ("builtin",)
    assert folder not in plugins.folders


def test_a_hook_without_its_mark_is_named() -> None:
    mine = plugin()
    mine.faultkit_calculators = lambda: [calculator()]
    (broken,) = load_plugins(extra=[mine], installed=False).broken
    assert broken.reason == "its faultkit_calculators is not marked as a hook"
    assert "@hookimpl" in broken.expected


def test_an_object_that_cannot_be_looked_at_is_named() -> None:
    class Mine:
        def __dir__(self) -> list[str]:
            raise OSError("gone")

    (broken,) = load_plugins(extra=[Mine()], installed=False).broken
    assert (broken.name, broken.reason) == ("Mine", "registering it raised OSError: gone")


def test_the_same_name_twice_keeps_the_first() -> None:
    first = plugin(faultkit_calculators=lambda: [calculator("first")])
    second = plugin(faultkit_calculators=lambda: [calculator("second")])
    plugins = load_plugins(extra=[first, second], installed=False)
    assert "first" in plugins.calculators
    assert "second" not in plugins.calculators
    assert [(b.name, b.reason) for b in plugins.broken] == [("mine", "another plugin has the same name")]


def test_strict_lists_every_broken_plugin() -> None:
    one, two = plugin(faultkit_calculators=lambda: None), plugin()
    one.__name__, two.__name__ = "one", "two"
    with pytest.raises(InputError) as caught:
        load_plugins(extra=[one, two], installed=False, strict=True)
    told = [p.what.partition(" is broken")[0] for p in caught.value.problems]
    assert told == ["plugin 'one'", "plugin 'two'"]


def test_an_interrupt_is_not_swallowed() -> None:
    def interrupted() -> list[Path]:
        raise KeyboardInterrupt

    with pytest.raises(KeyboardInterrupt):
        load_plugins(extra=[plugin(faultkit_catalogue_folders=interrupted)], installed=False)


def install(site: Path, name: str, points: str, code: str = "") -> None:
    """What an installer leaves behind: a module and the metadata with its entry points."""
    info = site / f"{name}-1.0.dist-info"
    info.mkdir()
    (info / "METADATA").write_text(f"Metadata-Version: 2.1\nName: {name}\nVersion: 1.0\n", encoding="utf-8")
    (info / "entry_points.txt").write_text(f"[faultkit]\n{points}\n", encoding="utf-8")
    (site / f"{name}.py").write_text(code, encoding="utf-8")


GOOD = """
from faultkit.calculators import Argument, Calculator, Direction
from faultkit.plugins import hookimpl
from faultkit.units import Kind

def same(current: float) -> float:
    return current

@hookimpl
def faultkit_calculators():
    current = Argument("current", (Kind.CURRENT,), Direction.RISING)
    return [Calculator(__name__, same, (current,), Kind.CURRENT, "none")]
"""


@pytest.fixture
def site(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Iterator[Path]:
    monkeypatch.syspath_prepend(tmp_path)
    before = set(sys.modules)
    yield tmp_path
    for name in set(sys.modules) - before:
        if name.startswith("fkt_"):
            del sys.modules[name]


def test_installed_plugins_are_found_in_order_of_name(site: Path) -> None:
    install(site, "fkt_late", "zeta = fkt_late", GOOD)
    install(site, "fkt_early", "alpha = fkt_early", GOOD)
    plugins = load_plugins()
    ours = [n for n in plugins.names if n in {"alpha", "zeta"}]
    assert ours == ["alpha", "zeta"]
    assert plugins.names[0] == "builtin"
    assert {"fkt_late", "fkt_early"} <= set(plugins.calculators)
    assert "fkt_late" not in load_plugins(installed=False).calculators


@pytest.mark.parametrize(
    ("points", "code", "reason"),
    [
        ("bad = fkt_bad", "import fkt_not_there", "importing 'fkt_bad' raised ModuleNotFoundError"),
        ("bad = fkt_bad", "1 / 0", "importing 'fkt_bad' raised ZeroDivisionError"),
        ("bad = fkt_bad", "raise SystemExit('bye')", "importing 'fkt_bad' raised SystemExit: bye"),
        ("bad = fkt_bad", "def (", "importing 'fkt_bad' raised SyntaxError"),
        ("bad = fkt_bad:thing", "", "importing 'fkt_bad:thing' raised AttributeError"),
        ("bad = fkt_elsewhere", "", "importing 'fkt_elsewhere' raised ModuleNotFoundError"),
        ("bad = not a module", "", "importing 'not a module' raised "),
        ("bad = fkt_bad", "", "it has no hook"),
        ("builtin = fkt_bad", GOOD, "another plugin has the same name"),
    ],
)
def test_an_installed_plugin_that_cannot_be_loaded_is_named(
    site: Path, points: str, code: str, reason: str,
) -> None:
    install(site, "fkt_bad", points, code)
    install(site, "fkt_good", "good = fkt_good", GOOD)
    plugins = load_plugins()
    assert {"builtin", "good"} <= set(plugins.names)
    (broken,) = (b for b in plugins.broken if b.name in {"bad", "builtin"})
    assert broken.reason.startswith(reason)


def test_importing_the_package_does_not_import_pluggy() -> None:
    code = (
        "import sys, faultkit.plugins as p; before = 'pluggy' in sys.modules; "
        "p.hookimpl; print(before, 'pluggy' in sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert (done.stdout.strip(), done.stderr) == ("False True", "")


def test_unknown_attribute_of_the_package() -> None:
    import faultkit.plugins as package

    with pytest.raises(AttributeError, match="hookimple"):
        _ = package.hookimple
