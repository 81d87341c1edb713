"""Keeps the same content in the same place many times: one of several programs that do."""

from __future__ import annotations

import sys
from pathlib import Path

from brimline.records.attachments import Attachments

folder, content = Path(sys.argv[1]), Path(sys.argv[2]).read_bytes()
for _ in range(int(sys.argv[3])):
    sys.stdout.write(f"{Attachments(folder).keep_bytes(content, 'pan.txt').sha256}\n")
