"""Start Brimline from a checkout: ``python3 packaging/start.py`` (Windows: ``py``).

Verbs (``start.py --help`` lists them): none, ``setup``, ``test``, ``bench``, ``lock``.
This file only refuses a Python that cannot run the rest, so it keeps to syntax that older ones
still parse; the verbs are in ``start_verbs.py`` beside it. Standard library only: it runs before
anything is installed.
"""

import sys

LOWEST = (3, 11)
HIGHEST = (3, 13)


def version_fault(major: int, minor: int) -> str:
    """Say in one sentence why this Python cannot be used; empty when it can."""
    if LOWEST <= (major, minor) <= HIGHEST:
        return ""
    return (
        f"Brimline needs Python 3.11, 3.12 or 3.13, and this is Python {major}.{minor}: "
        "start it with one of those, for example `python3.13 packaging/start.py` "
        "(Windows: `py -3.13 packaging/start.py`)."
    )


if __name__ == "__main__":
    fault = version_fault(*sys.version_info[:2])
    if fault:
        sys.exit(fault)
    from start_verbs import main

    sys.exit(main(sys.argv[1:]))
