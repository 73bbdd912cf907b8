"""Small texts in, an expanded type or its problems out. ``«`` marks where a problem is expected."""

from __future__ import annotations

from collections.abc import Callable, Iterator

import pytest

from faultkit.model.types import Common, EquipmentType, Hazard, Setup
from faultkit.problems import InputError, Problem
from faultkit.reading.expand import check_section, expand_type
from faultkit.reading.nodes import Node
from faultkit.reading.parse import parse_text

COMMON = Common(
    hazards={"live_voltage": Hazard("live_voltage", "Keep your hands off")},
    setups={"gauges_on": Setup("gauges_on", 6.0)},
    tools={"multimeter": "Multimeter"},
)


def _node(text: str, file: str) -> Node:
    problems: list[Problem] = []
    node = parse_text(text, file, problems)
    assert node is not None, problems
    assert not problems, problems
    return node


def _document(text: str) -> tuple[str, str]:
    """A whole document and its file name; a body alone becomes an equipment."""
    lines = text.strip("\n").splitlines()
    indent = min((len(line) - len(line.lstrip()) for line in lines if line.strip()), default=0)
    whole = "\n".join(line[indent:] for line in lines) + "\n"
    if not whole.startswith("section:"):
        return f"schema: 1\nequipment: rig\n{whole}", "rig.yaml"
    return f"schema: 1\n{whole}", whole.split("\n", 1)[0].removeprefix("section:").strip() + ".yaml"


def _sections(texts: tuple[str, ...]) -> dict[str, Node]:
    documents = (_document(text.replace("«", "")) for text in texts)
    return {file.removesuffix(".yaml"): _node(text, file) for text, file in documents}


def _marks(texts: tuple[str, ...]) -> Iterator[tuple[str, int, int]]:
    for text, file in map(_document, texts):
        for number, line in enumerate(text.splitlines(), 1):
            parts = line.split("«")
            yield from ((file, number, len("".join(parts[:i])) + 1) for i in range(1, len(parts)))


@pytest.fixture
def expand() -> Callable[..., EquipmentType]:
    """A type from a text and the texts of sections; fails on any problem."""

    def run(text: str, *sections: str, common: Common = COMMON) -> EquipmentType:
        problems: list[Problem] = []
        made = expand_type(_node(*_document(text)), _sections(sections), common, problems)
        assert not problems, InputError(problems)
        assert made is not None
        return made

    return run


@pytest.fixture
def problems_of() -> Callable[..., tuple[Problem, ...]]:
    """The problems of a text, in file order."""

    def run(text: str, *sections: str, common: Common = COMMON) -> tuple[Problem, ...]:
        problems: list[Problem] = []
        made = expand_type(_node(*_document(text.replace("«", ""))), _sections(sections), common, problems)
        assert (made is None) == bool(problems)
        return InputError(problems).problems

    return run


@pytest.fixture
def wrong(problems_of: Callable[..., tuple[Problem, ...]]) -> Callable[..., None]:
    """Checks the one problem of a text: its place (``«``) and parts of ``what`` and ``expected``."""

    def run(text: str, what: str, expected: str, *sections: str, common: Common = COMMON) -> None:
        found = problems_of(text, *sections, common=common)
        shown = "\n".join(p.render() for p in found)
        assert len(found) == 1, shown
        where = found[0].where
        assert where is not None
        assert [(where.file, where.line, where.column)] == list(_marks((text, *sections))), shown
        assert what in found[0].what, shown
        assert expected in found[0].expected, shown

    return run


@pytest.fixture
def section_problems() -> Callable[..., tuple[Problem, ...]]:
    """The problems of a section on its own."""

    def run(text: str, *others: str) -> tuple[Problem, ...]:
        problems: list[Problem] = []
        known = _sections((text, *others))
        check_section(next(iter(known.values())), known, COMMON, problems)
        return InputError(problems).problems

    return run
