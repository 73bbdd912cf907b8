"""Reading a log: a table of readings over time, as text or as rows."""

from __future__ import annotations

import csv
import re
from collections.abc import Sequence
from datetime import datetime

from faultkit.calculators.arguments import Column, Log, Rows
from faultkit.problems import InputError, Problem, Where, did_you_mean
from faultkit.units import Kind, UnitError, convert_pressure, parse_quantity, physical_range, to_si, wrong_kind
from faultkit.units.kinds import described
from faultkit.units.lookup import example_unit, lookup

__all__ = ["read_log"]

_HEAD = re.compile(r"(?P<name>[A-Za-z_ ]+?)\s*(?:[(\[](?P<unit>[^)\]]+)[)\]])?")
_CLOCK = re.compile(r"(\d{1,2}):(\d{2})(?::(\d{2}))?")
_NUMBER = re.compile(r"[-+]?[0-9]*\.?[0-9]+(?:[eE][-+]?[0-9]+)?")
_DAY = 86_400.0


def read_log(
    given: str | Sequence[Sequence[object]], log: Log, *, atmosphere: float = 101_325.0, file: str = ""
) -> Rows:
    """Rows in SI of a log, in the order of its columns.

    A text has a head line with the names of the columns, units in brackets, then one
    row a line, cells apart by comma, semicolon or tab::

        time (min), temperature (degF)
        0, 70.2
        5, 64.8

    A time may also be a clock (``14:05``, past midnight it goes on), or a date with one
    (``2026-03-04 14:05``); it then counts from the first row. A cell may carry its own unit
    (``64.8 degF``). Rows given as sequences hold SI numbers or such texts. Raises InputError with
    every cell that cannot be read; ``file`` names the file in messages.
    """
    if isinstance(given, str):
        return _text(given, log, atmosphere, file)
    units = ["" for _ in log.columns]
    problems: list[Problem] = []
    rows = [
        _row(list(cells), log.columns, units, f"row {n} of {log.name}", None, atmosphere, problems)
        for n, cells in enumerate(given, 1)
    ]
    return _finished(rows, problems)


def _text(text: str, log: Log, atmosphere: float, file: str) -> Rows:
    lines = [(n, line) for n, line in enumerate(text.splitlines(), 1) if line.strip() and not line.startswith("#")]
    names = ", ".join(f"{c.name} ({c.unit or example_unit(c.kind)})" for c in log.columns)
    if not lines:
        raise InputError(f"{log.name} is empty", f"a head line '{names}', then rows")
    number, head = lines[0]
    mark = next((d for d in "\t;," if d in head), ",")
    cells = next(csv.reader([head], delimiter=mark, skipinitialspace=True))
    order, units, problems = _head(cells, log.columns, Where(file, number, 1, head) if file else None, names)
    if problems:
        raise InputError(problems)
    rows = []
    for n, line in lines[1:]:
        found = next(csv.reader([line], delimiter=mark, skipinitialspace=True))
        where = Where(file, n, 1, line) if file else None
        if len(found) != len(cells):
            what = f"line {n} of {log.name} has {len(found)} cells, the head line {len(cells)}"
            problems.append(Problem(what, "one cell for each column", where))
            continue
        picked: list[object] = [found[i] for i in order]
        rows.append(_row(picked, log.columns, units, f"line {n} of {log.name}", where, atmosphere, problems))
    return _finished(rows, problems)


def _head(
    cells: Sequence[str], columns: Sequence[Column], where: Where | None, example: str
) -> tuple[list[int], list[str], list[Problem]]:
    """For each column the place of its cells and its unit ('' where cells carry theirs)."""
    places: dict[str, tuple[int, str]] = {}
    problems: list[Problem] = []
    names = [c.name for c in columns]
    for i, cell in enumerate(cells):
        found = _HEAD.fullmatch(cell.strip())
        name = found["name"].strip().lower().replace(" ", "_") if found else cell.strip()
        if name not in names:
            problems.append(Problem(f"column '{cell.strip()}' is not known", did_you_mean(name, names), where))
        elif name in places:
            problems.append(Problem(f"column '{name}' stands twice", "each column once", where))
        else:
            places[name] = (i, (found["unit"] or "").strip() if found else "")
    problems += [
        Problem(f"there is no column '{c.name}'", f"a head line such as '{example}'", where)
        for c in columns if c.name not in places and not problems
    ]
    for c in columns:
        if places.get(c.name, (0, ""))[1]:
            problems += _unit_problems(c, places[c.name][1], where)
    return [places[c.name][0] for c in columns if c.name in places], [
        places[c.name][1] for c in columns if c.name in places
    ], problems


