"""``python -m brimline``: the same as the command ``brimline``."""

import sys

from brimline.cli import main

if __name__ == "__main__":
    sys.exit(main())
