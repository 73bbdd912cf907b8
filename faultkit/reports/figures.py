"""A calculator's answer as text and as JSON data."""

from __future__ import annotations

import inspect
import re
import shlex
from collections.abc import Iterable
from textwrap import wrap
from typing import Any

from faultkit.calculators import Calculator, Column, Figure
from faultkit.calculators.arguments import Argument, Log, Parameter, Word
from faultkit.calculators.ask import Answer, example_of
from faultkit.calculators.refrigerants.saturation import REFRIGERANT, refrigerant
from faultkit.units import Kind, convert_pressure, format_si, from_si, kind_of, unit_name
from faultkit.units.lookup import example_unit

__all__ = ["answer_data", "render_answer", "render_calculator"]

_DIGITS = 4
_WIDTH = 96
_HOUR = 3600.0
_ROW = re.compile(r"\s*-?\d")
_LOG_FILE = "log.csv"
# A sentence on the SI numbers a function takes says nothing to somebody who writes units.
_FOR_PROGRAMMERS = re.compile(r"\bTakes\b[^.]*\.(?=\s|$)\s?")
#: Metric units shown for a kind where asked.
_METRIC = {
    Kind.TEMPERATURE: "degC", Kind.TEMPERATURE_DIFFERENCE: "delta_degC", Kind.GAUGE_PRESSURE: "kPa_gauge",
    Kind.ABSOLUTE_PRESSURE: "kPa_abs", Kind.PRESSURE_DIFFERENCE: "kPa", Kind.MASS: "kg", Kind.MASS_FLOW: "kg_per_h",
    Kind.POWER: "W", Kind.ENERGY: "kWh", Kind.LENGTH: "m", Kind.AREA: "m2", Kind.VOLUME: "L", Kind.SPEED: "m_per_s",
    Kind.VOLUME_FLOW: "m3_per_h", Kind.DENSITY: "kg_per_m3", Kind.SPECIFIC_ENERGY: "kJ_per_kg",
    Kind.SPECIFIC_HEAT: "kJ_per_kg_K", Kind.HEAT_TRANSFER: "W_per_m2_K",
}


def render_answer(answer: Answer, *, metric: bool = False, unit: str = "") -> str:
    """The answer for a reader: cautions first, then each result with its bounds, then where it comes from.

    ``unit`` shows a single number in that unit; UnitError or InputError if it is of another kind.
    """
    lines = []
    for caution in _cautions(answer):
        lines += [*wrap(f"Mind: {caution}", _WIDTH), ""]
    for figure in answer.figures:
        lines += _figure_lines(figure, answer, metric=metric, unit=unit)
    lines.append("")
    width = max(len(a.name) for a in answer.calculator.arguments)
    for name, value in answer.values.items():
        given = answer.given.get(name)
        if given is None:
            given = _value_text(answer.calculator.argument(name), value) + " (air pressure taken for the place)"
        elif given == "rows":
            given = f"{len(value)} rows"
        lines.append(f"  {name:<{width}}  {given}")
    lines += [
        f"  {a.name:<{width}}  {_default_text(a)} (taken where none is given)"
        for a in answer.calculator.arguments if a.name not in answer.values and _default_text(a)
    ]
    lines.append(f"  source: {answer.calculator.source}")
    return "\n".join(_wrapped(lines)) + "\n"


def _cautions(answer: Answer) -> list[str]:
    """The calculator's own, and that of a flammable refrigerant."""
    flammable = [
        f"{fluid.name} is {fluid.caution}"
        for a in answer.calculator.arguments
        if a == REFRIGERANT and a.name in answer.values and (fluid := refrigerant(str(answer.values[a.name]))).caution
    ]
    return [*flammable, *([answer.calculator.caution] if answer.calculator.caution else [])]


def _wrapped(lines: Iterable[str]) -> Iterable[str]:
    """Lines that are too long, broken and set in; tables stay."""
    for line in lines:
        if len(line) <= _WIDTH or _ROW.match(line):
            yield line
        else:
            indent = line[:len(line) - len(line.lstrip())]
            yield from wrap(line.strip(), _WIDTH, initial_indent=indent, subsequent_indent=indent + "  ")


def _figure_lines(figure: Figure, answer: Answer, *, metric: bool, unit: str) -> list[str]:
    name = figure.result.name.replace("_", " ")
    if isinstance(answer.calculator.result, tuple):
        name = figure.result.title or name
    if figure.result.columns:
        return [f"{name}:", *_table(figure.result.columns, figure.value, metric=metric)]
    if figure.kind is None or not isinstance(figure.value, float | int):
        text = _words(figure.value)
        if figure.others:
            others = " or ".join(_words(o) for o in figure.others)
            text += f" (too close to call: within the accuracy given it may also be {others})"
        return [f"{name}: {text}"]
    shown = unit_for(figure, metric=metric, unit=unit)
    line = f"{name}: {_quantity(figure.value, figure.kind, shown, answer.atmosphere)}"
    if figure.low is not None and figure.high is not None and figure.high - figure.low > 1e-9 * abs(figure.value):
        low, high = (_quantity(v, figure.kind, shown, answer.atmosphere) for v in (figure.low, figure.high))
        line += f", between {low} and {high} as the inputs may be off (by {answer.calculator.method})"
    return [line]


