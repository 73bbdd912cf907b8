"""What went wrong in an input, where, and what to write instead."""

from __future__ import annotations

import difflib
import unicodedata
from collections.abc import Iterable
from dataclasses import dataclass, field

__all__ = ["InputError", "Problem", "Where", "did_you_mean"]


@dataclass(frozen=True, slots=True)
class Where:
    """A place in a text file; line and column count from 1.

    ``text`` is the line itself, kept so that a message can show it without
    opening the file again.
    """

    file: str
    line: int
    column: int
    text: str = field(default="", compare=False, repr=False)

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


@dataclass(frozen=True, slots=True)
class Problem:
    """One mistake in an input.

    ``what`` says what is wrong, ``expected`` what to write instead (may be
    empty), ``where`` is None for input that came from no file.
    """

    what: str
    expected: str = ""
    where: Where | None = None

    def render(self) -> str:
        """The message for a person: place, the line with a caret, the fault, the cure."""
        lines = [f"{self.where}: {self.what}" if self.where else self.what]
        if self.where and self.where.text.strip():
            # Bytes of a file that is no text must not reach the terminal as commands.
            shown = "".join(map(_visible, self.where.text[:200]))
            pad = "".join("\t" if c == "\t" else " " for c in shown[: self.where.column - 1])
            lines += [f"    {shown}", f"    {pad}^"]
        if self.expected:
            lines.append(f"    expected: {self.expected}")
        return "\n".join(lines)


def _visible(c: str) -> str:
    return "\ufffd" if c != "\t" and unicodedata.category(c).startswith("C") else c


class InputError(ValueError):
    """Input that cannot be used. Holds every problem found, in file order."""

    def __init__(self, problems: Iterable[Problem] | str, expected: str = "") -> None:
        if isinstance(problems, str):
            problems = [Problem(problems, expected)]
        self.problems: tuple[Problem, ...] = tuple(
            sorted(
                dict.fromkeys(problems),
                key=lambda p: (p.where.file, p.where.line, p.where.column) if p.where else ("", 0, 0),
            )
        )
        super().__init__("\n".join(p.render() for p in self.problems))

    def __reduce__(self) -> tuple[type[InputError], tuple[tuple[Problem, ...]]]:
        return (type(self), (self.problems,))


def did_you_mean(word: str, known: Iterable[str], cutoff: float = 0.6) -> str:
    """A ``did you mean …?`` for a misspelt word, or a list of what is known."""
    options = list(dict.fromkeys(known))
    close = difflib.get_close_matches(word, options, n=2, cutoff=cutoff)
    if close:
        return "did you mean " + " or ".join(f"'{c}'" for c in close) + "?"
    if not options:
        return "there is none here"
    shown = ", ".join(options[:12])
    return f"one of {shown}" + (", …" if len(options) > 12 else "")
