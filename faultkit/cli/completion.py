"""``faultkit completion``: a static script for a shell, made from the argument parser itself."""

from __future__ import annotations

import argparse
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

__all__ = ["add_completion", "script"]


@dataclass(frozen=True, slots=True)
class _Command:
    """What can follow a command: its words (subcommands, choices of places) and options (with help, choices)."""

    name: str
    told: str
    words: tuple[str, ...]
    options: tuple[tuple[str, str, tuple[str, ...]], ...]


def add_completion(commands: argparse._SubParsersAction[argparse.ArgumentParser]) -> None:
    """Declare the command."""
    parser = commands.add_parser(
        "completion", help="a script that lets your shell complete commands and options",
        epilog='bash: eval "$(faultkit completion bash)"; zsh: the same after compinit; '
        "fish: faultkit completion fish | source",
    )
    parser.add_argument("shell", choices=tuple(_SHELLS), help="the shell it is for")


def script(parser: argparse.ArgumentParser, shell: str) -> str:
    """The script for ``bash``, ``zsh`` or ``fish``."""
    return _SHELLS[shell](list(_commands(parser)))


def _commands(parser: argparse.ArgumentParser) -> Iterator[_Command]:
    for action in parser._actions:  # noqa: SLF001  (argparse has no other way to list them)
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            told = {a.dest: a.help or "" for a in action._choices_actions}  # noqa: SLF001
            for name, below in action.choices.items():
                yield _command(name, told.get(name, ""), below)


def _command(name: str, told: str, parser: argparse.ArgumentParser) -> _Command:
    words: list[str] = []
    options: list[tuple[str, str, tuple[str, ...]]] = []
    for action in parser._actions:  # noqa: SLF001
        choices = tuple(map(str, action.choices)) if action.choices is not None else ()
        if not action.option_strings:
            words += choices
        if isinstance(action, argparse._SubParsersAction):  # noqa: SLF001
            for below in action.choices.values():
                options += _command("", "", below).options
        options += [(option, _plain(action.help or ""), choices) for option in action.option_strings]
    unique: Mapping[str, tuple[str, str, tuple[str, ...]]] = {o[0]: o for o in options}
    return _Command(name, _plain(told), tuple(words), tuple(unique.values()))


def _plain(text: str) -> str:
    """A help text that no shell can misread."""
    return "".join(c for c in text if c not in "'\"`\\$[]:")


def _bash(commands: list[_Command]) -> str:
    lines = [
        "_faultkit() {",
        "  local word=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD-1]} words=",
        '  if [ "$COMP_CWORD" -eq 1 ]; then',
        f"    words='{' '.join(c.name for c in commands)} --help --version'",
        "  else",
        '    case "${COMP_WORDS[1]} $before" in',
    ]
    for c in commands:
        lines += [f"      '{c.name} {o}') words='{' '.join(choices)}' ;;" for o, _, choices in c.options if choices]
    lines += ["      *) case ${COMP_WORDS[1]} in"]
    for c in commands:
        lines.append(f"        {c.name}) words='{' '.join((*c.words, *(o for o, _, _ in c.options)))}' ;;")
    lines += [
        "      esac ;;", "    esac", "  fi",
        '  COMPREPLY=($(compgen -W "$words" -- "$word"))', "}",
        "complete -o default -F _faultkit faultkit", "",
    ]
    return "\n".join(lines)


def _zsh(commands: list[_Command]) -> str:
    lines = ["#compdef faultkit", "_faultkit() {", "  local -a names", "  if (( CURRENT == 2 )); then", "    names=("]
    lines += [f"      '{c.name}:{c.told}'" for c in commands]
    lines += ["    )", "    _describe command names", "    return", "  fi", '  case "$words[2] $words[CURRENT-1]" in']
    for c in commands:
        lines += [f"    '{c.name} {o}') compadd -- {' '.join(known)}; return ;;" for o, _, known in c.options if known]
    lines += ["  esac", "  case $words[2] in"]
    for c in commands:
        told = " ".join(f"'{o}:{text}'" for o, text, _ in c.options)
        lines += [f"    {c.name})", f"      names=({told})", "      _describe option names"]
        lines += [f"      compadd -- {' '.join(c.words)}"] if c.words else []
        lines += ["      ;;"]
    # Read from a folder of completions it is the function itself; read by eval it has to be tied to the name.
    lines += ["  esac", "  _files", "}", 'if [ "$funcstack[1]" = _faultkit ]; then', "  _faultkit", "else"]
    lines += ["  compdef _faultkit faultkit", "fi"]
    return "\n".join([*lines, ""])


def _fish(commands: list[_Command]) -> str:
    lines: list[str] = []
    for c in commands:
        lines.append(f"complete -c faultkit -n __fish_use_subcommand -a {c.name} -d '{c.told}'")
        seen = f"complete -c faultkit -n '__fish_seen_subcommand_from {c.name}'"
        if c.words:
            lines.append(f"{seen} -a '{' '.join(c.words)}'")
        for option, told, choices in c.options:
            flag = f"-l {option[2:]}" if option.startswith("--") else f"-s {option[1:]}"
            lines.append(f"{seen} {flag} -d '{told}'" + (f" -x -a '{' '.join(choices)}'" if choices else ""))
    return "\n".join([*lines, ""])


_SHELLS = {"bash": _bash, "zsh": _zsh, "fish": _fish}
