"""Completion scripts are what the shell itself accepts, and complete what the parser has."""

from __future__ import annotations

import shutil
import subprocess

import pytest

from faultkit.cli import main


def script(shell: str, capsys: pytest.CaptureFixture[str]) -> str:
    assert main(["completion", shell]) == 0
    return capsys.readouterr().out


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_the_shell_can_read_it(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    program = shutil.which(shell)
    if program is None:
        pytest.skip(f"no {shell} here")
    done = subprocess.run([program, "-n"], input=script(shell, capsys), text=True, capture_output=True, check=False)
    assert (done.returncode, done.stderr) == (0, "")


@pytest.mark.parametrize(("typed", "wanted", "unwanted"), [
    (["che"], {"check"}, {"test"}),
    (["check", "--for"], {"--format"}, {"--output"}),
    (["check", "--format", ""], {"text", "json", "sarif", "github", "junit"}, {"--format"}),
    (["new", ""], {"equipment", "cases", "plugin", "--in"}, {"types"}),
    (["list", "rem"], {"remedies"}, {"readings"}),
    (["record", "v"], {"verify"}, {"show"}),
])
def test_what_bash_completes(
    typed: list[str], wanted: set[str], unwanted: set[str], capsys: pytest.CaptureFixture[str]
) -> None:
    bash = shutil.which("bash")
    if bash is None:
        pytest.skip("no bash here")
    words = " ".join(f"'{w}'" for w in ["faultkit", *typed])
    asked = f"COMP_WORDS=({words}); COMP_CWORD={len(typed)}; _faultkit; printf '%s\\n' \"${{COMPREPLY[@]}}\""
    text = script("bash", capsys) + asked
    done = subprocess.run([bash, "--norc"], input=text, text=True, capture_output=True, check=True)
    assert wanted <= set(done.stdout.split())
    assert not unwanted & set(done.stdout.split())


@pytest.mark.parametrize("shell", ["bash", "zsh", "fish"])
def test_every_command_is_in_it(shell: str, capsys: pytest.CaptureFixture[str]) -> None:
    text = script(shell, capsys)
    for name in ("diagnose", "list", "test", "check", "explain", "compare", "record", "show", "schema", "new"):
        assert f"{name}" in text
