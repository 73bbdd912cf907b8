"""The same examples on every run: a change that breaks a property breaks it for everybody at once.

HYPOTHESIS_PROFILE=search looks for new ones.
"""

from __future__ import annotations

import os

from hypothesis import settings

settings.register_profile("fixed", derandomize=True, deadline=None)
settings.register_profile("search", deadline=None, max_examples=1000)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE", "fixed"))
