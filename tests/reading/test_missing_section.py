"""A section that is not there is said once; references into it are not missed again."""

from __future__ import annotations

from pathlib import Path

import pytest

from faultkit.problems import InputError
from faultkit.reading import load_catalogue_folders


def test_a_misspelt_section_is_one_problem(tmp_path: Path) -> None:
    (tmp_path / "box.yaml").write_text(
        "schema: 1\nequipment: box\nsource: common practice\nsections:\n  coil: {use: coyl}\nevents:\n"
        "  warm: {any_of: [coil.iced, coil.dirty, off]}\n  off: {how_common: rare}\n",
        encoding="utf-8",
    )
    (tmp_path / "coil.yaml").write_text(
        "schema: 1\nsection: coil\nsource: common practice\nevents:\n  iced: {how_common: rare}\n"
        "  dirty: {how_common: rare}\n",
        encoding="utf-8",
    )
    with pytest.raises(InputError) as caught:
        load_catalogue_folders([tmp_path])
    assert [(p.where.line, p.expected) for p in caught.value.problems if p.where] == [(5, "did you mean 'coil'?")]
