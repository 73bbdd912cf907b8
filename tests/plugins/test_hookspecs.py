"""The examples in the hooks' docstrings run as written."""

from __future__ import annotations

import doctest

from faultkit.plugins import hookspecs


def test_each_hook_has_an_example_that_holds() -> None:
    finder = doctest.DocTestFinder(exclude_empty=True)
    runner = doctest.DocTestRunner()
    with_examples = {t.name.rpartition(".")[2] for t in finder.find(hookspecs) if t.examples}
    assert with_examples == {"faultkit_catalogue_folders", "faultkit_calculators"}
    for test in finder.find(hookspecs):
        runner.run(test)
    assert runner.summarize(verbose=False).failed == 0
