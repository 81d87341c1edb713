"""The file on the disk: whole or not at all."""

from __future__ import annotations

from pathlib import Path

import pytest
from finished_checks import SHOP
from printed import pdf_of, record_of

from brimline.errors import ReportError
from brimline.report.writer import write_summary
from brimline.units import METRIC


def test_writes_the_page(tmp_path: Path) -> None:
    path = tmp_path / "summary.pdf"
    path.write_bytes(b"an older one")
    write_summary(record_of("runs_off"), path, units=METRIC, shop=SHOP)
    assert path.read_bytes() == pdf_of("runs_off")
    assert list(tmp_path.iterdir()) == [path]


def test_a_missing_folder_is_one_sentence(tmp_path: Path) -> None:
    path = tmp_path / "nowhere" / "summary.pdf"
    with pytest.raises(ReportError, match="does not exist"):
        write_summary(record_of("runs_off"), path, units=METRIC, shop=SHOP)
    assert not path.parent.exists()


def test_a_folder_is_no_file(tmp_path: Path) -> None:
    with pytest.raises(ReportError, match="is a folder"):
        write_summary(record_of("runs_off"), tmp_path, units=METRIC, shop=SHOP)


@pytest.mark.parametrize("step", ["write_bytes", "replace"])
def test_a_failure_leaves_what_was_there(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, step: str
) -> None:
    path = tmp_path / "summary.pdf"
    path.write_bytes(b"an older one")

    def refuse(*_: object) -> None:
        raise PermissionError(13, "not allowed")

    with monkeypatch.context() as patch:
        patch.setattr(Path, step, refuse)
        with pytest.raises(ReportError, match="cannot be written") as caught:
            write_summary(record_of("runs_off"), path, units=METRIC, shop=SHOP)
    assert "\n" not in str(caught.value)
    assert "PermissionError" in caught.value.detail
    assert "PermissionError" not in str(caught.value)
    assert path.read_bytes() == b"an older one"
    assert list(tmp_path.iterdir()) == [path]
