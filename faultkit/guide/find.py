"""Names as a person types them → one name of the site."""

from __future__ import annotations

from collections.abc import Mapping

from faultkit.problems import InputError, did_you_mean

__all__ = ["find"]

_SHOWN = 6


def find(what: str, typed: str, names: Mapping[str, str]) -> str:
    """The name meant by a full name, the end of one, or words of its title (name → title).

    InputError where none or several fit, with those that do.
    """
    word = typed.strip().lower()
    if not word:
        raise InputError(f"which {what}?", did_you_mean("", names))
    if word in names:
        return word
    ends = [n for n in names if n.endswith("." + word.replace(" ", "_"))]
    pieces = word.replace("_", " ").split()
    fit = ends or [n for n, title in names.items() if all(p in f"{n} {title}".lower() for p in pieces)]
    if len(fit) == 1:
        return fit[0]
    if fit:
        shown = ", ".join(fit[:_SHOWN]) + (", …" if len(fit) > _SHOWN else "")
        raise InputError(f"'{typed}' fits several {what}s", shown)
    raise InputError(f"no {what} is called '{typed}' here", did_you_mean(word, names, 0.5))
