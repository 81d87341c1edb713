"""The command-line word about spec sheets: ``sheets``."""

from __future__ import annotations

import argparse
from pathlib import Path

from brimline import cli_text
from brimline.bootstrap import Bay
from brimline.cli_text import add_json, add_units, units_of
from brimline.errors import SheetError
from brimline.estimate.sheet_doubts import doubts
from brimline.specsheet.reader import read_sheet

_Verbs = argparse._SubParsersAction  # argparse has no public name for it


def add_verbs(verbs: _Verbs[argparse.ArgumentParser]) -> None:
    """Add the word to a command line."""
    sheets = verbs.add_parser("sheets", help="spec sheets")
    actions = sheets.add_subparsers(metavar="ACTION", required=True)
    lint = actions.add_parser("lint", help="name every fault and doubt in spec sheets")
    lint.add_argument("files", nargs="+", type=Path, metavar="FILE")
    add_units(lint)
    add_json(lint)
    lint.set_defaults(command=_lint)


def _lint(bay: Bay, chosen: argparse.Namespace) -> int:
    results: list[cli_text.Linted] = []
    for path in chosen.files:
        try:
            results.append(cli_text.Linted(path, doubts=doubts(read_sheet(path))))
        except SheetError as error:
            results.append(cli_text.Linted(path, error.faults))
    units = units_of(bay, chosen)
    if chosen.json:
        cli_text.print_json([cli_text.lint_data(found, units) for found in results])
    else:
        cli_text.tell_lint(results, units)
    return 1 if any(found.faults for found in results) else 0