def unit_for(figure: Figure, *, metric: bool = False, unit: str = "") -> str:
    """The unit a number is shown in."""
    assert figure.kind is not None
    if unit:
        return unit_name(unit)
    if metric and figure.kind in _METRIC and figure.result.unit != "micron":
        return _METRIC[figure.kind]
    return figure.result.unit or example_unit(figure.kind)


def _quantity(value: float, kind: Kind, unit: str, atmosphere: float) -> str:
    wanted = kind_of(unit)
    value = value if wanted is kind else convert_pressure(value, kind, wanted, atmosphere)
    if wanted is Kind.COUNT:
        return f"{value:.{_DIGITS}g}"
    if unit == "h" and 0.0 < abs(value) < _HOUR:
        unit = "min"
    return format_si(value, unit, _DIGITS)


def _words(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if value is None:
        return "none"
    if isinstance(value, tuple | list):
        return "; ".join(_words(v) for v in value) if value else "none"
    return str(value)


def _table(columns: Iterable[Column], rows: Iterable[tuple[float, ...]], *, metric: bool) -> list[str]:
    heads = [(c, _METRIC.get(c.kind, c.unit) if metric else c.unit or example_unit(c.kind)) for c in columns]
    cells = [[f"{c.title or c.name} ({unit})" for c, unit in heads]]
    cells += [[format_si(v, unit, _DIGITS).split()[0] for v, (_, unit) in zip(r, heads, strict=True)] for r in rows]
    widths = [max(len(row[i]) for row in cells) for i in range(len(heads))]
    return ["  " + "  ".join(c.rjust(w) for c, w in zip(row, widths, strict=True)) for row in cells]


def render_calculator(calculator: Calculator) -> str:
    """What a calculator is, what it takes and how to ask it."""
    doc = inspect.getdoc(calculator.function) or ""
    paragraphs = [" ".join(p.split()).replace("``", "") for p in doc.partition(">>>")[0].split("\n\n")]
    told = [kept for p in paragraphs if (kept := _FOR_PROGRAMMERS.sub("", p).strip())]
    lines = [calculator.name, ""]
    for paragraph in told:
        lines += [*wrap(paragraph, _WIDTH, initial_indent="  ", subsequent_indent="  "), ""]
    if calculator.caution:
        lines += [*wrap(f"Mind: {calculator.caution}", _WIDTH, initial_indent="  ", subsequent_indent="  "), ""]
    width = max(len(a.name) for a in calculator.arguments)
    lines += [f"  {a.name:<{width}}  {_about(a)}" for a in calculator.arguments]
    lines += ["", f"source: {calculator.source}", f"bounds of the inputs are carried through by {calculator.method}"]
    if calculator.example:
        given = " ".join(f"{name}={_quoted(value)}" for name, value in calculator.example.items())
        lines += ["", f"faultkit calculate {calculator.name} {given}"]
        lines += [f"with this in {_LOG_FILE}:\n{text.strip()}" for text in calculator.example.values() if "\n" in text]
    return "\n".join(lines) + "\n"


def _quoted(text: str) -> str:
    return shlex.quote(text) if "\n" not in text else _LOG_FILE


def _about(a: Parameter) -> str:
    parts = [a.title or a.name.replace("_", " "), example_of(a)]
    if isinstance(a, Argument):
        low, high = a.valid
        if low != float("-inf") and high != float("inf"):
            parts.append(f"{a.shown(low)} to {a.shown(high)}")
    if not isinstance(a, Log) and a.default is not None:
        parts.append(f"if not given {_default_text(a)}")
    elif not a.needed:
        parts.append("may be left out")
    return "; ".join(parts)


def _default_text(a: Parameter) -> str:
    if isinstance(a, Argument) and a.default is not None:
        return a.shown(a.default)
    return str(a.default) if isinstance(a, Word) else ""


def _value_text(a: Parameter, value: Any) -> str:
    return a.shown(value[0]) if isinstance(a, Argument) else str(value)


def answer_data(answer: Answer, *, metric: bool = False, unit: str = "") -> dict[str, Any]:
    """The answer as JSON data: each result with its number, bounds and unit, and the same in SI."""
    return {
        "calculator": answer.calculator.name,
        "given": dict(answer.given),
        "method": answer.calculator.method,
        "results": [_figure_data(f, answer.atmosphere, metric=metric, unit=unit) for f in answer.figures],
        "source": answer.calculator.source,
        "caution": " ".join(_cautions(answer)),
    }


def _figure_data(figure: Figure, atmosphere: float, *, metric: bool, unit: str) -> dict[str, Any]:
    result = figure.result
    if result.columns:
        return {
            "name": result.name, "columns": [{"name": c.name, "kind": c.kind.value} for c in result.columns],
            "rows_si": [list(row) for row in figure.value],
        }
    if figure.kind is None or not isinstance(figure.value, float | int):
        value = list(figure.value) if isinstance(figure.value, tuple) else figure.value
        return {"name": result.name, "value": value, "others": list(figure.others)}
    shown = unit_for(figure, metric=metric, unit=unit)
    wanted = kind_of(shown)

    def number(si: float | None) -> float | None:
        if si is None or figure.kind is None:
            return None
        return from_si(si if wanted is figure.kind else convert_pressure(si, figure.kind, wanted, atmosphere), shown)

    return {
        "name": result.name, "kind": figure.kind.value, "unit": shown, "value": number(figure.value),
        "low": number(figure.low), "high": number(figure.high),
        "si": {"value": figure.value, "low": figure.low, "high": figure.high},
    }
