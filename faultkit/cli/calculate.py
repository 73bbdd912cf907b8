"""``faultkit calculate``: the trade's arithmetic by hand."""

from __future__ import annotations

import argparse
import json
from pathlib import Path

from faultkit.calculators import Calculator, CalculatorRegistry, Log
from faultkit.calculators.ask import SEA_LEVEL_PA, Given, ask
from faultkit.calculators.logs import read_log
from faultkit.problems import InputError, Problem, did_you_mean
from faultkit.units import Kind, UnitError, atmosphere, parse_quantity

__all__ = ["run_calculate"]


def run_calculate(options: argparse.Namespace) -> None:
    """List the calculators, describe one, or ask one."""
    from faultkit.plugins import load_plugins

    registry = load_plugins(strict=options.strict).calculators
    if options.name is None:
        _list(registry, options.format)
        return
    if options.name not in registry and options.name in {c.subject for c in registry.values()}:
        _list(registry, options.format, options.name)
        return
    calculator = registry.find(options.name)
    if not options.given:
        from faultkit.reports.figures import render_calculator

        print(render_calculator(calculator), end="")
        return
    air = _air(options.altitude)
    answer = ask(calculator, _given(calculator, options.given, air), air)
    from faultkit.reports.figures import answer_data, render_answer

    try:
        if options.format == "json":
            print(json.dumps(answer_data(answer, metric=options.si, unit=options.unit), indent=2, ensure_ascii=False))
        else:
            print(render_answer(answer, metric=options.si, unit=options.unit), end="")
    except UnitError as fault:
        raise InputError(f"--in: {fault.what}", fault.expected) from None


def _air(altitude: str | None) -> float:
    if altitude is None:
        return SEA_LEVEL_PA
    try:
        return atmosphere(parse_quantity(altitude, Kind.LENGTH).value)
    except UnitError as fault:
        raise InputError(f"--altitude: {fault.what}", fault.expected) from None


def _given(calculator: Calculator, words: list[str], air: float) -> dict[str, Given]:
    """NAME=VALUE each; a log is the name of a file."""
    found: dict[str, Given] = {}
    problems: list[Problem] = []
    names = [a.name for a in calculator.arguments]
    for word in words:
        name, equals, text = word.partition("=")
        if not equals:
            problems.append(Problem(f"'{word}' is not NAME=VALUE", "each argument by name: " + ", ".join(names)))
        elif name in found:
            problems.append(Problem(f"{name} is given twice", "each argument once"))
        elif name not in names:
            problems.append(Problem(f"'{name}' is no argument of '{calculator.name}'", did_you_mean(name, names)))
        else:
            try:
                parameter = calculator.argument(name)
                found[name] = _file(text, parameter, air) if isinstance(parameter, Log) else text
            except InputError as fault:
                problems += fault.problems
    if problems:
        raise InputError(problems)
    return found


def _file(path: str, log: Log, air: float) -> Given:
    try:
        text = Path(path).read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError, ValueError) as fault:
        reason = getattr(fault, "strerror", None) or "it is no UTF-8 text"
        raise InputError(f"{log.name}: cannot read '{path}': {reason}", "a text file, one row a line") from None
    return read_log(text, log, atmosphere=air, file=path)


def _list(registry: CalculatorRegistry, form: str, subject: str | None = None) -> None:
    chosen = [c for c in registry.values() if subject in {None, c.subject}]
    if form == "json":
        print(json.dumps([
            {"subject": c.subject, "name": c.name, "title": c.title, "arguments": [a.name for a in c.arguments]}
            for c in chosen
        ], indent=2, ensure_ascii=False))
        return
    width = max(len(c.name) for c in chosen)
    for heading in dict.fromkeys(c.subject for c in chosen):
        print(heading)
        for c in chosen:
            if c.subject == heading:
                print(f"  {c.name:<{width}}  {c.title.rstrip('.')}")
    print("\nfaultkit calculate NAME tells what one takes; faultkit calculate NAME ARGUMENT=VALUE … asks it")
