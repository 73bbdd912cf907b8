"""A catalogue: every equipment type that a site may use, and the words they share."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any

from faultkit.model.types import Common, EquipmentType

__all__ = ["Catalogue", "Section"]


@dataclass(frozen=True, slots=True)
class Catalogue:
    """Equipment types by name, and what they share.

    ``hash`` is the SHA-256 (hex) over names and contents of the files it was
    read from, ``files`` their names as shown in messages. ``calculators`` by name;
    ``broken`` says which plugins were left out and why.
    """

    types: Mapping[str, EquipmentType] = field(default_factory=dict)
    common: Common = field(default_factory=Common)
    hash: str = ""
    files: tuple[str, ...] = ()
    calculators: Mapping[str, Any] = field(default_factory=dict)
    broken: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Section:
    """A section on its own, as if it were a type; ``needs`` are the events an including type binds, name → title."""

    kind: EquipmentType
    needs: Mapping[str, str] = field(default_factory=dict)
