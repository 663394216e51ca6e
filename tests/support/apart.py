"""Tests that run side by side keep apart: each process of pytest-xdist has a data folder of its own.

Loaded by `-p` before Django reads its settings; a conftest would come too late.
"""

import os
from pathlib import Path

worker = os.environ.get("PYTEST_XDIST_WORKER")
if worker and "RINKLOG_DATA" in os.environ:
    own = Path(os.environ["RINKLOG_DATA"]) / worker
    own.mkdir(parents=True, exist_ok=True)
    os.environ["RINKLOG_DATA"] = str(own)
