"""A call as the YAML file that gives the same call."""

from __future__ import annotations

import re

from faultkit.call import Call
from faultkit.problems import InputError
from faultkit.record.lines import json_text

__all__ = ["yaml_text"]

_NAME = re.compile(r"[a-z][a-z0-9_]*")


def yaml_text(call: Call, site_file: str) -> str:
    """The text of a call file. ``site_file`` is the path of the site file as seen from it.

    InputError where the call has no name that a file can have.
    """
    if not _NAME.fullmatch(call.name):
        raise InputError(
            f"the call is named '{call.name}'", "a name with small letters, digits and _: a call file has no other"
        )
    head = {"schema": 1, "call": call.name, "site": site_file, "opened": call.opened, "title": call.title}
    lines = [f"{key}: {json_text(value)}" for key, value in head.items() if value != ""]
    # Each value is JSON, which YAML reads as it is meant: no word becomes a number or a date.
    lines += ["entries:", *("  - " + _flow(e.to_dict()) for e in call.entries)]
    return "\n".join(lines) + ("" if call.entries else " []") + "\n"


def _flow(data: dict[str, object]) -> str:
    return "{" + ", ".join(f"{key}: {json_text(value)}" for key, value in data.items()) + "}"
