"""``python -m faultkit``."""

import sys

from faultkit.cli import main

if __name__ == "__main__":
    sys.exit(main())