def _unit_problems(column: Column, unit: str, where: Where | None) -> list[Problem]:
    try:
        kind = lookup(unit).kind
        if kind not in _kinds(column):
            raise wrong_kind(f"column {column.name}", unit, column.kind)
    except UnitError as fault:
        return [Problem(fault.what, fault.expected, where)]
    return []


def _kinds(column: Column) -> tuple[Kind, ...]:
    if column.kind is Kind.ABSOLUTE_PRESSURE:
        return (Kind.ABSOLUTE_PRESSURE, Kind.GAUGE_PRESSURE)
    return (column.kind,)


def _row(
    cells: Sequence[object], columns: Sequence[Column], units: Sequence[str], me: str, where: Where | None,
    atmosphere: float, problems: list[Problem],
) -> tuple[float | datetime, ...]:
    if len(cells) != len(columns):
        names = ", ".join(c.name for c in columns)
        problems.append(Problem(f"{me} has {len(cells)} values", f"{len(columns)}: {names}", where))
        return ()
    row: list[float | datetime] = []
    for cell, column, unit in zip(cells, columns, units, strict=True):
        try:
            row.append(_cell(cell, column, unit, atmosphere))
        except UnitError as fault:
            problems.append(Problem(f"{me}, {column.name}: {fault.what}", fault.expected, where))
    return tuple(row)


def _cell(cell: object, column: Column, unit: str, atmosphere: float) -> float | datetime:
    if isinstance(cell, float | int) and not isinstance(cell, bool):
        return float(cell)
    text = str(cell).strip()
    if column.kind is Kind.TIME and ":" in text:
        return _moment(text)
    if column.kind is Kind.COUNT and text.lower() in {"on", "off", "yes", "no"}:
        return float(text.lower() in {"on", "yes"})
    if _NUMBER.fullmatch(text):
        if not unit and column.kind is not Kind.COUNT:
            name = column.unit or example_unit(column.kind)
            raise UnitError(f"'{text}' has no unit", f"'{text} {name}', or '{column.name} ({name})' in the head line")
        kind = lookup(unit).kind if unit else column.kind
        value = to_si(float(text), unit) if unit else float(text)
        if value < physical_range(kind)[0]:
            raise UnitError(f"'{text} {unit}' cannot be {described(kind)}", "a value nature allows")
    else:
        quantity = parse_quantity(text)
        kind, value = quantity.kind, quantity.value
        if kind not in _kinds(column):
            raise wrong_kind(text, text.lstrip("+-0123456789. "), column.kind)
    return value if kind is column.kind else convert_pressure(value, kind, column.kind, atmosphere)


def _moment(text: str) -> datetime:
    clock = _CLOCK.fullmatch(text)
    if clock is None:
        try:
            return datetime.fromisoformat(text).replace(tzinfo=None)
        except ValueError:
            raise UnitError(f"'{text}' is no time", "'14:05', '2026-03-04 14:05' or '35 min'") from None
    hour, minute, second = (int(part or 0) for part in clock.groups())
    if hour > 23 or minute > 59 or second > 59:
        raise UnitError(f"'{text}' is no time of day", "hours to 23, minutes to 59")
    # Year 1 marks a clock without a date.
    return datetime(1, 1, 1, hour, minute, second)  # noqa: DTZ001


def _finished(rows: Sequence[tuple[float | datetime, ...]], problems: list[Problem]) -> Rows:
    """Clocks counted from the first row; InputError with all problems."""
    if problems:
        raise InputError(problems)
    first: datetime | None = None
    added, before = 0.0, 0.0
    done: list[tuple[float, ...]] = []
    for row in rows:
        cells: list[float] = []
        for value in row:
            if not isinstance(value, datetime):
                cells.append(value)
                continue
            first = first or value
            seconds = (value - first).total_seconds() + added
            if value.year == 1 and seconds < before:
                added += _DAY  # past midnight
                seconds += _DAY
            before = seconds
            cells.append(seconds)
        done.append(tuple(cells))
    return tuple(done)
